// The help texts, written by hand: they are read more often than any other page of this program.
#pragma once

#include <string>

namespace detent::cli {

[[nodiscard]] std::string general_help();
[[nodiscard]] std::string check_help();
[[nodiscard]] std::string compare_help();
[[nodiscard]] std::string show_help();
[[nodiscard]] std::string why_help();
[[nodiscard]] std::string recheck_help();
[[nodiscard]] std::string faults_help();
[[nodiscard]] std::string gaps_help();
[[nodiscard]] std::string tune_help();
[[nodiscard]] std::string merge_help();
[[nodiscard]] std::string report_help();
[[nodiscard]] std::string export_help();
[[nodiscard]] std::string lsp_help();
[[nodiscard]] std::string step_help();
[[nodiscard]] std::string replay_help();
[[nodiscard]] std::string drill_help();
[[nodiscard]] std::string new_help();
[[nodiscard]] std::string lesson_help();
[[nodiscard]] std::string format_help();

/// "detent 0.1.0, on Z3 4.8.12.0", and behind it "(built with Z3 4.13.3.0)" where that was another one.
[[nodiscard]] std::string version_text();

}  // namespace detent::cli
