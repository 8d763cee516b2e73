// Tables of measured values as meters, loggers and people write them (CSV): bench sweeps and logs alike. Read in
// pieces, so that a log of a season needs no more memory than a line of it.
#pragma once

#include <plait/base/result.hpp>
#include <plait/base/temperature.hpp>

#include <array>
#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::input {

enum class MeasuredColumn : unsigned char {
    time,
    date,
    voltage,
    current,
    power,
    state,
    supply_limit,
    irradiance,
    global_irradiance,  ///< on flat ground
    air_temperature,
    panel_temperature,
    state_of_charge,
    wall_charging,
    display_power,
    display_current,
    battery_power,
};
inline constexpr std::size_t measured_column_count = 16;

/// What the input itself said it was doing.
enum class MeasuredState : unsigned char { unsaid, charging, idle, error };

/// What the times of a file count from.
enum class TimeForm : unsigned char {
    none,     ///< no time in the file
    elapsed,  ///< plain seconds, minutes or hours
    clock,    ///< time of day without a date; goes on past midnight
    local,    ///< date and time without a zone, counted as if in UTC from 1970
    zoned,    ///< date and time with a zone: UTC from 1970
};

/// One row. What was not measured, or left empty, is absent.
struct MeasuredRow {
    int line = 0;  ///< in the file, from 1
    MeasuredState state = MeasuredState::unsaid;
    std::optional<double> time_s;  ///< from where, `time_form` says
    TimeForm time_form = TimeForm::none;
    std::optional<double> voltage_v;
    std::optional<double> current_a;
    std::optional<double> power_w;
    double current_step_a = 0.0;  ///< of the last digit written, or the width of a vague note; 0: no current
    double power_step_w = 0.0;
    bool current_vague = false;  ///< "about 8", "8–9", "<15": anything within half the step of the value
    bool power_vague = false;
    std::optional<double> supply_limit_a;  ///< the current the supply was set to give at most
    std::optional<double> irradiance_w_per_m2;
    std::optional<double> global_irradiance_w_per_m2;
    std::optional<Celsius> air;
    std::optional<Celsius> panel;
    std::optional<double> state_of_charge_ratio;
    std::optional<double> wall_charging_w;
    std::optional<double> display_power_w;  ///< what the input's own display says, beside the meters
    std::optional<double> display_current_a;
    std::optional<double> battery_power_w;  ///< arriving at the battery
    double display_step_value = 0.0;  ///< of the last digit written of the display, W or A
    double battery_power_step_w = 0.0;
};

/// A column that somebody names by hand, where its own title says too little.
struct ColumnByHand {
    MeasuredColumn column = MeasuredColumn::voltage;
    std::string title;  ///< as the header spells it; capitals and blanks do not matter
};

/// "wall=AC in" as a column; a sentence where the name before the sign is none, or no title follows it.
[[nodiscard]] Result<ColumnByHand, std::string> column_by_hand(std::string_view text);

/// What a column may be called before the sign of `column_by_hand`, and a few titles by which it is known without.
struct ColumnNames {
    MeasuredColumn column = MeasuredColumn::voltage;
    std::string_view by_hand;  ///< "wall"
    std::string_view known;    ///< "wall power, AC input, grid power …": each of them names this column
};
[[nodiscard]] const std::array<ColumnNames, measured_column_count>& column_names();

/// What was found out about the whole file.
struct MeasuredTable {
    std::array<bool, measured_column_count> columns{};  ///< by MeasuredColumn
    int header_line = 0;
    int row_count = 0;
    char separator = ',';
    char decimal = '.';
    TimeForm time_form = TimeForm::none;
    std::vector<std::string> ignored_columns;  ///< as the header spells them
    std::vector<std::string> notes;            ///< sentences about what was skipped
    std::optional<bool> recovered;             ///< "recovered: yes" in a remark, a comment or a column of its own

    [[nodiscard]] bool has(MeasuredColumn column) const { return columns[static_cast<std::size_t>(column)]; }
};

/// Reads a table piece by piece; every row goes to `take` as soon as it is whole.
///
/// The first line that names at least two known columns, in a comment or not, is the header, and a later one is
/// followed; docs/learn.md tells the spellings. Columns are parted by commas, semicolons, tabs or upright strokes,
/// decimals by points or commas, and dates by day or month, as the head of the file (64 KiB) shows. Lines that are
/// empty or begin with #, repeated headers, lines above the header, and totals below are skipped. Empty cells, dashes,
/// "n/a" and their like are values not measured. Values are kept in V, A, W, W/m², °C, s and ratios.
class MeasuredReader {
public:
    using Take = std::function<void(const MeasuredRow&)>;

    /// `file` names the text in messages.
    MeasuredReader(std::string file, Take take, std::vector<ColumnByHand> by_hand = {});
    ~MeasuredReader();
    MeasuredReader(MeasuredReader&&) noexcept;
    MeasuredReader& operator=(MeasuredReader&&) noexcept;
    MeasuredReader(const MeasuredReader&) = delete;
    MeasuredReader& operator=(const MeasuredReader&) = delete;

    /// The next bytes of the text, cut anywhere. False: no more of it is wanted, as it is no table or hopelessly wrong.
    bool feed(std::string_view piece);

    /// The end of the text. Fails with every complaint (the first twenty and the number of the rest): a cell that is no
    /// such value, a row with too few or too many cells, two columns of one thing, decimals, dates or units that can be
    /// read in two ways, no header, no row, no column of volts, neither amps nor watts. Rows seen before a complaint
    /// were handed on.
    [[nodiscard]] Result<MeasuredTable> finish();

private:
    class Impl;
    std::unique_ptr<Impl> impl_;
};

/// The whole text at once.
[[nodiscard]] Result<MeasuredTable> read_measured(std::string_view text, const std::string& file,
                                                  const MeasuredReader::Take& take);

}  // namespace plait::input
