// The forms of daily station files: how a line becomes days.
#pragma once

#include "table/measured_complaints.hpp"

#include <plait/model/weather.hpp>

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::input {

enum class StationElement { lowest, highest };

/// Gathers values in any order of days, of one station out of possibly several.
class StationDays {
public:
    explicit StationDays(std::string wanted) : wanted_(std::move(wanted)) {}

    /// Whether a line of this station counts; the name is kept to say which there are.
    [[nodiscard]] bool takes(std::string_view id);
    void add(int day, StationElement element, double degc);
    void flag() { ++record_.flagged; }

    /// Every station's name that was seen.
    [[nodiscard]] const std::vector<std::string>& seen() const { return seen_; }
    [[nodiscard]] StationRecord& record() { return record_; }
    /// The days in order. A day said twice in different ways is noted; the colder low and the hotter high are kept.
    [[nodiscard]] StationRecord taken();

private:
    std::string wanted_;
    std::vector<std::string> seen_;
    StationRecord record_;
    std::map<int, StationDay> days_;
    StationDay* last_ = nullptr;
    int contradictions_ = 0;
};

/// A day from "19560210"; empty for an impossible one.
[[nodiscard]] std::optional<int> written_day(std::string_view digits);

void read_dly_line(std::string_view line, int number, StationDays& days, MeasuredComplaints& complaints);
/// Station, date, element, value, three flags.
void read_long_line(std::string_view line, int number, StationDays& days, MeasuredComplaints& complaints);

/// A CSV with a row a day and columns TMIN and TMAX.
class WideStation {
public:
    /// Whether the line is such a header; it is then taken.
    [[nodiscard]] bool take_header(std::string_view line);
    void read_line(std::string_view line, int number, StationDays& days, MeasuredComplaints& complaints);
    /// In which unit the values are is known at the end only. False: it cannot be told.
    [[nodiscard]] bool finish(StationDays& days);

private:
    struct Value {
        int day;
        StationElement element;
        double number;
    };
    std::optional<std::size_t> station_, date_, lowest_, highest_, lowest_flags_, highest_flags_, latitude_, longitude_,
        height_, name_;
    std::size_t count_ = 0;
    std::vector<Value> values_;
    bool decimals_ = false;
    double greatest_ = 0.0;
};

}  // namespace plait::input
