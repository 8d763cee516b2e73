// One field of a table, quoted where RFC 4180 asks for it.
#pragma once

#include <string>
#include <string_view>

namespace plait::output {

[[nodiscard]] inline std::string csv_field(std::string_view text) {
    if (text.find_first_of(",\"\n\r") == std::string_view::npos) return std::string(text);
    std::string out = "\"";
    for (const char c : text) {
        out += c;
        if (c == '"') out += c;
    }
    return out + "\"";
}

}  // namespace plait::output
