// A measured table that must be readable, with its rows.
#pragma once

#include "reading.hpp"

#include <plait/input/measured_table.hpp>

#include <string>
#include <utility>
#include <vector>

namespace plait::input::test {

struct ReadLog {
    MeasuredTable table;
    std::vector<MeasuredRow> rows;
};

inline ReadLog read_log(const std::string& text) {
    ReadLog r;
    auto table = read_measured(text, "log.csv", [&](const MeasuredRow& row) { r.rows.push_back(row); });
    INFO(text);
    INFO((table ? "" : listed(table.error())));
    REQUIRE(table);
    r.table = *std::move(table);
    CHECK(r.rows.size() == static_cast<std::size_t>(r.table.row_count));
    return r;
}

}  // namespace plait::input::test
