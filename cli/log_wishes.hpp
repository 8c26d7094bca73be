// What the command line says of the columns of a log.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace detent::cli {

/// As written on the command line.
struct LogWishes {
  std::optional<std::string> time = {};   ///< "t ms"
  std::vector<std::string> columns = {};  ///< "thrust=ch3"
  std::vector<std::string> scales = {};   ///< "thrust=1000..2000:-100..100"
  std::vector<std::string> words = {};    ///< "guard=0:safe,1:run"
  std::vector<std::string> stills = {};   ///< "radio=there"
};

}  // namespace detent::cli
