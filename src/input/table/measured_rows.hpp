// The rows of a measured table under its header: cells to numbers, times and states, and what is wrong with them.
#pragma once

#include "measured_cells.hpp"
#include "measured_complaints.hpp"
#include "measured_head.hpp"

#include <array>
#include <deque>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::input {

/// Whether a column holds numbers, and not words or times.
[[nodiscard]] bool holds_numbers(MeasuredColumn column);
/// Puts a column's number, in the unit it is kept in, into its place in the row.
void put_number(MeasuredRow& row, MeasuredColumn column, double value);

/// With a capital first letter, for the beginning of a sentence.
[[nodiscard]] std::string upper_first(std::string_view text);

class MeasuredRows {
public:
    MeasuredRows(MeasuredComplaints& complaints, MeasuredTable& found, MeasuredReader::Take take,
                 std::vector<ColumnByHand> by_hand)
        : complaints_(&complaints), found_(&found), take_(std::move(take)), by_hand_(std::move(by_hand)) {}

    [[nodiscard]] const std::vector<ColumnByHand>& by_hand() const { return by_hand_; }

    [[nodiscard]] bool has_header() const { return header_.has_value(); }
    void take_header(const Header& h, std::string_view line, int number);
    /// A line of units below the header; false when it is none.
    bool take_units_line(std::string_view line, int number);
    /// Learns from a row, without reading it, how decimals and dates are written.
    void weigh(std::string_view line);
    /// `cut`: the file ends in this line without a line end.
    void row(std::string_view line, int number, bool cut);
    /// Says in `MeasuredTable` what is known at the end.
    void finish();

private:
    struct Target {
        std::size_t index;
        MeasuredColumn column;
        double factor;
        double offset;
        double least;  ///< of what is kept; narrower where no unit is given
        double most;
        DateOrder order;
        bool unit_given;
        bool from_start;
        bool number;         ///< and no word or time
        bool watched;        ///< a share, an irradiance or a temperature without its unit
        bool whole = false;  ///< whole numbers were seen before the decimal mark was known
    };
    struct Line {
        std::string_view text;
        int number = 0;
        bool cut = false;
    };

    void aim();
    void take_columns(const Header& h, std::string_view line, int number);
    void comment(std::string_view line, int number);
    [[nodiscard]] bool header_has(MeasuredColumn column) const;
    void check_products();
    [[nodiscard]] bool right_length(const Line& line);
    [[nodiscard]] bool is_header(const Line& line);
    // The readers of cells give false where the line turns out to be another header.
    [[nodiscard]] bool number_cell(const Line& line, const MeasuredCell& cell, Target& t, MeasuredRow& r);
    void keep_remarks(MeasuredRow& r) const;
    [[nodiscard]] bool state_cell(const Line& line, const MeasuredCell& cell, MeasuredRow& r);
    [[nodiscard]] bool time_cell(const Line& line, const MeasuredCell& cell, const Target& t, MeasuredRow& r);
    void set_time(const Line& line, const MeasuredCell& cell, WrittenTime written, MeasuredRow& r);
    [[nodiscard]] std::optional<WrittenTime> time_in(const Line& line, const MeasuredCell& cell, const Target& t,
                                                     std::string& complaint) const;
    [[nodiscard]] bool decimal_settled(const Line& line, const MeasuredCell& cell, Target& t);
    [[nodiscard]] bool unit_settled(const Line& line, const MeasuredCell& cell, const Target& t, double kept);
    void out_of_range(const Line& line, const MeasuredCell& cell, const Target& t, double kept);
    /// Amps and watts that say themselves that they are no exact figure.
    [[nodiscard]] bool take_noted(const MeasuredCell& cell, const Target& t, MeasuredRow& r) const;
    std::optional<double> odd_number(const Line& line, const MeasuredCell& cell, const Target& t, double& factor,
                                     double& offset, bool& own_unit);
    void complain(const Line& line, const MeasuredCell& cell, Complaint kind, std::string message) {
        complaints_->add_at(line.text, line.number, cell.offset, kind, std::move(message));
    }
    [[nodiscard]] char decimal() const { return decimal_ == '\0' ? '.' : decimal_; }

    MeasuredComplaints* complaints_;
    MeasuredTable* found_;
    MeasuredReader::Take take_;
    std::vector<ColumnByHand> by_hand_;
    std::optional<Header> header_;
    std::string header_text_;
    std::vector<Target> targets_;
    std::vector<MeasuredCell> cells_;
    std::deque<std::string> unquoted_;
    bool remarks_ = false;          // a column of the header holds them
    std::string_view last_remark_;  // of this row, behind its last column
    std::size_t repeated_headers_ = 0;
    std::size_t summaries_ = 0;
    int last_summary_ = 0;
    bool commented_header_ = false;
    bool units_may_follow_ = false;
    DateOrder order_ = DateOrder::unknown;
    double brightest_ = 0.0;  // of an irradiance without a unit
    int light_line_ = 0;
    std::array<std::optional<double>, measured_column_count> unitless_degc_;  // the last of each such temperature
    double sum_w_ = 0.0;  // over rows with volts, amps and watts
    double sum_va_ = 0.0;
    char decimal_ = '\0';                 // not yet known
    bool asked_header_ = false;           // of this row
    std::optional<double> days_s_;        // of this row's date
    double midnights_s_ = 0.0;
    double last_clock_s_ = 0.0;
};

}  // namespace plait::input
