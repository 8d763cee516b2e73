#include "bench_words.hpp"

#include "parts_of_reports.hpp"
#include "render/display_width.hpp"
#include "render/style.hpp"

#include <plait/base/names.hpp>

#include <cmath>

namespace plait::output {
namespace {

using measured::Protection;
using measured::ProtectionCheck;
using measured::ProtectionResult;
using measured::ReadingReason;

// Two usual meters may be off by so much together (common practice, no source).
constexpr double usual_meters_ratio = 0.02;

std::string percent(double ratio) { return fmt::format("{:.1f}", 100.0 * ratio); }

std::string setting(double v) { return fmt::format("{:.4g} V", v); }

/// "4.0 % low (95 %: 3.1 to 4.9 %)"; of one that may be right "right to within 0.8 %".
std::string off_by(const measured::Estimate& ratio) {
    const double low = ratio.likely.lower() - 1.0;
    const double high = ratio.likely.upper() - 1.0;
    if (low <= 0.0 && high >= 0.0) return fmt::format("right to within {} %", percent(std::max(-low, high)));
    const double off = ratio.value - 1.0;
    const double least = off < 0.0 ? -high : low;
    const double most = off < 0.0 ? -low : high;
    return fmt::format("{} % {} (95 %: {} to {} %)", percent(std::abs(off)), off < 0.0 ? "low" : "high", percent(least),
                       percent(most));
}

std::string stretch(const measured::RatioRange& r) { return fmt::format("{} to {}", volts(r.from_v), volts(r.to_v)); }

std::string display_sentence(const measured::LearnSheet& sheet, const measured::RatioCheck& c) {
    if (!c.whole) return "";
    const std::string what = sheet.display_named ? "The display" : "The watts noted beside volts and amps";
    if (c.worked_out && !sheet.display_named) {
        return what + " are volts times amps to their last digit: they tell nothing that the amps do not.";
    }
    std::string text = fmt::format("{} read{} ", what, sheet.display_named ? "s" : "");
    if (c.differs) {
        std::vector<std::string> each;
        for (const measured::RatioRange& r : c.ranges)
            each.push_back(fmt::format("{} from {}", off_by(r.ratio), stretch(r)));
        text += listed(each);
    } else {
        text += off_by(c.whole->ratio);
    }
    return text + " against volts times amps. The window is in volts and amps as the meters read them.";
}

std::string efficiency_sentence(const measured::RatioCheck& c) {
    if (!c.whole) return "";
    const measured::Estimate& e = c.whole->ratio;
    return fmt::format("Of what it takes {} % arrive at the battery (95 %: {} to {} %){}.", percent(e.value),
                       percent(e.likely.lower()), percent(e.likely.upper()),
                       c.differs ? ", not alike at every voltage" : "");
}

std::string wall_sentence(const measured::LearnSheet& sheet) {
    const auto e = measured::wall_effect(sheet.window);
    std::size_t beside = 0;
    std::size_t with = 0;
    for (const measured::FittedRow& r : sheet.window.rows) {
        beside += r.use == measured::RowUse::beside_the_wall ? 1U : 0U;
        with += r.row.wall_w && *r.row.wall_w > 0.0 ? 1U : 0U;
    }
    if (e) {
        return fmt::format(
            "While the wall gave {}, it took {} of what it takes without ({} reading{}, {:.0f} to {}). "
            "Those readings are "
            "not part of the window.",
            watts(e->wall_w), per_cent(e->taken_ratio, 0), e->rows, e->rows == 1 ? "" : "s", 100.0 * e->least_ratio,
            per_cent(e->most_ratio, 0));
    }
    if (beside > 0) return fmt::format("{} readings beside a charger on the wall are not part of the window.", beside);
    if (with > 0) {
        return fmt::format(
            "The wall gave something in {} of the readings, and too few are without: this is the window beside it.",
            with);
    }
    return "";
}

std::string_view words_of(Protection p) {
    static constexpr Names names{
        Name{Protection::start, "starts"},
        Name{Protection::current, "limits current"},
        Name{Protection::power, "limits power"},
        Name{Protection::trip, "trips"},
        Name{Protection::said_error, "says an error"},
        Name{Protection::recovery, "comes back by itself"},
    };
    return name_in(names, p);
}

std::string seen_text(const ProtectionCheck& c) {
    if (c.what == Protection::recovery && c.said) {
        return c.result == ProtectionResult::not_pass ? "no, as noted" : "yes, as noted, without a voltage";
    }
    if (!c.value) return "not seen";
    if (c.what == Protection::said_error) return fmt::format("at {}, line {}", volts(*c.value), c.line);
    if (c.between_v) return fmt::format("{} … {}", volts(c.between_v->lower()), volts(c.between_v->upper()));
    return c.what == Protection::power ? watts(*c.value) : amps(*c.value);
}

std::string printed_text(const ProtectionCheck& c) {
    if (!c.printed_value) return "";
    return c.what == Protection::power     ? watts(*c.printed_value)
           : c.what == Protection::current ? amps(*c.printed_value)
                                           : volts(*c.printed_value);
}

std::string why(const measured::NextReading& n) {
    const std::string gap = fmt::format("between {} and {}", volts(n.between_v.lower()), volts(n.between_v.upper()));
    switch (n.reason) {
        case ReadingReason::start:
            return fmt::format("it begins to take {}, and nothing tells where", gap);
        case ReadingReason::stop:
            return fmt::format("it ceases {}, and nothing tells where", gap);
        case ReadingReason::step:
            return fmt::format("what it takes changes {}, and nothing tells where", gap);
        case ReadingReason::trip:
            return fmt::format("it trips {}, and nothing tells where", gap);
        case ReadingReason::recovery:
            return fmt::format("it comes back {}, and nothing tells where", gap);
        case ReadingReason::level:
            return fmt::format("one more reading of what it takes {} narrows that figure most", gap);
        case ReadingReason::unseen:
            return fmt::format("{} nobody measured, and it is inside the printed window", gap);
    }
    return "";
}

}  // namespace

std::string_view name_of(ReadingReason reason) {
    static constexpr Names names{
        Name{ReadingReason::start, "start"},       Name{ReadingReason::stop, "stop"},
        Name{ReadingReason::step, "step"},         Name{ReadingReason::trip, "trip"},
        Name{ReadingReason::recovery, "recovery"}, Name{ReadingReason::level, "level"},
        Name{ReadingReason::unseen, "unseen"},
    };
    return name_in(names, reason);
}

std::string_view name_of(measured::PlanReason reason) {
    static constexpr Names names{
        Name{measured::PlanReason::below_start, "below the start"},
        Name{measured::PlanReason::start, "just above the start"},
        Name{measured::PlanReason::band, "a band's current"},
        Name{measured::PlanReason::band_edge, "beside a band's edge"},
        Name{measured::PlanReason::power_takes_over, "where power takes over"},
        Name{measured::PlanReason::power, "the power limit"},
        Name{measured::PlanReason::top, "the top"},
        Name{measured::PlanReason::down, "on the way down"},
    };
    return name_in(names, reason);
}

std::string_view name_of(Protection p) {
    static constexpr Names names{
        Name{Protection::start, "start"},           Name{Protection::current, "current-limit"},
        Name{Protection::power, "power-limit"},     Name{Protection::trip, "trip"},
        Name{Protection::said_error, "said-error"}, Name{Protection::recovery, "recovery"},
    };
    return name_in(names, p);
}

std::string_view name_of(ProtectionResult result) {
    static constexpr Names names{
        Name{ProtectionResult::pass, "pass"},
        Name{ProtectionResult::not_pass, "not-pass"},
        Name{ProtectionResult::seen, "seen"},
        Name{ProtectionResult::not_seen, "not-seen"},
    };
    return name_in(names, result);
}

std::vector<std::string> instruments_said(const measured::LearnSheet& sheet) {
    std::vector<std::string> all;
    for (std::string line : {display_sentence(sheet, measured::display_against_meter(sheet.window)),
                             efficiency_sentence(measured::battery_efficiency(sheet.window)), wall_sentence(sheet)}) {
        if (!line.empty()) all.push_back(std::move(line));
    }
    return all;
}

Table instruments_table(const measured::LearnSheet& sheet) {
    Table table = table_of("Beside the window, stretch by stretch", {"", "volts", "#readings", "#share", "95 %"});
    const auto add = [&](const char* what, const measured::RatioCheck& c) {
        for (const measured::RatioRange& r : c.ranges) {
            table.rows.push_back(
                {{what, stretch(r), fmt::format("{}", r.rows), percent(r.ratio.value) + " %",
                  fmt::format("{} … {} %", percent(r.ratio.likely.lower()), percent(r.ratio.likely.upper()))}});
        }
    };
    const measured::RatioCheck display = measured::display_against_meter(sheet.window);
    if (!display.worked_out || sheet.display_named) add(sheet.display_named ? "display" : "watts noted", display);
    add("at the battery", measured::battery_efficiency(sheet.window));
    return table;
}

std::vector<ProtectionCheck> protections_of(const measured::LearnSheet& sheet) {
    return measured::protections_of(sheet.window, sheet.compared, sheet.recovered, usual_meters_ratio);
}

Table protection_table(const measured::LearnSheet& sheet) {
    const bool printed = sheet.controller.has_value();
    Table table = printed ? table_of("Protections, one by one", {"", "seen", "#printed", "result"})
                          : table_of("Protections, one by one", {"", "seen"});
    for (const ProtectionCheck& c : protections_of(sheet)) {
        std::vector<std::string> cells{std::string(words_of(c.what)), seen_text(c)};
        if (printed) {
            cells.push_back(printed_text(c));
            cells.emplace_back(c.result == ProtectionResult::pass       ? "pass"
                               : c.result == ProtectionResult::not_pass ? "not pass"
                                                                        : "");
        }
        table.rows.push_back({std::move(cells)});
    }
    return table;
}

std::vector<measured::NextReading> next_readings_of(const measured::LearnSheet& sheet) {
    return measured::next_readings(sheet.window, sheet.controller ? &*sheet.controller : nullptr, sheet.printed());
}

std::vector<std::string> next_sentences(const measured::LearnSheet& sheet) {
    std::vector<std::string> all;
    for (const measured::NextReading& n : next_readings_of(sheet)) {
        all.push_back(fmt::format("Measure at {}{}: {}.", setting(n.voltage_v),
                                  n.falling ? ", coming down from above" : "", why(n)));
    }
    return all;
}

}  // namespace plait::output
