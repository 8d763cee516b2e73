#include "measured_rows.hpp"

#include "noted_number.hpp"
#include "quantity/decimal.hpp"
#include "quantity/kinds.hpp"
#include "quantity/words.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace plait::input {
namespace {

std::string_view word_of(char separator) {
    return separator == '\t' ? "tabs" : separator == ';' ? "semicolons" : "commas";
}

bool says_nothing(const MeasuredRow& r) {
    return !r.current_a && !r.power_w && !r.time_s && !r.irradiance_w_per_m2 && !r.air && !r.panel &&
           !r.state_of_charge_ratio && !r.wall_charging_w && r.state == MeasuredState::unsaid;
}

std::string_view name_of(char mark) { return mark == ',' ? "comma" : "point"; }

std::string with_point(std::string text) {
    std::replace(text.begin(), text.end(), ',', '.');
    return text;
}

std::string without_comma(std::string text) {
    text.erase(std::remove(text.begin(), text.end(), ','), text.end());
    return text;
}

bool keeps_step(MeasuredColumn column) {
    return column == MeasuredColumn::current || column == MeasuredColumn::power || column == MeasuredColumn::display_power ||
           column == MeasuredColumn::display_current || column == MeasuredColumn::battery_power;
}

void put_step(MeasuredRow& row, MeasuredColumn column, double step, bool vague) {
    if (column == MeasuredColumn::current) {
        row.current_step_a = step;
        row.current_vague = vague;
    } else if (column == MeasuredColumn::power) {
        row.power_step_w = step;
        row.power_vague = vague;
    } else if (column == MeasuredColumn::display_power || column == MeasuredColumn::display_current) {
        row.display_step_value = step;
    } else if (column == MeasuredColumn::battery_power) {
        row.battery_power_step_w = step;
    }
}

}  // namespace

bool holds_numbers(MeasuredColumn column) { return facts_of(column).spec.kind != Kind::by_hand; }

void put_number(MeasuredRow& row, MeasuredColumn column, double value) {
    switch (column) {
        case MeasuredColumn::voltage:
            row.voltage_v = value;
            break;
        case MeasuredColumn::current:
            row.current_a = value;
            break;
        case MeasuredColumn::power:
            row.power_w = value;
            break;
        case MeasuredColumn::supply_limit:
            row.supply_limit_a = value;
            break;
        case MeasuredColumn::irradiance:
            row.irradiance_w_per_m2 = value;
            break;
        case MeasuredColumn::global_irradiance:
            row.global_irradiance_w_per_m2 = value;
            break;
        case MeasuredColumn::air_temperature:
            row.air = Celsius{value};
            break;
        case MeasuredColumn::panel_temperature:
            row.panel = Celsius{value};
            break;
        case MeasuredColumn::state_of_charge:
            row.state_of_charge_ratio = value;
            break;
        case MeasuredColumn::wall_charging:
            row.wall_charging_w = std::max(value, 0.0);  // below it, power goes out to the grid
            break;
        case MeasuredColumn::display_power:
            row.display_power_w = value;
            break;
        case MeasuredColumn::display_current:
            row.display_current_a = value;
            break;
        case MeasuredColumn::battery_power:
            row.battery_power_w = value;
            break;
        case MeasuredColumn::time:
        case MeasuredColumn::date:
        case MeasuredColumn::state:
            break;
    }
}

void MeasuredRows::finish() {
    if (repeated_headers_ > 0) {
        found_->notes.push_back(fmt::format("The header stands {} more {} in the file; each was skipped.",
                                            repeated_headers_, repeated_headers_ == 1 ? "time" : "times"));
    }
    if (summaries_ > 0) {
        found_->notes.push_back(
            summaries_ == 1
                ? fmt::format("Line {} looks like a total or a mean and was skipped.", last_summary_)
                : fmt::format("{} lines look like totals or means and were skipped, line {} the last of them.",
                              summaries_, last_summary_));
    }
    // No row tells whether 0.8 is meant in kW/m² where the column does not; the brightest of all does.
    if (brightest_ > 0.0 && brightest_ < 2.0) {
        complaints_->add(light_line_, 1,
                         Complaint::unit, fmt::format("no irradiance above {} stands in the column, which would be night in W/m². Write "
                                     "the unit in its header, such as irradiance [kW/m²].",
                                     brightest_));
    }
    for (std::size_t c = 0; c < unitless_degc_.size(); ++c) {
        if (!unitless_degc_[c]) continue;
        found_->columns[c] = false;
        found_->notes.push_back(
            fmt::format("{} was left aside, as its header has no unit: {} °C or {}? Write [°C] or [°F] there to have it "
                        "counted.",
                        upper_first(facts_of(static_cast<MeasuredColumn>(c)).what), plain(*unitless_degc_[c]),
                        fahrenheit_reading(*unitless_degc_[c])));
    }
    check_products();
    found_->decimal = decimal();
}

// Watts that are a thousandfold of volts times amps, or a thousandth, are in another unit than was understood.
void MeasuredRows::check_products() {
    if (!(sum_va_ > 0.0)) return;
    const double ratio = sum_w_ / sum_va_;
    for (const double slip : {1e3, 1e-3}) {
        if (!(ratio > 0.7 * slip && ratio < 1.4 * slip)) continue;
        complaints_->add(found_->header_line, 1,
                         Complaint::unit, fmt::format("the watts of this table are {} of its volts times its amps. Write the units in "
                                     "the header, such as V, mA and W.",
                                     slip > 1.0 ? "a thousandfold" : "a thousandth"));
    }
}

void MeasuredRows::row(std::string_view text, int number, bool cut) {
    if (!header_ || text.empty()) return;
    if (text.front() == '#') return comment(text, number);
    // A line of its own below the table: "recovered: yes".
    if (lower(text.front()) == 'r' && text.find_first_of("0123456789") == std::string_view::npos) {
        if (const auto recovered = recovered_in(text)) {
            found_->recovered = recovered;
            return;
        }
    }
    if (units_may_follow_ && take_units_line(text, number)) return;
    const char first = lower(text.front());
    if (((first >= 'a' && first <= 'z') || first == '"' || first == header_->separator) && says_summary(text)) {
        ++summaries_;
        last_summary_ = number;
        return;
    }
    const Line line{text, number, cut};
    unquoted_.clear();
    if (!split_cells(text, header_->separator, cells_, unquoted_)) {
        return complaints_->add(number, 1,
                                Complaint::grammar, "a quoted cell is not closed, or text stands beside it. Put a \" at both ends of the "
                                "cell or none.");
    }
    const auto empty = [](const MeasuredCell& c) { return c.text.empty(); };
    if (cells_.front().text.empty() && std::all_of(cells_.begin(), cells_.end(), empty)) return;
    asked_header_ = false;
    last_remark_ = {};
    if (cells_.size() != header_->cell_count && !right_length(line)) return;
    MeasuredRow r;
    r.line = number;
    days_s_.reset();
    const std::size_t complained_before = complaints_->count();
    for (Target& t : targets_) {
        if (t.index >= cells_.size()) continue;  // only in rows that leave out unknown columns
        const MeasuredCell& cell = cells_[t.index];
        const bool read = t.number                            ? number_cell(line, cell, t, r)
                          : t.column == MeasuredColumn::state ? state_cell(line, cell, r)
                                                              : time_cell(line, cell, t, r);
        if (!read) return;
    }
    if (complaints_->count() != complained_before) return;
    if (remarks_ || !last_remark_.empty()) keep_remarks(r);
    if (r.voltage_v && r.current_a && r.power_w && *r.voltage_v > 0.0 && *r.current_a > 0.0 && *r.power_w > 0.0) {
        sum_w_ += *r.power_w;
        sum_va_ += *r.voltage_v * *r.current_a;
    }
    if (!r.voltage_v && says_nothing(r)) return;
    ++found_->row_count;
    take_(r);
}

// A remark counts only for what the columns leave open: why nothing was read, and that the supply was the limit.
void MeasuredRows::keep_remarks(MeasuredRow& r) const {
    const bool measured = r.current_a || r.power_w;
    const auto keep_remark = [&](std::string_view remark) {
        const SaidInWords said = said_in(remark);
        if (said.recovered) found_->recovered = said.recovered;
        const bool stopped = said.state == MeasuredState::error || said.state == MeasuredState::idle;
        if (!measured && r.state == MeasuredState::unsaid && stopped) r.state = said.state;
        if (!measured || !said.supply_was_the_limit || r.supply_limit_a) return;
        if (r.current_a) {
            r.supply_limit_a = r.current_a;
        } else if (r.voltage_v) {
            r.supply_limit_a = *r.power_w / *r.voltage_v;
        }
    };
    if (!last_remark_.empty()) keep_remark(last_remark_);
    for (std::size_t i = 0; i < cells_.size(); ++i) {
        const bool read = std::any_of(targets_.begin(), targets_.end(), [&](const Target& t) { return t.index == i; });
        if (read || cells_[i].text.empty()) continue;
        if (i == header_->recovery_index) {
            if (const auto recovered = recovered_in("recovered " + std::string(cells_[i].text.substr(0, 40)))) {
                found_->recovered = recovered;
            }
        } else {
            keep_remark(cells_[i].text);
        }
    }
}

// Rows may have more empty cells at their end, or a remark; nothing else.
bool MeasuredRows::right_length(const Line& line) {
    const std::size_t wanted = header_->cell_count;
    while (cells_.size() > wanted && cells_.back().text.empty()) cells_.pop_back();
    if (cells_.size() == wanted) return true;
    if (is_header(line)) return false;
    const auto in_words = [](std::string_view text) {
        const char first = lower(text.front());
        return (first >= 'a' && first <= 'z') || static_cast<unsigned char>(first) >= 0x80U;
    };
    if (cells_.size() == wanted + 1 && in_words(cells_[wanted].text)) {
        last_remark_ = cells_[wanted].text;
        cells_.pop_back();
        return true;
    }
    if (line.text.find_first_not_of("-=_*+ \t|;,") == std::string_view::npos) return false;  // a rule under the table
    // Spreadsheets leave out the empty cells at the end; those of columns that are read must be there.
    const auto there = [&](const Target& t) { return t.index < cells_.size(); };
    if (cells_.size() < wanted && !line.cut && std::all_of(targets_.begin(), targets_.end(), there)) return true;
    if (cells_.size() < wanted && line.cut) {
        found_->notes.push_back(fmt::format("Line {}, the last, breaks off and was skipped.", line.number));
        return false;
    }
    std::string more = " Give every row one cell for each column; leave cells empty that were not measured.";
    if (cells_.size() > wanted && header_->separator == ',') {
        more = " If these are decimal commas, part the columns by semicolons or write decimal points.";
    } else if (cells_.size() == 1 && wanted > 1) {
        more = fmt::format(" Part them by {}, like the header.", word_of(header_->separator));
    }
    complaints_->add_at(line.text, line.number, cells_.size() > wanted ? cells_[wanted].offset : 0,
                        Complaint::grammar, fmt::format("this row has {} {}, the header {}.{}", cells_.size(),
                                    cells_.size() == 1 ? "cell" : "cells", wanted, more));
    return false;
}

bool MeasuredRows::number_cell(const Line& line, const MeasuredCell& cell, Target& t, MeasuredRow& r) {
    auto value = decimal_number(cell.text, decimal());
    if (value && decimal_ == '\0' && !decimal_settled(line, cell, t)) return true;
    double factor = t.factor;
    double offset = t.offset;
    bool watched = t.watched;
    if (!value) {
        if (says_not_measured(cell.text)) return true;
        if (take_noted(cell, t, r)) return true;  // no title is a number, and asking for a header takes longer
        if (is_header(line)) return false;
        if (t.column == MeasuredColumn::current || t.column == MeasuredColumn::power) {
            const MeasuredState said = said_in(cell.text).state;  // "trip" where a current would stand
            if (said == MeasuredState::error || said == MeasuredState::idle) {
                if (r.state == MeasuredState::unsaid) r.state = said;
                return true;
            }
        }
        bool own_unit = false;
        value = odd_number(line, cell, t, factor, offset, own_unit);
        if (!value) return true;
        watched = watched && !own_unit;
    }
    const double kept = *value * factor + offset;
    if (!(kept >= t.least && kept <= t.most)) {
        out_of_range(line, cell, t, kept);
    } else if (!watched || unit_settled(line, cell, t, kept)) {
        put_number(r, t.column, kept);
        if (keeps_step(t.column)) put_step(r, t.column, factor * last_digit_step(cell.text, decimal()), false);
    }
    return true;
}

bool MeasuredRows::take_noted(const MeasuredCell& cell, const Target& t, MeasuredRow& r) const {
    if (t.column != MeasuredColumn::current && t.column != MeasuredColumn::power) return false;
    const auto noted = noted_number(cell.text, decimal());
    if (!noted) return false;
    double factor = t.factor;
    if (!noted->rest.empty()) {
        const auto unit = measured_unit(noted->rest);
        if (unit == nullptr || unit->dimension != facts_of(t.column).dimension()) return false;
        factor = unit->factor;
    }
    const double kept = noted->value * factor;
    if (!(kept >= t.least && kept <= t.most)) return false;
    put_number(r, t.column, kept);
    put_step(r, t.column, noted->width * factor, true);
    return true;
}

// Before the first decimal mark: a point in front of three digits marks a thousand to some, and where the same column
// has whole numbers too, nothing tells.
bool MeasuredRows::decimal_settled(const Line& line, const MeasuredCell& cell, Target& t) {
    if (cell.text.find('.') == std::string_view::npos) {
        if (cell.text != "0") t.whole = true;
        return true;
    }
    if (t.whole && header_->separator != ',' && point_like_thousands(cell.text)) {
        std::string without(cell.text.substr(0, 40));
        without.erase(without.find('.'), 1);
        complain(line, cell, Complaint::ambiguous,
                 fmt::format("{} can be read as {} or, with a mark for thousands, as {}; the column has whole numbers "
                             "too. Write all of it with the same decimals, and no mark for thousands.",
                             shown(cell.text), cell.text.substr(0, 40), without));
        return false;
    }
    decimal_ = '.';
    return true;
}

void MeasuredRows::out_of_range(const Line& line, const MeasuredCell& cell, const Target& t, double kept) {
    const ColumnFacts& f = facts_of(t.column);
    if (kept >= f.spec.limits.low && kept <= f.spec.limits.high) {
        return complain(line, cell, Complaint::unit,
                        fmt::format("{} is more amps than an input takes, and the header has no unit. Write it there: "
                                    "[mA], or [A] if it is so.",
                                    shown(cell.text)));
    }
    complain(line, cell, Complaint::outside_range,
             fmt::format("{} is outside {}, what {} can be. Correct it, or the unit in the header ({}).",
                         shown(cell.text), range_text(f.spec), f.what, f.units()));
}

// Shares, irradiances and temperatures whose header has no unit: 0.8 could be meant as 80 %. Temperatures are left aside,
// as nothing tells °C from °F.
bool MeasuredRows::unit_settled(const Line& line, const MeasuredCell& cell, const Target& t, double kept) {
    if (facts_of(t.column).spec.kind == Kind::irradiance) {
        if (light_line_ == 0) light_line_ = line.number;
        brightest_ = std::max(brightest_, kept);
        return true;
    }
    if (facts_of(t.column).spec.kind == Kind::temperature) {
        unitless_degc_[static_cast<std::size_t>(t.column)] = kept;
        return false;
    }
    if (!(kept > 0.0 && kept < 0.01)) return true;
    complain(line, cell, Complaint::ambiguous,
             fmt::format("{} could be {} % or {} %. Write the unit in the header: [%], or [ratio] where 1 is full.",
                         shown(cell.text), plain(100.0 * kept), plain(1e4 * kept)));
    return false;
}

// Numbers that are not written in the plain way: a first decimal comma, a unit behind, a typographic minus.
std::optional<double> MeasuredRows::odd_number(const Line& line, const MeasuredCell& cell, const Target& t,
                                               double& factor, double& offset, bool& own_unit) {
    const ColumnFacts& f = facts_of(t.column);
    std::string text(cell.text.substr(0, 100));
    if (text.compare(0, 3, "−") == 0) text.replace(0, 3, "-");
    if (text.size() > 1 && text.front() == '~') text = std::string(trimmed(std::string_view(text).substr(1)));
    const std::size_t last = text.find_last_of("0123456789.,");
    if (last != std::string::npos && last + 1 < text.size()) {
        const auto unit = measured_unit(trimmed(std::string_view(text).substr(last + 1)));
        if (unit != nullptr && unit->dimension == f.dimension()) {
            own_unit = true;
            factor = unit->factor;
            offset = unit->offset;
            text.erase(last + 1);
        }
    }
    const Mark mark = mark_of(text);
    const bool with_comma = mark != Mark::point && decimal_number(text, ',').has_value();
    if (decimal_ == '\0' && with_comma && mark == Mark::comma) decimal_ = ',';
    if (decimal_ == '\0' && with_comma && mark == Mark::either) {
        complain(line, cell, Complaint::ambiguous,
                 fmt::format("{} can be read as {} or as {}. Write it with a decimal point and no mark for thousands.",
                             shown(cell.text), with_point(text), without_comma(text)));
        return std::nullopt;
    }
    if (auto value = decimal_number(text, decimal())) {
        if (decimal_ == '\0' && mark == Mark::point) decimal_ = '.';
        return value;
    }
    const char other = decimal() == ',' ? '.' : ',';
    if (mark != Mark::neither && decimal_number(text, other)) {
        complain(
            line, cell, Complaint::no_number,
            fmt::format("{} has a decimal {}, other cells of this file a decimal {}. Write all of them with a {}, and "
                        "no mark for thousands.",
                        shown(cell.text), name_of(other), name_of(decimal()), name_of(decimal())));
    } else if (mark == Mark::neither && text.find_first_not_of("+-0123456789.,") == std::string::npos) {
        complain(
            line, cell, Complaint::no_number,
            fmt::format("{} has more than one decimal mark; marks for thousands are not read. Write it such as {}.",
                        shown(cell.text), f.example));
    } else {
        complain(line, cell, Complaint::no_number,
                 fmt::format("{} is not {}. Write a number such as {}, in {}, or leave the cell empty.",
                             shown(cell.text), f.what, f.example, f.units()));
    }
    return std::nullopt;
}

bool MeasuredRows::state_cell(const Line& line, const MeasuredCell& cell, MeasuredRow& r) {
    if (says_not_measured(cell.text)) return true;
    if (const auto state = written_state(cell.text)) {
        r.state = *state;
        return true;
    }
    if (is_header(line)) return false;
    if (const MeasuredState said = said_in(cell.text).state; said != MeasuredState::unsaid) {
        r.state = said;
        return true;
    }
    complain(line, cell, Complaint::unknown_word,
             fmt::format("{} is no state that is known. Write charging, idle or error, leave the cell empty, or "
                         "rename the column to have it left aside.",
                         shown(cell.text)));
    return true;
}

}  // namespace plait::input
