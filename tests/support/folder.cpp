#include "tests/support/folder.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>

namespace detent::test {

Folder::Folder() {
  path_ = (std::filesystem::temp_directory_path() / "detent-test-XXXXXX").string();
  if (mkdtemp(path_.data()) == nullptr) throw std::runtime_error("no folder could be made");
}

Folder::~Folder() {
  std::filesystem::remove_all(path_);
}

std::string Folder::write(const std::string& name, const std::string& text) const {
  const std::string path = path_ + '/' + name;
  std::ofstream(path, std::ios::binary) << text;
  return path;
}

}  // namespace detent::test
