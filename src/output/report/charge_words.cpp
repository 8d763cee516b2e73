#include "charge_words.hpp"

#include "harvest_words.hpp"
#include "parts_of_reports.hpp"
#include "render/display_width.hpp"
#include "render/style.hpp"

#include <plait/base/civil_date.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace plait::output {
namespace {

using study::ChargeLimit;
using study::ChargeSheet;
using study::HarvestLoss;
using study::Skies;

double limited_h(const study::BatteryRun& run, ChargeLimit limit) {
    return run.limited_h[static_cast<std::size_t>(limit)];
}

std::string duration_words(double h) {
    const auto minutes = static_cast<long>(std::lround(60.0 * h));
    if (minutes < 60) return fmt::format("{} min", minutes);
    return minutes % 60 == 0 ? fmt::format("{} h", minutes / 60) : fmt::format("{} h {:02d} min", minutes / 60, minutes % 60);
}

/// "on a clear 21 June"
std::string sky_words(const ChargeSheet& s) {
    switch (s.skies) {
        case Skies::clear:
            return "on a clear " + day_words(s, s.day);
        case Skies::monthly:
            return fmt::format("on a {} with the month’s mean light", day_words(s, s.day));
        case Skies::typical:
            return fmt::format("on {} of the typical year", day_words(s, s.day));
        case Skies::measured:
            return "on " + day_words(s, s.day);
    }
    return "";
}

std::string start_words(const ChargeSheet& s) {
    return fmt::format("From {} at {} {}", charge_words(s.ask.from_ratio), time_of_day(s.start_h), sky_words(s));
}

/// What comes of the first day if it is not reached.
std::string best_words(const ChargeSheet& s) {
    const study::HighestCharge best = s.first_day.highest();
    if (!(best.after_h > 0.0)) return "it does not rise at all";
    return fmt::format("{} at most, at {}", per_cent(best.charge_ratio, 0), time_of_day(s.clock_h(best.after_h)));
}

/// Ranges of months, "March to October, December".
std::string month_ranges(const std::vector<int>& months) {
    std::vector<std::string> ranges;
    for (std::size_t i = 0; i < months.size();) {
        std::size_t end = i;
        while (end + 1 < months.size() && months[end + 1] == months[end] + 1) ++end;
        const std::string_view first = month_name(months[i]);
        const std::string_view last = month_name(months[end]);
        ranges.push_back(i == end ? std::string(first) : fmt::format("{} {} {}", first, end == i + 1 ? "and" : "to", last));
        i = end + 1;
    }
    return joined(ranges, months.size() == 2 ? " and " : ", ");
}

}  // namespace

std::string day_words(const ChargeSheet& sheet, int day) {
    const CivilDate date = date_of(day);
    const std::string_view month = month_name(month_of(date));
    return sheet.skies == Skies::measured ? fmt::format("{} {} {}", day_of(date), month, year_of(date))
                                          : fmt::format("{} {}", day_of(date), month);
}

std::string charge_words(double ratio) { return ratio >= 1.0 ? std::string("full") : per_cent(ratio, 0); }

std::string limit_words(const ChargeSheet& sheet, ChargeLimit limit) {
    const Storage& s = sheet.storage;
    switch (limit) {
        case ChargeLimit::idle:
            return "nothing is left over";
        case ChargeLimit::offer:
            return s.wall ? "all that is offered" : "all the sun offers";
        case ChargeLimit::rate:
            return fmt::format("its charge power, {}", watts(s.charge_limit_w.value_or(0.0)));
        case ChargeLimit::combined:
            return fmt::format("sun and wall together, {}", watts(s.wall && s.wall->combined_w ? *s.wall->combined_w : 0.0));
        case ChargeLimit::taper:
            return "near full, less and less";
        case ChargeLimit::full:
            return "full, the rest turned away";
        case ChargeLimit::cold:
            return fmt::format("too cold, below {}", degrees(s.coldest_charging));
    }
    return "";
}

std::string charge_answer(const ChargeSheet& s) {
    const std::string goal = charge_words(s.ask.to_ratio);
    const std::string start = start_words(s);
    if (s.target_h() && s.days_later() == 0) {
        return fmt::format("{}: {} at {}, {} later.", start, goal, time_of_day(s.target_time_h()), duration_words(*s.target_h()));
    }
    std::string out = fmt::format("{}: not {} that day; {}.", start, goal, best_words(s));
    if (s.target_h()) {
        return out + fmt::format(" {} on day {}, {}, at {}.", s.ask.to_ratio >= 1.0 ? "Full" : goal, s.days_later() + 1,
                                 day_words(s, s.day + s.days_later()), time_of_day(s.target_time_h()));
    }
    const double days = s.light.covered_days();
    if (days < 1.5) return out;
    return out + fmt::format(" Nor in {:.0f} days: {} is the most it reaches.", days, per_cent(s.run.highest().charge_ratio, 0));
}

std::string sun_alone_sentence(const ChargeSheet& s) {
    if (!s.sun_alone) return "";
    const std::string goal = charge_words(s.ask.to_ratio);
    const auto reached = s.reached(*s.sun_alone);
    if (!reached) return fmt::format("By the sun alone it would not get {} within {} days.", goal,
                                       study::most_charge_days);
    const std::string at = time_of_day(reached->time_h);
    return reached->days_later == 0 ? fmt::format("By the sun alone: {} at {}.", goal, at)
                                    : fmt::format("By the sun alone: {} on day {} at {}.", goal, reached->days_later + 1, at);
}

std::string clock_sentence(const Setup& setup, const ChargeSheet& s) {
    if (!setup.location) return "";
    const CivilDate date = date_of(s.day);
    const double ahead_h = clock_ahead_h(*setup.location, month_of(date), day_of(date)) - setup.location->from_utc_h;
    if (std::abs(ahead_h) < 1e-9) return "";
    return fmt::format("All times are standard time; clocks on summer time then show {} {}.", duration_words(std::abs(ahead_h)),
                       ahead_h > 0.0 ? "more" : "less");
}

std::vector<std::string> charge_warnings(const ChargeSheet& s) {
    std::vector<std::string> out;
    const study::BatteryRun& day = s.first_day;
    if (const double h = limited_h(day, ChargeLimit::cold); h > 0.0) {
        out.push_back(fmt::format("For {} that day the battery is below {} and is not charged: {} of sun are turned away. A "
                                  "lithium battery charged in the cold is damaged for good.",
                                  duration_words(h), degrees(s.storage.coldest_charging),
                                  watt_hours(day.kept_out_wh(ChargeLimit::cold))));
    }
    if (day.unserved_h > 0.0) {
        out.push_back(fmt::format("For {} that day the battery is too low for the loads: {} are not served.",
                                  duration_words(day.unserved_h), watt_hours(day.unserved_wh)));
    }
    return out;
}

std::string plane_sentence(const ChargeSheet& s) {
    if (!s.light.plane_is_assumed) return "";
    const Plane& p = s.light.assumed_plane;
    return fmt::format("No [[plane]] says which way the panels look: {:.0f}° steep and to the {} is assumed, as good as it gets.",
                       p.tilt_deg, p.azimuth_deg < 90.0 ? "north" : "south");
}

std::string turned_away_sentence(const ChargeSheet& s) {
    const study::BatteryRun& day = s.first_day;
    const double offered_wh = day.offered_wh();
    if (!(offered_wh >= 0.5)) return fmt::format("The sun offers nothing after {} that day.", time_of_day(s.start_h));
    std::string out = fmt::format("After {} the sun offers {}", time_of_day(s.start_h), watt_hours(offered_wh));
    if (day.turned_away_wh < 0.5) return out + ", and all of it is taken.";
    std::vector<std::string> why;
    const char* last = "";
    const auto add = [&](double wh, const char* words) {
        if (!(wh >= 0.5)) return;
        why.push_back(fmt::format("{} {}", watt_hours(wh), words));
        last = words;
    };
    add(day.kept_out_wh(ChargeLimit::full), "because it is full");
    add(day.kept_out_wh(ChargeLimit::taper), "because near full it takes less");
    add(day.kept_out_wh(ChargeLimit::rate), "above its charge power");
    add(day.kept_out_wh(ChargeLimit::combined), "because the wall takes its share");
    add(day.kept_out_wh(ChargeLimit::cold), "because it is too cold");
    if (why.size() == 1) return out + fmt::format("; {} are turned away {}.", watt_hours(day.turned_away_wh), last);
    return out + fmt::format("; {} are turned away: {}.", watt_hours(day.turned_away_wh), joined(why, ", "));
}

std::string input_sentence(const ChargeSheet& s) {
    const study::HarvestSum& h = s.harvest.total;
    std::vector<std::string> why;
    for (const HarvestLoss loss : study::losses_after_the_panels) {
        if (study::is_limit(loss) && h.loss_wh(loss) > 0.005 * h.delivered_wh && h.loss_wh(loss) >= 0.5) {
            why.push_back(fmt::format("{} {}", words_of(loss), watt_hours(h.loss_wh(loss))));
        }
    }
    return why.empty() ? "" : fmt::format("Before the battery, limits cost that day: {}.", joined(why, "; "));
}

std::string autonomy_sentence(const ChargeSheet& s) {
    const auto days = study::autonomy_days(s.storage);
    if (!days) return "No loads and no drain are stated: add [[storage.load]], and days without sun are worked out too.";
    const double load_wh = study::daily_load_wh(s.storage);
    const double drain_wh = study::daily_drain_wh(s.storage);
    std::string uses = load_wh > 0.0 ? fmt::format("loads of {} a day", watt_hours(load_wh)) : "";
    if (drain_wh > 0.0) {
        uses += fmt::format("{}{} a day {}", uses.empty() ? "" : " and ", watt_hours(drain_wh),
                            s.own_use_is_drain ? "for the station itself" : "of standing drain");
    }
    const double h = 24.0 * *days;
    const std::string lasts = h < 10.0 ? duration_words(h) : *days < 2.0 ? fmt::format("{:.0f} hours", h) : fmt::format("{:.1f} days", *days);
    return fmt::format("Full, it carries {} for {} without sun or wall.", uses, lasts);
}

std::string months_sentence(const ChargeSheet& s) {
    if (s.months.empty()) return "";
    std::vector<int> always;
    std::vector<int> often;
    std::vector<int> seldom;
    std::vector<int> never;
    for (const study::ChargeMonth& m : s.months) {
        auto& list = m.reached == m.days ? always : 2 * m.reached >= m.days ? often : m.reached > 0 ? seldom : never;
        list.push_back(m.month);
    }
    std::string out = fmt::format("From {} in the morning, {} the same day:", charge_words(s.ask.from_ratio),
                                  charge_words(s.ask.to_ratio));
    if (s.ask.at_h) {
        out = fmt::format("From {} at {}, {} the same day:", charge_words(s.ask.from_ratio), time_of_day(*s.ask.at_h),
                          charge_words(s.ask.to_ratio));
    }
    if (always.size() == 12) return out + (s.skies == Skies::clear ? " on every clear day of the year." : " on every day of the year.");
    if (never.size() == s.months.size()) return out + " never.";
    const char* separator = " ";
    const auto add = [&](const std::vector<int>& list, const char* words) {
        if (list.empty()) return;
        out += fmt::format("{}{} {}", separator, words, month_ranges(list));
        separator = "; ";
    };
    add(always, s.skies == Skies::clear ? "on every clear day in" : "on every day in");
    add(often, "on most days in");
    add(seldom, "on few days in");
    add(never, "never in");
    return out + ".";
}

std::vector<std::string> charge_basis(const Setup& setup, const ChargeSheet& s) {
    std::vector<std::string> out;
    switch (s.skies) {
        case Skies::clear:
            out.emplace_back("There is no weather file: the sky is clear all day, as seldom as that is. On a cloudy day the "
                             "panels give a tenth to a half of it; `--weather FILE` takes real days (docs/weather.md).");
            break;
        case Skies::monthly:
            out.emplace_back("There is no weather file: one day has the mean light that [site] states for its month; a month has clear and "
                             "dull days in the usual shares. `--weather FILE` takes real days (docs/weather.md).");
            break;
        case Skies::typical:
        case Skies::measured:
            out.push_back(fmt::format("The light is that of {}.", s.light.name.empty() ? "the weather file" : s.light.name));
            break;
    }
    if (s.own_use_is_drain) out.emplace_back("The station’s own use of [losses] is counted as the battery’s drain.");
    if (s.dark_intervals > 0) {
        out.push_back(fmt::format("{} of that day have no light in the file and count as dark.",
                                  counted(s.dark_intervals, "interval", "intervals")));
    }
    if (!setup.climate.mean_air_degc && (s.skies == Skies::clear || s.skies == Skies::monthly)) {
        out.push_back(fmt::format("The air is at {} all year, [site] warm_air: add monthly_air, so that cold cells and a cold "
                                  "battery are seen.",
                                  degrees(setup.site.warm_air)));
    }
    // The station's own use is the battery's drain here, and said by itself.
    study::UnstatedLosses unstated = s.harvest.unstated;
    unstated.own_use = false;
    std::vector<std::string> missing = unstated_words(unstated);
    if (!(s.storage.charge_efficiency_ratio < 1.0)) missing.emplace_back("the battery’s losses");
    if (!s.storage.taper_from_ratio) missing.emplace_back("a taper near full");
    if (!missing.empty()) {
        out.push_back(fmt::format("Not stated, so not counted: {}. Each of them makes it later (docs/input.md).", listed(missing)));
    }
    out.insert(out.end(), s.light.notes.begin(), s.light.notes.end());
    return out;
}

Table span_table(const ChargeSheet& s) {
    Table table = table_of(fmt::format("{}, from {} to midnight", day_words(s, s.day), time_of_day(s.start_h)),
                           {"from … to", "#sun offers", "#taken", "#charge", "what mostly sets the pace"});
    if (s.storage.wall) table.columns.insert(table.columns.begin() + 3, {"wall", true});
    for (const study::ChargeSpan& span : s.spans) {
        Table::Row row{{fmt::format("{} … {}", time_of_day(span.from_h), time_of_day(span.to_h)), watt_hours(span.offered_wh),
                        watt_hours(span.solar_used_wh), per_cent(span.end_ratio, 0), limit_words(s, span.limit)}};
        if (s.storage.wall) row.cells.insert(row.cells.begin() + 3, watt_hours(span.wall_wh));
        table.rows.push_back(std::move(row));
    }
    return table;
}

Table energy_table(const ChargeSheet& s) {
    Table table = table_of(fmt::format("The energy of {}", day_words(s, s.day)), {"what", "#energy"});
    const auto add = [&](std::string what, double wh, bool sum = false) {
        // Below half a watt-hour a line says nothing.
        if (!sum && std::abs(wh) < 0.5) return;
        Table::Row row{{std::move(what), watt_hours(wh)}};
        row.sum = sum;
        table.rows.push_back(std::move(row));
    };
    const study::HarvestSum& h = s.harvest.total;
    add("the panels could give, each at its best", h.from_panels_wh(), true);
    for (const HarvestLoss loss : study::losses_after_the_panels) add(std::string(words_of(loss)), -h.loss_wh(loss));
    const study::BatteryRun& run = s.first_day;
    add(fmt::format("before {}, when this begins", time_of_day(s.start_h)), -s.offered_before_wh());
    add("the sun offers to loads and battery", run.offered_wh(), true);
    add("turned away: full", -run.kept_out_wh(ChargeLimit::full));
    add("turned away: above the charge power, or near full",
        -run.kept_out_by_pace_wh());
    add("turned away: the wall took its share", -run.kept_out_wh(ChargeLimit::combined));
    add("turned away: too cold to charge", -run.kept_out_wh(ChargeLimit::cold));
    add("from the wall", run.wall_wh);
    add("into loads and battery", run.taken_wh(), true);
    add("loads", -run.load_wh);
    add("lost in charging and discharging", -run.lost_wh());
    add("standing drain", -run.drain_wh);
    add("change of the battery’s charge", run.gained_wh(s.storage.capacity_wh), true);
    return table;
}

Table interval_table(const ChargeSheet& s) {
    Table table = table_of(fmt::format("Every interval of {}; the charge is that at its end", day_words(s, s.day)),
                           {"from", "#sun offers", "#taken", "#wall", "#loads", "#charge", "by"});
    for (std::size_t i = 0; i < s.first_day.steps.size(); ++i) {
        const study::BatteryStep& step = s.first_day.steps[i];
        table.rows.push_back({{time_of_day(s.clock_h(step.from_h)), watts(s.offered_w[s.first + i]), watts(step.solar_used_w), watts(step.wall_w),
                               watts(step.load_w), per_cent(step.charge_ratio, 1), std::string(study::name_of(step.limit))}});
    }
    return table;
}

Table month_table(const ChargeSheet& s) {
    Table table = table_of(fmt::format("Each day by itself, from {} to {}", charge_words(s.ask.from_ratio),
                                       charge_words(s.ask.to_ratio)),
                           {"a day of", "#days", "#reached", "#usually at", "#up to", "#sun offers", "#turned away"});
    for (const study::ChargeMonth& m : s.months) {
        table.rows.push_back({{std::string(month_name(m.month)), fmt::format("{}", m.days),
                               fmt::format("{}", m.reached), m.usual_h ? time_of_day(*m.usual_h) : std::string("–"),
                               per_cent(m.middle_highest_ratio, 0), watt_hours(m.mean_offered_wh),
                               watt_hours(m.mean_turned_away_wh)}});
    }
    return table;
}

}  // namespace plait::output
