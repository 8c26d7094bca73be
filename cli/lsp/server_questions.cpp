// Questions about texts: finds out which designs they are about, and lets them be answered.
#include <algorithm>
#include <array>
#include <utility>

#include "cli/lsp/capabilities.hpp"
#include "cli/lsp/questions.hpp"
#include "cli/lsp/server.hpp"
#include "cli/lsp/uri.hpp"

namespace detent::cli::lsp {
namespace {

using Row = std::pair<const char*, Answer>;

constexpr std::array place_rows{Row{"textDocument/hover", hover},
                                Row{"textDocument/definition", definition},
                                Row{"textDocument/references", references},
                                Row{"textDocument/documentHighlight", highlights},
                                Row{"textDocument/prepareRename", prepare_rename},
                                Row{"textDocument/rename", rename},
                                Row{"textDocument/completion", completion}};
constexpr std::array text_rows{Row{"textDocument/documentSymbol", symbols},
                               Row{"textDocument/inlayHint", inlay_hints},
                               Row{"textDocument/formatting", formatting}};

template <std::size_t Size>
Answer row_of(const std::array<Row, Size>& rows, const std::string& method) {
  const auto found =
      std::find_if(rows.begin(), rows.end(), [&](const Row& row) { return method == row.first; });
  return found == rows.end() ? nullptr : found->second;
}

}  // namespace

Answer place_answer(const std::string& method) {
  return row_of(place_rows, method);
}

Answer text_answer(const std::string& method) {
  return row_of(text_rows, method);
}

Json Server::ask(const std::string& method, const Json& params) {
  const Answer about_place = place_answer(method);
  const Answer about_text = text_answer(method);
  if (about_place == nullptr && about_text == nullptr) {
    throw RequestError(ErrorCode::method_not_found, "there is no method \"" + method + "\"");
  }
  look_at_disk();
  OpenDesign& open = named_document(params);
  Question question{.spots = {}, .params = params, .client = client_, .open = open};
  const Position position = about_place ? read_position(member(params, "position")) : Position{};
  for (OpenDesign* one : workspace_.designs_with(open.document.path(), client_.encoding)) {
    const Analysis& design = *one->design;
    const std::uint32_t file = *design.file(open.document.path());
    const std::size_t offset =
        design.lines[file].offset(design.compiled.sources.text(file), position, client_.encoding);
    question.spots.push_back({one, &design, file, static_cast<std::uint32_t>(offset)});
  }
  return about_place ? about_place(question) : about_text(question);
}

void Server::execute(const Message& message) {
  if (text_member(message.params, "command") != check_command) {
    throw RequestError(ErrorCode::invalid_params,
                       "the only command is \"" + std::string(check_command) + "\"");
  }
  const Json& arguments = member(message.params, "arguments");
  if (!arguments.is_array() || arguments.empty() || !arguments[0].is_string()) {
    throw RequestError(ErrorCode::invalid_params, "the command takes the URI of an open text");
  }
  OpenDesign* one = workspace_.find(path_of(arguments[0].get<std::string>()));
  if (one == nullptr) throw RequestError(ErrorCode::invalid_params, "this text is not open");
  look_at_disk();
  workspace_.analysed(*one, client_.encoding);
  desk_.answer_when_done(*one, message.id, message.params.value("workDoneToken", Json()));
}

}  // namespace detent::cli::lsp
