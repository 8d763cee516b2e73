// Comma-separated files without quotes, as the reference figures and the open measured data are.
#pragma once

#include "../support/source_dir.hpp"

#include <cstddef>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

namespace plait_test {

class CsvRow {
public:
    CsvRow(const std::map<std::string, std::size_t>& columns, std::vector<std::string> cells)
        : columns_(&columns), cells_(std::move(cells)) {}
    [[nodiscard]] const std::string& text(const std::string& column) const { return cells_.at(columns_->at(column)); }
    [[nodiscard]] double number(const std::string& column) const { return std::stod(text(column)); }

private:
    const std::map<std::string, std::size_t>* columns_;
    std::vector<std::string> cells_;
};

struct CsvTable {
    std::map<std::string, std::size_t> columns;
    std::vector<std::vector<std::string>> cells;  ///< empty where the file is missing

    explicit CsvTable(const std::string& path) {
        std::ifstream file(path);
        std::string line;
        if (!std::getline(file, line)) return;
        for (const std::string& name : split(line)) columns.emplace(name, columns.size());
        while (std::getline(file, line)) cells.push_back(split(line));
    }
    [[nodiscard]] std::vector<CsvRow> rows() const {
        std::vector<CsvRow> all;
        for (const auto& row : cells) all.emplace_back(columns, row);
        return all;
    }

private:
    static std::vector<std::string> split(const std::string& line) {
        std::vector<std::string> parts;
        std::stringstream stream(line.substr(0, line.find('\r')));  // some files end their lines the other way
        for (std::string part; std::getline(stream, part, ',');) parts.push_back(part);
        return parts;
    }
};

/// Open measured data, kept beside the project and not in it.
inline std::string data_file(const std::string& name) {
    return std::string(support::source_dir()) + "/../shared/data/" + name;
}

}  // namespace plait_test
