// The rows of a measured table under its header: cells to numbers, times and states, and what is wrong with them.
#pragma once

#include "measured_cells.hpp"
#include "measured_head.hpp"

#include <plait/base/diagnostic.hpp>

#include <deque>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::input {

/// The first complaints of a file, and how many there are.
class MeasuredComplaints {
public:
    explicit MeasuredComplaints(std::string file) : file_(std::move(file)) {}

    void add(int line, std::size_t column, std::string message);
    /// About the cell that begins at a byte of the line.
    void add_at(std::string_view line, int number, std::size_t offset, std::string message);

    [[nodiscard]] std::size_t count() const { return count_; }
    /// All of them, with a last one for those that were only counted.
    [[nodiscard]] Diagnostics taken();

private:
    std::string file_;
    Diagnostics first_;
    std::size_t count_ = 0;
};

/// Bytes that need not be text, quoted for a message.
[[nodiscard]] std::string shown(std::string_view bytes);

class MeasuredRows {
public:
    MeasuredRows(MeasuredComplaints& complaints, MeasuredTable& found, MeasuredReader::Take take)
        : complaints_(&complaints), found_(&found), take_(std::move(take)) {}

    [[nodiscard]] bool has_header() const { return header_.has_value(); }
    void take_header(const Header& h, std::string_view line, int number);
    /// A line of units below the header; false when it is none.
    bool take_units_line(std::string_view line);
    /// Learns the decimal mark from a row without reading it.
    void weigh_decimal(std::string_view line);
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
    };
    struct Line {
        std::string_view text;
        int number = 0;
        bool cut = false;
    };

    void aim();
    [[nodiscard]] bool right_length(const Line& line);
    [[nodiscard]] bool is_header(const Line& line);
    // The readers of cells give false where the line turns out to be another header.
    [[nodiscard]] bool number_cell(const Line& line, const MeasuredCell& cell, const Target& t, double& to);
    [[nodiscard]] bool state_cell(const Line& line, const MeasuredCell& cell, MeasuredRow& r);
    [[nodiscard]] bool time_cell(const Line& line, const MeasuredCell& cell, const Target& t, MeasuredRow& r);
    void set_time(const Line& line, const MeasuredCell& cell, WrittenTime written, MeasuredRow& r);
    std::optional<double> odd_number(const Line& line, const MeasuredCell& cell, const Target& t, double& factor,
                                     double& offset);
    void complain(const Line& line, const MeasuredCell& cell, std::string message) {
        complaints_->add_at(line.text, line.number, cell.offset, std::move(message));
    }
    [[nodiscard]] char decimal() const { return decimal_ == '\0' ? '.' : decimal_; }

    MeasuredComplaints* complaints_;
    MeasuredTable* found_;
    MeasuredReader::Take take_;
    std::optional<Header> header_;
    std::string header_text_;
    std::vector<Target> targets_;
    std::vector<MeasuredCell> cells_;
    std::deque<std::string> unquoted_;
    std::size_t repeated_headers_ = 0;
    char decimal_ = '\0';                 // not yet known
    bool asked_header_ = false;           // of this row
    double days_s_ = not_measured_ratio;  // of this row's date
    double midnights_s_ = 0.0;
    double last_clock_s_ = 0.0;
};

}  // namespace plait::input
