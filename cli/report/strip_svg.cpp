#include <fmt/format.h>

#include <algorithm>

#include "cli/report/draw.hpp"

namespace detent::cli::report {

void draw_strip(Html& html, const Strip& strip) {
  constexpr double width = 600, height = 58;
  html.open("svg",
            {{"class", "strip"},
             {"role", "img"},
             {"aria-label", strip.name + ": for which values all claims hold; the table below says the same"},
             {"viewBox", fmt::format("0 0 {} {}", width, height)},
             {"width", length(width)},
             {"height", length(height)}});
  double from = 0;
  for (const Strip::Part& part : strip.parts) {
    const char* name = part.style == Style::good  ? "part good"
                       : part.style == Style::bad ? "part bad"
                                                  : "part unsure";
    const double to = from + part.share * width;
    html.open("rect", {{"class", name},
                       {"x", length(from + 0.5)},
                       {"y", "16"},
                       {"width", length(std::max(to - from - 1, 1.0))},
                       {"height", "20"}});
    html.element("title", {}, part.words);
    html.close();
    from = to;
  }
  const double at = strip.written * width;
  html.element("path", {{"class", "written"}, {"d", fmt::format("M{} 12v28", length(at))}});
  html.element("text",
               {{"class", "written-words"},
                {"x", length(std::clamp(at, 0.0, width))},
                {"y", "10"},
                {"text-anchor", at < 100           ? "start"
                                : at > width - 100 ? "end"
                                                   : "middle"}},
               strip.written_words);
  html.element("text", {{"class", "time"}, {"x", "0"}, {"y", "52"}}, strip.low);
  html.element("text", {{"class", "time"}, {"x", length(width)}, {"y", "52"}, {"text-anchor", "end"}},
               strip.high);
  html.close();
}

}  // namespace detent::cli::report
