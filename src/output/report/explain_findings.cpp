#include "explain_findings.hpp"

#include <plait/base/names.hpp>

#include "parts_of_reports.hpp"
#include "render/display_width.hpp"
#include "render/style.hpp"

#include <array>
#include <cmath>

namespace plait::output {
namespace {

using measured::Cause;
using measured::LearnedLimit;
using measured::Teller;

constexpr double least_bias_ratio = 0.005;   // less than any sensor is worth a word for (ours, no source)

std::string value_of(const LearnedLimit& l, double value) {
    return l.cause == Cause::power_limit ? watts(value) : l.cause == Cause::current_limit ? amps(value) : volts(value);
}

std::string limit_sentence(const study::SystemModel& system, std::size_t input, const LearnedLimit& l) {
    std::string where;
    const auto& bands = system.window(input).bands;
    if (l.cause == Cause::current_limit && bands.size() > 1 && l.band < bands.size()) {
        where = fmt::format(" from {:g} to {:g} V", bands[l.band].from_v, bands[l.band].to_v);
    }
    const char* const what = l.cause == Cause::below_window   ? "The window begins at"
                             : l.cause == Cause::above_window ? "The window ends at"
                                                              : "It takes";
    const bool takes = l.cause == Cause::power_limit || l.cause == Cause::current_limit;
    if (!l.differs()) {
        return fmt::format("{} {}{}{}, as printed ({}), as far as {:.1f} hours at that limit tell.", what,
                           value_of(l, l.found_value), takes ? " at most" : "", where, value_of(l, l.printed_value),
                           l.hours_h);
    }
    return fmt::format("{} {}{}{} by the log's meters (95 %: {} to {}), printed {}.", what, value_of(l, l.found_value),
                       takes ? " at most" : "", where, value_of(l, l.low_value), value_of(l, l.high_value),
                       value_of(l, l.printed_value));
}

std::string off(const char* what, double ratio) {
    return fmt::format("{} {} {}", what, per_cent(std::abs(ratio)), ratio < 0.0 ? "low" : "high");
}

// What rows that work tell of sensors and curves against each other; the true light is by so much more than the
// sensor's.
std::string bias_sentence(const measured::LogBiases& b) {
    std::vector<std::string> all;
    if (std::abs(b.light_ratio) >= least_bias_ratio) all.push_back(off("the light", -b.light_ratio));
    if (std::abs(b.volts_ratio) >= least_bias_ratio) all.push_back(off("the volts", b.volts_ratio));
    if (std::abs(b.amps_ratio) >= least_bias_ratio) all.push_back(off("the amps", b.amps_ratio));
    if (all.empty()) return "";
    return fmt::format(
        "Against each other and the datasheet the log reads {}; that was reckoned with, and is not charged to any "
        "cause.",
        listed(all));
}

std::string shade_sentence(const measured::ShadeSeen& s) {
    const std::string light = fmt::format("{} of the light of the others", per_cent(s.light_ratio, 0));
    const auto panels = [](std::size_t n) { return n == 1 ? std::string("one panel") : fmt::format("{} panels", n); };
    const auto strings = [](std::size_t n) {
        return n == 1 ? std::string("one string") : fmt::format("each of {} strings", n);
    };
    const std::string who =
        s.panels == 0 ? fmt::format("part of a panel, {} bypass {},", s.groups, s.groups == 1 ? "group" : "groups")
                      : fmt::format("{} of {}", panels(s.panels), strings(s.strings));
    return fmt::format("Most of the shade looks like {} in {}.", who, light);
}

}  // namespace

std::string_view name_of(Teller teller) {
    static constexpr Names names{Name{Teller::irradiance, "irradiance"}, Name{Teller::voltage, "volts"},
                                 Name{Teller::charge, "charge"}, Name{Teller::wall, "wall"},
                                 Name{Teller::nothing, "nothing"}};
    return name_in(names, teller);
}

std::vector<std::string> findings(const study::SystemModel& system, const ExplainedLog& log) {
    const measured::LogAccount& a = log.account;
    std::vector<std::string> out;
    for (const LearnedLimit& l : a.limits) out.push_back(limit_sentence(system, log.input, l));
    if (const std::string bias = bias_sentence(a.biases); !bias.empty()) out.push_back(bias);
    if (a.shade_seen) out.push_back(shade_sentence(*a.shade_seen));
    for (const measured::ShadeHours& s : a.shade_hours) {
        out.push_back(
            fmt::format("From {} to {} shade cost something on {} of {} days, {:.0f} Wh in all: look for what comes "
                        "between sun and "
                        "panels at that time.",
                        time_of_day(s.from_h), time_of_day(s.to_h), s.days, a.days, s.lost_wh));
    }
    if (a.fixed_v)
        out.push_back(fmt::format("Where the input held one voltage, that was {} on the mean.", volts(*a.fixed_v)));
    static constexpr std::array<std::string_view, measured::teller_count> would_tell{
        "a column of irradiance, in the plane of the panels,", "a column of volts", "a column of the battery's charge",
        "a column of what the wall gives", ""};
    for (std::size_t i = 0; i < measured::teller_count; ++i) {
        if (!a.untold_matters(static_cast<measured::Teller>(i))) continue;
        out.push_back(would_tell[i].empty()
                          ? fmt::format("{:.0f} Wh cannot be told apart, whatever was logged.", a.untold_wh[i])
                          : fmt::format("{:.0f} Wh cannot be told: {} would tell.", a.untold_wh[i], would_tell[i]));
    }
    return out;
}

Table wall_table(const ExplainedLog& log) {
    const measured::LogAccount& a = log.account;
    Table table = table_of("What the input took from the sun, with the wall and without",
                           {"", "#hours", "#possible Wh", "#expected Wh", "#taken Wh", "#of what was possible"});
    if (!(a.with_wall.logged_h > 0.0) || !(a.without_wall.logged_h > 0.0)) return table;
    const auto add = [&](const char* name, const measured::LogPart& p) {
        table.rows.push_back(
            {{name, fmt::format("{:.1f}", p.logged_h), fmt::format("{:.0f}", p.possible_wh),
              fmt::format("{:.0f}", p.expected_wh), fmt::format("{:.0f}", p.measured_wh),
              p.possible_wh >= 0.5 ? per_cent_of(p.measured_wh, p.possible_wh, 0) : "–"}});
    };
    add("with the wall", a.with_wall);
    add("without", a.without_wall);
    return table;
}

}  // namespace plait::output
