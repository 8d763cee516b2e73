// The project's own files, for tests that read them.
#pragma once

#include "source_dir.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

namespace support {

/// Every .toml file of a folder of the source tree ("panels"), in order of name.
[[nodiscard]] inline std::vector<std::filesystem::path> toml_files(const std::string& folder) {
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(support::source_dir()) / folder)) {
        if (entry.path().extension() == ".toml") files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    return files;
}

/// A file's bytes; empty when there is no such file.
[[nodiscard]] inline std::string text_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace support
