#include "learn_words.hpp"

#include "parts_of_reports.hpp"
#include "render/style.hpp"

#include <plait/base/names.hpp>

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

// Two usual meters may be off by so much together (common practice, no source).
constexpr double usual_meters_ratio = 0.02;
// A display that may cut off with less probability is not worth a word (ours, no source).
constexpr double worth_a_word_ratio = 0.02;
// … nor one whose steps are less than so much of what it shows.
constexpr double worth_a_word_step_ratio = 0.01;
// Below this an input may only have been waiting (common practice, no source).
constexpr double waiting_w = 10.0;

std::string gap(const Interval& v) {
    const std::string low = volts(v.lower());
    const std::string high = volts(v.upper());
    return low == high ? "at " + low : fmt::format("between {} and {}", low, high);
}

std::string maximum_meaning(const measured::Compared& c, const measured::LearnedWindow& w) {
    const std::string printed = volts(*c.printed_value);
    if (c.agreement == measured::Agreement::more) {
        return fmt::format(
            "It {}. That is no permission: the printed maximum of {} stays the limit of every wiring, and every "
            "verdict keeps to it.",
            w.trip ? fmt::format("worked above its printed maximum and tripped only {}", gap(w.trip->between_v))
                   : fmt::format("was still working at {}, above its printed maximum", volts(w.highest_working_v)),
            printed);
    }
    if (c.agreement == measured::Agreement::less) {
        return fmt::format(
            "It ceases to take power {}, below its printed maximum of {}. A wiring that works above that voltage gets "
            "nothing, though it breaks no limit; {} stays the limit for open circuit in the cold.",
            gap(w.trip->between_v), printed, printed);
    }
    if (c.agreement == measured::Agreement::not_seen && w.recovery) {
        return fmt::format(
            "The sweep came down from above: it took power again {}. Where it trips with the voltage rising is not "
            "known, and {} stays the limit.",
            gap(w.recovery->between_v), printed);
    }
    if (c.agreement == measured::Agreement::not_seen) {
        return fmt::format(
            "The sweep ended at {} with the input still working; where it would trip is not known, and {} "
            "stays the limit.",
            volts(w.highest_working_v), printed);
    }
    return fmt::format("The printed maximum of {} stays the limit of every wiring.", printed);
}

// What the sweep could not tell of a printed figure, and why.
std::string untold_meaning(const measured::Compared& c, const measured::LearnedWindow& w) {
    if (!c.printed_value) return "";
    if (c.figure == measured::ComparedFigure::start) {
        return fmt::format(
            "{}, so where it starts is not known; the printed {} stands.",
            w.rising ? fmt::format("It took power at {} already, the lowest reading", volts(w.lowest_working_v))
                     : std::string("There is no sweep upwards"),
            volts(*c.printed_value));
    }
    if (c.figure == measured::ComparedFigure::power) {
        return fmt::format("The printed {} was not reached: the most it took was {}. It stands.",
                           watts(*c.printed_value), watts(w.most_power_w));
    }
    const auto met = [&](measured::PieceKind kind) {
        return std::any_of(w.pieces.begin(), w.pieces.end(), [&](const measured::LearnedPiece& p) {
            return p.kind == kind && p.from_v < c.at_to_v && c.at_from_v < p.to_v;
        });
    };
    const char* const why = met(measured::PieceKind::constant_power) ? "the power limit came first"
                            : met(measured::PieceKind::at_least)     ? "the supply gave out first"
                                                                     : "there are no two readings that tell";
    return fmt::format("The printed {} from {} to {} was not put to the test, for {}. It stands.",
                       amps(*c.printed_value), volts(c.at_from_v), volts(c.at_to_v), why);
}

std::string level_text(const measured::LearnedPiece& p, double value) {
    return p.kind == measured::PieceKind::constant_power ? watts(value) : amps(value);
}

void add_switch(Table& table, const char* what, const Interval& between_v, const Interval& likely_v) {
    table.rows.push_back({{what, fmt::format("{} … {}", volts(between_v.lower()), volts(between_v.upper())),
                           fmt::format("{} … {}", volts(likely_v.lower()), volts(likely_v.upper()))}});
}

void add_switch(Table& table, const char* what, const std::optional<measured::SwitchVoltage>& s) {
    if (s) add_switch(table, what, s->between_v, s->likely_v());
}

std::string printed_value(const measured::Compared& c, double value) {
    if (c.figure == measured::ComparedFigure::band) return amps(value);
    return c.figure == measured::ComparedFigure::power ? watts(value) : volts(value);
}

/// In which steps the readings were taken to come, and what is done with the digits that no step shows.
std::vector<std::string> steps_read(const measured::LearnedWindow& w) {
    std::vector<std::string> all;
    std::string steps;
    if (w.amps_step_a > 0.0) steps = fmt::format("{:g} A", w.amps_step_a);
    if (w.watts_step_w > 0.0) steps += fmt::format("{}{:g} W", steps.empty() ? "" : " or ", w.watts_step_w);
    if (steps.empty()) return all;
    const bool cuts_off = w.habit == measured::DisplayHabit::cuts_off;
    all.push_back(fmt::format("Readings come in steps of {}, so each is taken for {}; --resolution says otherwise.",
                              steps,
                              cuts_off ? "anything up to a step above it" : "anything up to half a step about it"));
    if (!w.cuts_off_ratio) return all;
    if (cuts_off) {
        all.push_back(fmt::format("The display cuts off instead of rounding, the readings say ({}).",
                                  per_cent(*w.cuts_off_ratio, 0)));
    } else if (*w.cuts_off_ratio > worth_a_word_ratio && w.coarsest_step_ratio() > worth_a_word_step_ratio) {
        all.emplace_back(
            "Should the display cut off instead of rounding, the levels lie up to half a step higher: say --cut-off.");
    }
    return all;
}

/// A name for programs as words.
std::string spaced(std::string_view name) {
    std::string words(name);
    std::replace(words.begin(), words.end(), '-', ' ');
    return words;
}

std::string without_unit(std::string text) { return text.substr(0, text.rfind(' ')); }

}  // namespace

std::string_view name_of(measured::PieceKind kind) {
    static constexpr Names names{
        Name{measured::PieceKind::nothing, "nothing"},
        Name{measured::PieceKind::constant_current, "constant-current"},
        Name{measured::PieceKind::constant_power, "constant-power"},
        Name{measured::PieceKind::at_least, "at-least"},
    };
    return name_in(names, kind);
}

std::string_view name_of(measured::RowUse use) {
    static constexpr Names names{
        Name{measured::RowUse::fits, "fits"},
        Name{measured::RowUse::nothing_taken, "nothing-taken"},
        Name{measured::RowUse::stands_apart, "stands-apart"},
        Name{measured::RowUse::supply_was_the_limit, "supply-was-the-limit"},
        Name{measured::RowUse::beside_the_wall, "beside-the-wall"},
        Name{measured::RowUse::left_out, "left-out"},
    };
    return name_in(names, use);
}

std::string_view name_of(measured::Agreement agreement) {
    static constexpr Names names{
        Name{measured::Agreement::agrees, "agrees"},
        Name{measured::Agreement::less, "less"},
        Name{measured::Agreement::more, "more"},
        Name{measured::Agreement::not_seen, "not-seen"},
        Name{measured::Agreement::not_printed, "not-printed"},
    };
    return name_in(names, agreement);
}

std::string_view name_of(measured::ComparedFigure figure) {
    static constexpr Names names{
        Name{measured::ComparedFigure::start, "start-voltage"},
        Name{measured::ComparedFigure::band, "band-current"},
        Name{measured::ComparedFigure::power, "power-limit"},
        Name{measured::ComparedFigure::maximum, "maximum-voltage"},
    };
    return name_in(names, figure);
}

std::string meaning_of(const measured::Compared& c, const measured::LearnedWindow& w) {
    if (c.figure == measured::ComparedFigure::maximum) return maximum_meaning(c, w);
    if (c.agreement == measured::Agreement::not_seen) return untold_meaning(c, w);
    const bool less = c.agreement == measured::Agreement::less;
    if (!less && c.agreement != measured::Agreement::more) return "";
    const double off_ratio = c.value ? std::abs(*c.value / *c.printed_value - 1.0) : 0.0;
    const bool voltage = c.figure == measured::ComparedFigure::start;
    if (!voltage && w.meter_accuracy_ratio == 0.0 && off_ratio < usual_meters_ratio) {
        return fmt::format(
            "{} is {} {} than printed, which is less than usual meters are off: take it as the "
            "same, or say --accuracy.",
            c.figure == measured::ComparedFigure::power
                ? std::string("The power")
                : fmt::format("The current from {} to {}", volts(c.at_from_v), volts(c.at_to_v)),
            per_cent(off_ratio), less ? "less" : "more");
    }
    switch (c.figure) {
        case measured::ComparedFigure::start:
            return less ? fmt::format(
                              "It starts {}, earlier than the printed {}. Do not count on it: the next one made may "
                              "keep to the print.",
                              gap(*c.likely), volts(*c.printed_value))
                        : fmt::format(
                              "It starts only {}, later than the printed {}. A string that counts on the printed "
                              "voltage may not start on a hot day; make it longer.",
                              gap(*c.likely), volts(*c.printed_value));
        case measured::ComparedFigure::band:
            return less ? fmt::format(
                              "From {} to {} it takes {} less current than printed: parallel strings are "
                              "clipped that much earlier.",
                              volts(c.at_from_v), volts(c.at_to_v), per_cent(off_ratio))
                        : fmt::format(
                              "From {} to {} it takes {}{} more current than printed. Do not count on it: the "
                              "next one made may keep to the print.",
                              volts(c.at_from_v), volts(c.at_to_v), c.likely ? "" : "at least ", per_cent(off_ratio));
        case measured::ComparedFigure::power:
            return less ? fmt::format(
                              "It takes {} less power than printed. Panels beyond {} bring nothing in full sun "
                              "on this input, however they are wired.",
                              per_cent(off_ratio), watts(*c.value))
                   : !c.likely
                       ? fmt::format(
                             "It took {} without showing a limit, {} more than printed. Do not count on it: the "
                             "next one made may keep to the print.",
                             watts(*c.value), per_cent(off_ratio))
                       : fmt::format(
                             "It takes {} more power than printed. Do not count on it: the next one made may "
                             "keep to the print.",
                             per_cent(off_ratio));
        case measured::ComparedFigure::maximum:
            break;
    }
    return "";
}

std::vector<std::string> summary_of(const measured::LearnSheet& sheet) {
    const measured::LearnedWindow& w = sheet.window;
    std::vector<std::string> all;
    if (w.start) all.push_back(fmt::format("It begins to take power {}.", gap(w.start->between_v)));
    if (w.rising && !w.start && !w.stop) {
        all.push_back(fmt::format("It took power at {} already, the lowest reading; where it starts is not known.",
                                  volts(w.lowest_working_v)));
    }
    if (w.stop) {
        all.push_back(fmt::format("With the voltage falling it holds on and ceases {}.", gap(w.stop->between_v)));
    }
    for (const measured::LearnedPiece& p : w.pieces) {
        const std::string where = fmt::format("From {} to {}", volts(p.from_v), volts(p.to_v));
        switch (p.kind) {
            case measured::PieceKind::constant_current:
                all.push_back(fmt::format("{} it takes {} at most.", where, amps(p.level.value)));
                break;
            case measured::PieceKind::constant_power:
                all.push_back(fmt::format("{} it takes {} whatever the voltage.", where, watts(p.level.value)));
                break;
            case measured::PieceKind::at_least:
                all.push_back(
                    fmt::format("{} it takes at least {}; there the supply was the limit, so more is possible.", where,
                                amps(p.level.value)));
                break;
            case measured::PieceKind::nothing:
                all.push_back(fmt::format("{} it takes nothing.", where));
                break;
        }
    }
    if (w.takeover_v) {
        const std::string low = volts(w.takeover_v->likely.lower());
        const std::string high = volts(w.takeover_v->likely.upper());
        all.push_back(fmt::format("The power limit takes over at {}{}.", volts(w.takeover_v->value),
                                  low == high ? "" : fmt::format(" ({} … {})", low, high)));
    }
    if (w.trip) {
        all.push_back(fmt::format("Above that it stops: it trips {}.", gap(w.trip->between_v)));
        if (w.recovery) {
            all.push_back(
                fmt::format("With the voltage falling it recovers by itself {}.", gap(w.recovery->between_v)));
        } else if (sheet.recovered) {
            all.emplace_back(*sheet.recovered ? "It came back by itself, as noted; at which voltage nobody wrote down."
                                              : "It did not come back by itself, as noted.");
        } else if (w.falling) {
            all.push_back("It was not seen to recover.");
        }
    } else if (w.recovery) {
        all.push_back(
            fmt::format("Coming down from above it took power again {}; where it trips with the voltage "
                        "rising was not measured.",
                        gap(w.recovery->between_v)));
    } else {
        all.push_back(fmt::format("It was still working at {}, the highest reading; where it trips is not known.",
                                  volts(w.highest_working_v)));
    }
    if (w.most_power_w < waiting_w) {
        all.push_back(
            fmt::format("It never took more than {}. That is what an input's own electronics draw: it may not "
                        "have been charging at all. See that the battery has room and sweep again.",
                        watts(w.most_power_w)));
    }
    return all;
}

Table piece_table(const measured::LearnedWindow& w) {
    using measured::PieceKind;
    Table table =
        table_of("What the input takes, voltage by voltage", {"from", "to", "takes", "95 %", "voltages, readings"});
    for (const measured::LearnedPiece& p : w.pieces) {
        std::string what = "nothing";
        std::string likely;
        if (p.kind == PieceKind::at_least) what = "at least " + amps(p.level.value);
        if (p.kind == PieceKind::constant_current || p.kind == PieceKind::constant_power) {
            what = level_text(p, p.level.value) + (p.kind == PieceKind::constant_power ? ", power" : ", current");
            likely =
                fmt::format("{} … {}", level_text(p, p.level.likely.lower()), level_text(p, p.level.likely.upper()));
        }
        table.rows.push_back({{volts(p.from_v), volts(p.to_v), what, likely, fmt::format("{}, {}", p.steps, p.rows)}});
    }
    return table;
}

Table switch_table(const measured::LearnedWindow& w) {
    Table table = table_of("At which voltages the input changes what it does", {"", "between two readings", "95 %"});
    add_switch(table, "begins, voltage rising", w.start);
    add_switch(table, "ceases, voltage falling", w.stop);
    for (std::size_t k = 0; k < w.changes.size(); ++k) {
        const bool to_power = w.pieces[k + 1].kind == measured::PieceKind::constant_power;
        // Where band and power limit meet without a jump, their levels tell it better than the readings beside it.
        const bool met = to_power && w.takeover_v && w.pieces[k + 1].level.value == w.power_w->value;
        if (to_power) {
            add_switch(table, "power limit takes over", w.changes[k].between_v,
                       met ? w.takeover_v->likely : w.changes[k].likely_v());
        } else {
            add_switch(table, "another current", w.changes[k]);
        }
    }
    add_switch(table, "trips, voltage rising", w.trip);
    add_switch(table, "recovers, voltage falling", w.recovery);
    return table;
}

Table compared_table(const measured::LearnSheet& sheet) {
    Table table;
    if (!sheet.controller) return table;
    table.caption = fmt::format("Against the printed limits of {}, {}", sheet.controller->name, sheet.printed()->name);
    table.columns = {{""}, {"printed", true}, {"measured", true}, {"95 %"}, {"it is"}};
    for (const measured::Compared& c : sheet.compared) {
        std::string what;
        if (c.figure == measured::ComparedFigure::start) what = "start voltage";
        if (c.figure == measured::ComparedFigure::power) what = "power";
        if (c.figure == measured::ComparedFigure::maximum) what = "maximum voltage, trip";
        if (c.figure == measured::ComparedFigure::band)
            what = fmt::format("{} to {}", volts(c.at_from_v), volts(c.at_to_v));
        std::string likely;
        if (c.likely) {
            likely = fmt::format("{} … {}", printed_value(c, c.likely->lower()), printed_value(c, c.likely->upper()));
        }
        table.rows.push_back({{what, c.printed_value ? printed_value(c, *c.printed_value) : "silent",
                               c.value ? printed_value(c, *c.value) : "–", likely, spaced(name_of(c.agreement))}});
    }
    return table;
}

std::string rows_elsewhere(const measured::LearnedWindow& w) {
    return fmt::format("{} readings; --csv lists them with their fit.", w.rows.size());
}

Table fitted_table(const measured::LearnedWindow& w) {
    Table table =
        table_of("Every reading of the sweep, and what the fit says there", {"#line", "#V", "#A", "#fit A", "remark"});
    for (const measured::FittedRow& r : w.rows) {
        table.rows.push_back({{fmt::format("{}", r.row.line), without_unit(volts(r.row.voltage_v)),
                               std::isnan(r.row.current_a) ? "–" : without_unit(amps(r.row.current_a)),
                               r.fitted_a ? without_unit(amps(*r.fitted_a)) : "",
                               r.use == measured::RowUse::fits ? "" : spaced(name_of(r.use))}});
    }
    return table;
}

std::vector<std::string> meanings(const measured::LearnSheet& sheet) {
    std::vector<std::string> all;
    for (const measured::Compared& c : sheet.compared) {
        std::string meaning = meaning_of(c, sheet.window);
        if (!meaning.empty()) all.push_back(std::move(meaning));
    }
    return all;
}

std::vector<std::string> how_sure(const measured::LearnSheet& sheet) {
    const measured::LearnedWindow& w = sheet.window;
    std::vector<std::string> sure{w.noise_is_digit
                                      ? fmt::format("The readings agree to their last digit, {:.2g} % of one.", 100.0 * w.noise_ratio)
                                      : fmt::format("One reading scatters by {}.", per_cent(w.noise_ratio, 2))};
    sure.push_back(sheet.meter_accuracy_ratio > 0.0
                       ? fmt::format("The intervals hold the meters' own error of {:.2g} % too.",
                                     100.0 * sheet.meter_accuracy_ratio)
                       : std::string("The intervals tell of scatter only; a meter that reads 2 % high does so in every "
                                     "row: say --accuracy."));
    for (std::string& line : steps_read(w)) sure.push_back(std::move(line));
    if (w.outlier_count == 1) sure.emplace_back("One reading stands apart and counts for nothing.");
    if (w.outlier_count > 1) {
        sure.push_back(fmt::format("{} readings stand apart and count for nothing.", w.outlier_count));
    }
    if (w.censored_count > 0) {
        sure.push_back(
            fmt::format("At {} the supply was the limit.",
                        w.censored_count == 1 ? "one reading" : fmt::format("{} readings", w.censored_count)));
    }
    if (!w.in_order) sure.emplace_back("The readings jump up and down, so nothing is said about rising and falling.");
    if (w.in_order && !w.falling) {
        sure.emplace_back("There is no sweep downwards, so where it recovers was not looked for.");
    }
    return sure;
}

}  // namespace plait::output
