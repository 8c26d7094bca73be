#include "cli/heading.hpp"

#include <fmt/format.h>

namespace detent::cli {

Line heading_of(const dsl::Compiled& compiled) {
  const dsl::Model& model = *compiled.model;
  const std::string title = model.title.empty() ? "" : fmt::format(" \"{}\"", model.title);
  return {{compiled.sources.name(0), Style::strong},
          {title},
          {fmt::format(", a tick is {}", dsl::time_text(1, model.tick_us)), Style::faint}};
}

}  // namespace detent::cli
