// Looking for words in a report, wherever its lines were broken.
#pragma once

#include <cstddef>
#include <string>

namespace support {

/// The text as one line: where it was broken depends on its length only.
inline std::string flat(const std::string& text) {
    std::string out;
    for (const char c : text) {
        const bool blank = c == ' ' || c == '\n';
        if (!blank || out.empty() || out.back() != ' ') out += blank ? ' ' : c;
    }
    return out;
}

/// How often a part stands in a text.
inline std::size_t times(const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++n;
    return n;
}

}  // namespace support
