// One field of a table, quoted where RFC 4180 asks for it.
#pragma once

#include <plait/study/judgement.hpp>

#include <string>
#include <string_view>

namespace plait::output {

/// A spreadsheet runs what begins like a formula, and names come from files: such text gets an apostrophe in front.
[[nodiscard]] inline std::string csv_field(std::string_view text) {
    const bool runs = !text.empty() && std::string_view("=+-@\t\r").find(text.front()) != std::string_view::npos;
    std::string field(runs ? "'" : "");
    field += text;
    if (field.find_first_of(",\"\n\r") == std::string::npos) return field;
    std::string out = "\"";
    for (const char c : field) {
        out += c;
        if (c == '"') out += c;
    }
    return out + "\"";
}

/// The line before the header: what the table is, the verdict where there is one, and the deferral. It has no comma, so
/// that it is one cell.
[[nodiscard]] std::string csv_remark(std::string_view what);
[[nodiscard]] std::string csv_remark(std::string_view what, const Setup& setup, const study::Verdict& verdict);

}  // namespace plait::output
