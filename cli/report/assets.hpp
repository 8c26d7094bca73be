// The page's style sheet and script, as they stand in page.css and page.js; CMake puts them into the program.
#pragma once

namespace detent::cli::report {

extern const char* const page_css;
extern const char* const page_js;

}  // namespace detent::cli::report
