#include "harvest_words.hpp"

#include "arrange_words.hpp"
#include "parts_of_reports.hpp"
#include "render/display_width.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"

#include <plait/base/civil_date.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace plait::output {
namespace {

using study::HarvestLoss;
using study::HarvestPart;
using study::HarvestSheet;
using study::HarvestSpan;
using study::HarvestStep;

constexpr double wh_per_kwh = 1000.0;

std::size_t place(HarvestLoss loss) { return static_cast<std::size_t>(loss); }

/// Energies of one table in one unit.
class EnergyColumn {
public:
    explicit EnergyColumn(double most_wh) : in_kwh_(most_wh >= 10000.0) {}
    [[nodiscard]] std::string heading(const char* what) const { return fmt::format("#{}, {}", what, in_kwh_ ? "kWh" : "Wh"); }
    [[nodiscard]] std::string operator()(double wh) const {
        const double shown = in_kwh_ ? wh / wh_per_kwh : wh;
        const int digits = in_kwh_ ? 1 : 0;
        const double least = in_kwh_ ? 0.05 : 0.5;
        return rules::with_minus_sign(fmt::format("{:.{}f}", std::abs(shown) < least ? 0.0 : shown, digits));
    }

private:
    bool in_kwh_;
};

std::string hours_words(double hours) {
    return fmt::format("{:.{}f} h", hours, hours < 10.0 && hours != std::floor(hours) ? 1 : 0);
}

/// The limits that took something, the most first.
std::vector<HarvestLoss> limits_of(const study::HarvestSum& sum) {
    std::vector<HarvestLoss> limits;
    for (std::size_t i = 0; i < study::harvest_loss_count; ++i) {
        const auto loss = static_cast<HarvestLoss>(i);
        if (study::is_limit(loss) && sum.loss_wh(loss) > 1e-9 * sum.ideal_wh) limits.push_back(loss);
    }
    std::stable_sort(limits.begin(), limits.end(), [&](HarvestLoss a, HarvestLoss b) { return sum.loss_wh(a) > sum.loss_wh(b); });
    return limits;
}

std::string limits_sentence(const HarvestSheet& s) {
    const study::HarvestSum& total = s.harvest.total;
    const HarvestPart whole = s.whole();
    const std::vector<HarvestLoss> limits = limits_of(total);
    // The sun of a whole month spread over all its days never reaches what a clear noon does.
    const std::string hidden = s.dimmed && s.period.span == HarvestSpan::day
                                   ? " This is the mean day of the month: on a clear one limits take more, which the first line counts."
                                   : "";
    if (limits.empty() || !(whole.possible_wh > 0.0)) return "No limit takes anything of what the panels give in this light." + hidden;
    const std::string share = fmt::format("{} of what the panels could give", clipped_words(whole.limited_ratio()));
    const auto one = [&](HarvestLoss limit) {
        return fmt::format("{} in {}", watt_hours(s.usual_wh_or_h(total.loss_wh(limit))),
                           hours_words(s.usual_wh_or_h(s.harvest.limited_h[place(limit)])));
    };
    if (limits.size() == 1) {
        return fmt::format("One limit costs something, the {}: {}, {}.", words_of(limits[0]), one(limits[0]), share) + hidden;
    }
    constexpr std::size_t most = 3;
    std::string text;
    for (std::size_t i = 0; i < std::min(most, limits.size()); ++i) {
        text += fmt::format("{}{} {}", i == 0 ? "" : "; ", words_of(limits[i]), one(limits[i]));
    }
    if (limits.size() > most) text += fmt::format("; and {} more", limits.size() - most);
    return fmt::format("Limits cost {}, {}: {}.", watt_hours(s.usual_wh_or_h(whole.limited_wh)), share, text) + hidden;
}

/// The limit that held most hours of a part; empty where none did.
std::string mostly(const HarvestPart& part) {
    const auto most = std::max_element(part.limited_h.begin(), part.limited_h.end());
    if (!(*most > 0.0)) return "";
    return std::string(words_of(static_cast<HarvestLoss>(most - part.limited_h.begin())));
}

HarvestPart joined(const std::vector<HarvestPart>& parts, std::size_t from, std::size_t to) {
    HarvestPart sum = parts[from];
    for (std::size_t i = from + 1; i < to; ++i) sum.add(parts[i]);
    return sum;
}

/// The same day of several years is one row.
std::vector<HarvestPart> by_day_of_month(const std::vector<HarvestPart>& parts) {
    std::array<std::vector<HarvestPart>, 31> days;
    for (const HarvestPart& p : parts) days[static_cast<std::size_t>(day_of(date_of(p.first_day)) - 1)].push_back(p);
    std::vector<HarvestPart> out;
    for (const std::vector<HarvestPart>& day : days) {
        if (!day.empty()) out.push_back(joined(day, 0, day.size()));
    }
    return out;
}

/// "365 days", "3 hours"
std::string length_words(double days) {
    const bool hours = days < 0.99;
    return counted(static_cast<std::size_t>(std::lround(hours ? 24.0 * days : days)), hours ? "hour" : "day", hours ? "hours" : "days");
}

/// A note of the reader's as a sentence.
std::string sentence(std::string note) {
    if (!note.empty() && note.front() >= 'a' && note.front() <= 'z') note.front() = static_cast<char>(note.front() - 'a' + 'A');
    if (!note.empty() && note.back() != '.') note += '.';
    return note;
}

std::string highest_sentence(const HarvestSheet& s) {
    const auto most = std::max_element(s.harvest.delivered_w.begin(), s.harvest.delivered_w.end());
    if (most == s.harvest.delivered_w.end() || !(*most > 0.0)) return "";
    const study::LightHour& hour = s.light.hours[static_cast<std::size_t>(most - s.harvest.delivered_w.begin())];
    return fmt::format("; at most {:.0f} W, from {}", *most, time_of_day(std::floor(hour.local_h + 1e-6)));
}

}  // namespace

std::string period_words(const study::HarvestPeriod& p) {
    const std::string year = p.year ? fmt::format(" {}", *p.year) : std::string();
    switch (p.span) {
        case HarvestSpan::year:
            return p.year ? fmt::format("{}", *p.year) : std::string("a year");
        case HarvestSpan::month:
            return std::string(month_name(p.month)) + year;
        case HarvestSpan::day:
            return fmt::format("{} {}{}", p.day, month_name(p.month), year);
    }
    return "";
}

std::string_view words_of(HarvestLoss loss) {
    static constexpr std::array<std::string_view, study::harvest_loss_count> words{
        "shade and horizon", "reflected by the glass", "soiling", "snow", "ageing", "warm cells and weak light",
        "unlike panels or light tied together", "cables", "too little voltage to start", "array below the input's voltages",
        "array above the input's voltages", "edge of a band", "current limit", "power limit", "battery's charge current",
        "held at the battery's voltage", "limit on all inputs together", "conversion"};
    return words[place(loss)];
}

std::string plane_words(const Plane& plane) {
    static constexpr std::array<std::string_view, 16> ways{
        "north", "north-north-east", "north-east", "east-north-east", "east", "east-south-east", "south-east", "south-south-east",
        "south", "south-south-west", "south-west", "west-south-west", "west", "west-north-west", "north-west", "north-north-west"};
    if (plane.tilt_deg < 0.5) return "flat";
    const double wind = plane.azimuth_deg / 22.5;
    const bool named = std::abs(wind - std::round(wind)) < 0.01;
    return fmt::format("{}, {:.0f}° steep",
                       named ? std::string(ways[static_cast<std::size_t>(std::lround(wind)) % 16]) : fmt::format("{:.0f}°", plane.azimuth_deg),
                       plane.tilt_deg);
}

std::string clear_days_sentence(const study::ClearDays& days) {
    return fmt::format("A clear day brings {} in June, {} in December (`plait harvest`).", watt_hours(days.june_wh),
                       watt_hours(days.december_wh));
}

std::string over_words(const study::HarvestPeriod& period) {
    return (period.span == HarvestSpan::day ? "on " : "in ") + period_words(period);
}

std::string_view weather_words(const EnergyTime& time) {
    return time.from_file ? "by the weather file" : time.dimmed ? "the site's monthly light" : "clear days";
}

std::vector<std::string> harvest_answer(const Setup& setup, const HarvestSheet& s) {
    const double delivered_wh = s.harvest.total.delivered_wh;
    const std::string a_day = watt_hours(s.per_day_wh());
    std::vector<std::string> out;
    switch (s.period.span) {
        case HarvestSpan::day:
            out.push_back(fmt::format("It delivers {} on {}{}.", watt_hours(delivered_wh), period_words(s.period), highest_sentence(s)));
            break;
        case HarvestSpan::month:
            out.push_back(fmt::format("It delivers {} in {}: {} a day.", watt_hours(delivered_wh), period_words(s.period), a_day));
            break;
        case HarvestSpan::year: {
            const std::vector<HarvestPart> months = study::parts_of(s.light, s.harvest, HarvestStep::month);
            const auto per_day = [](const HarvestPart& a, const HarvestPart& b) {
                return a.mean_w() < b.mean_w();
            };
            const auto [least, most] = std::minmax_element(months.begin(), months.end(), per_day);
            const bool short_of = s.light.covered_days() < 360.0;
            const std::string span = short_of ? fmt::format("over the {} of the weather file", length_words(s.light.covered_days()))
                                     : s.period.year ? fmt::format("in {}", *s.period.year)
                                                     : std::string("in a year");
            const auto month = [](const HarvestPart& m) {
                return fmt::format("{} in {}", watt_hours(m.per_day_wh()), month_name(month_of(date_of(m.first_day))));
            };
            if (s.light.covered_days() < 0.99) {
                out.push_back(fmt::format("It delivers {} {}.", watt_hours(delivered_wh), span));
                break;
            }
            out.push_back(fmt::format("It delivers {} {}: {} a day{}.", watt_hours(s.usual_wh_or_h(delivered_wh)), span, a_day,
                                      months.size() > 1 ? fmt::format("; {}, {}", month(*most), month(*least)) : std::string()));
            break;
        }
    }
    out.push_back(limits_sentence(s));
    if (setup.losses.own_use_w) {
        out.push_back(fmt::format("The station's own use, {:.0f} W day and night, takes {} of that: {} are left.", *setup.losses.own_use_w,
                                  watt_hours(s.usual_wh_or_h(s.harvest.own_use_wh)), watt_hours(s.usual_wh_or_h(s.harvest.net_wh()))));
    }
    return out;
}

std::vector<std::string> unstated_words(const study::UnstatedLosses& u) {
    std::vector<std::string> out;
    for (const auto& [absent, words] :
         {std::pair(u.shade, "shade (no horizon)"), std::pair(u.soiling, "soiling"), std::pair(u.snow, "snow"),
          std::pair(u.ageing, "ageing"), std::pair(u.cables, "cables"), std::pair(u.conversion, "conversion to the battery"),
          std::pair(u.own_use, "the station's own use")}) {
        if (absent) out.emplace_back(words);
    }
    return out;
}

std::string not_counted_sentence(const study::UnstatedLosses& unstated) {
    const std::vector<std::string> words = unstated_words(unstated);
    return words.empty() ? "" : fmt::format("Not counted, because the set-up does not state it: {}.", listed(words));
}

std::vector<std::string> harvest_basis(const Setup& setup, const HarvestSheet& s) {
    std::vector<std::string> out;
    if (s.from_file) {
        out.push_back(fmt::format("Weather: {}, {}{}.", s.light.name.empty() ? "the file" : s.light.name, length_words(s.light.covered_days()),
                                  s.light.covered_days() > 366.5 && s.period.span == HarvestSpan::year ? "; a year is their mean" : ""));
    } else if (s.dimmed) {
        out.emplace_back(s.period.span == HarvestSpan::day
                             ? "Weather: a clear day dimmed to the month's mean light. `--weather FILE` has days as they were."
                             : "Weather: the site's monthly light, as clear and dull days in the shares that are usual for such a month "
                               "(Bendt, Collares-Pereira and Rabl 1981). Within a day clouds do not come and go: `--weather FILE` counts those.");
    } else {
        out.emplace_back("Weather: every day clear, the most there can be. State `daily_light` under [site], or give `--weather FILE`.");
    }
    if (s.light.plane_is_assumed) {
        out.push_back(fmt::format("Panels: no [[plane]] is stated; {} is assumed. State it: it matters.", plane_words(s.light.assumed_plane)));
    } else {
        std::string planes;
        for (const Plane& p : setup.planes) planes += fmt::format("{}{} ({})", planes.empty() ? "" : "; ", p.name, plane_words(p));
        out.push_back(fmt::format("Panels: on {}.", planes));
    }
    if (!s.from_file && !setup.climate.mean_air_degc) {
        out.push_back(fmt::format("Air: {} all year, as `monthly_air` is not stated.", degrees(setup.site.warm_air)));
    }
    if (s.light.unknown > 0) {
        out.push_back(fmt::format("Of {} the weather has no light; they count for nothing.",
                                  hours_words(s.light.unknown_h())));
    }
    if (s.light.filled > 0) {
        out.push_back(fmt::format("{} without light by day were filled from the hours beside them.",
                                  hours_words(s.light.filled_h())));
    }
    for (const std::string& note : s.light.notes) out.push_back(sentence(note));
    out.push_back(fmt::format("Models: sky {}, glass {}, warmth {}, curve {} (docs/sun.md).",
                              plait::name_of(setup.light_models.sky), plait::name_of(setup.light_models.incidence),
                              plait::name_of(s.light.warming), plait::name_of(setup.curve_method)));
    return out;
}

Table harvest_parts_table(const HarvestSheet& s, bool brief) {
    const HarvestSpan span = s.period.span;
    std::vector<HarvestPart> parts = study::parts_of(
        s.light, s.harvest,
        span == HarvestSpan::year ? HarvestStep::month : span == HarvestSpan::month ? HarvestStep::day : HarvestStep::hour);
    if (span == HarvestSpan::day) {
        const auto dark = [](const HarvestPart& p) { return p.possible_wh < 0.5; };
        parts.erase(std::remove_if(parts.begin(), parts.end(), dark), parts.end());
    }
    if (span == HarvestSpan::month) parts = by_day_of_month(parts);
    constexpr std::size_t most = 12;
    std::size_t at_once = 1;
    if (brief && parts.size() > most) at_once = span == HarvestSpan::day ? 2 : 10;
    std::vector<HarvestPart> rows;
    std::vector<std::string> names;
    for (std::size_t i = 0; i < parts.size();) {
        std::size_t end = std::min(parts.size(), i + at_once);
        if (span == HarvestSpan::day && at_once == 2) {
            // Blocks begin at even hours.
            end = i + 1;
            if (end < parts.size() && std::fmod(parts[i].from_h, 2.0) == 0.0 && parts[end].from_h == parts[i].from_h + 1.0) ++end;
        } else if (at_once > 1 && parts.size() - end < 3) {
            end = parts.size();  // the 31st goes with the last days
        }
        rows.push_back(joined(parts, i, end));
        const CivilDate first = date_of(parts[i].first_day);
        if (span == HarvestSpan::year) {
            names.emplace_back(month_name(month_of(first)));
        } else if (span == HarvestSpan::month) {
            const int from = day_of(first);
            const int to = day_of(date_of(parts[end - 1].first_day));
            names.push_back(from == to ? fmt::format("{}", from) : fmt::format("{} to {}", from, to));
        } else {
            names.push_back(fmt::format("{} to {}", time_of_day(parts[i].from_h), time_of_day(parts[end - 1].from_h + 1.0)));
        }
        i = end;
    }
    double most_wh = 0.0;
    for (const HarvestPart& row : rows) most_wh = std::max(most_wh, s.usual_wh_or_h(row.possible_wh));
    const EnergyColumn energy(most_wh);
    const bool days = span != HarvestSpan::day;
    Table table = table_of(span == HarvestSpan::year ? "By month" : span == HarvestSpan::month ? "By day" : "By hour of standard time",
                           {"", energy.heading("possible"), energy.heading("limits"), energy.heading("delivered"),
                            days ? "#a day" : "#mean", "mostly by"});
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const HarvestPart& row = rows[i];
        table.rows.push_back({{names[i], energy(s.usual_wh_or_h(row.possible_wh)), energy(s.usual_wh_or_h(row.limited_wh)), energy(s.usual_wh_or_h(row.delivered_wh)),
                               days ? watt_hours(row.per_day_wh()) : fmt::format("{:.0f} W", row.mean_w()),
                               mostly(row)}});
    }
    return table;
}

Table harvest_half_years(const HarvestSheet& s) {
    const std::vector<HarvestPart> months = study::parts_of(s.light, s.harvest, HarvestStep::month);
    Table table = table_of("What a day brings, by month", {"", "#a day", "#limits take", "", "#a day", "#limits take"});
    const auto cells = [&](const HarvestPart& m) {
        return std::vector<std::string>{std::string(month_name(month_of(date_of(m.first_day)))), watt_hours(m.per_day_wh()),
                                        m.limited_wh > 0.0 ? clipped_words(m.limited_ratio()) : std::string("nothing")};
    };
    const std::size_t half = (months.size() + 1) / 2;
    for (std::size_t i = 0; i < half; ++i) {
        std::vector<std::string> row = cells(months[i]);
        const std::vector<std::string> later = i + half < months.size() ? cells(months[i + half]) : std::vector<std::string>(3);
        row.insert(row.end(), later.begin(), later.end());
        table.rows.push_back({std::move(row)});
    }
    return table;
}

Table harvest_account_table(const HarvestSheet& s) {
    const study::HarvestSum& total = s.harvest.total;
    const EnergyColumn energy(s.usual_wh_or_h(total.ideal_wh));
    Table table = table_of("From the label to the battery", {"", energy.heading("energy"), "#%", "#hours"});
    const auto share = [&](double wh) { return total.ideal_wh > 0.0 ? per_cent(total.share_of_ideal_ratio(wh)) : std::string(); };
    table.rows.push_back({{"rating in the light on the planes", energy(s.usual_wh_or_h(total.ideal_wh)), share(total.ideal_wh), ""}});
    for (std::size_t i = 0; i < study::harvest_loss_count; ++i) {
        const double wh = total.lost_wh[i];
        if (std::abs(wh) <= 1e-9 * total.ideal_wh) continue;
        const double hours = s.usual_wh_or_h(s.harvest.limited_h[i]);
        table.rows.push_back({{fmt::format("− {}", words_of(static_cast<HarvestLoss>(i))), energy(s.usual_wh_or_h(-wh)), share(-wh),
                               hours > 0.0 ? hours_words(hours) : std::string()}});
    }
    table.rows.push_back({{"= delivered", energy(s.usual_wh_or_h(total.delivered_wh)), share(total.delivered_wh), ""}, {}, {}, true});
    return table;
}

Table harvest_inputs_table(const Setup& setup, const HarvestSheet& s) {
    Table table = table_of("Input by input, before limits on all together and conversion",
                           {"", "#takes", "#running", "#highest", "limits"});
    for (const study::InputHarvest& one : s.harvest.inputs) {
        std::string limits;
        for (const HarvestLoss loss : limits_of(one.sum)) {
            limits += fmt::format("{}{} {} in {}", limits.empty() ? "" : "; ", words_of(loss), watt_hours(s.usual_wh_or_h(one.sum.loss_wh(loss))),
                                  hours_words(s.usual_wh_or_h(one.limited_h[place(loss)])));
        }
        table.rows.push_back({{setup.controller.inputs[one.input].name, watt_hours(s.usual_wh_or_h(one.sum.delivered_wh)), hours_words(s.usual_wh_or_h(one.running_h)),
                               watts(one.highest_w), limits.empty() ? "none" : limits}});
    }
    return table;
}

std::vector<std::string> gain_sentences(const Setup& setup, const HarvestSheet& s, const study::Verdict& verdict,
                                        const search::HarvestGains& gains) {
    const auto more = [&](double wh) {
        const search::Gain gain = gains.gain(wh);
        return fmt::format("{} more{}", watt_hours(s.usual_wh_or_h(gain.more_wh)),
                           std::isfinite(gain.more_ratio) ? fmt::format(" ({})", per_cent(gain.more_ratio)) : std::string());
    };
    const auto named = [&](const search::GainedPlan& g) {
        return fmt::format("{} ({})", plan_words(setup, g.plan), headline_of(setup, g.verdict));
    };
    std::vector<std::string> out;
    if (!gains.best) {
        out.emplace_back("No wiring of the panels on hand was found that holds: `plait arrange` says what is in the way.");
    } else if (verdict.connection == study::Connection::forbidden) {
        out.push_back(fmt::format("Within the limits: {}; it delivers {}.", named(*gains.best), watt_hours(s.usual_wh_or_h(gains.best->delivered_wh))));
        return out;
    } else if (!gains.best_is_this && gains.gain(gains.best->delivered_wh).more_ratio > search::near_tie_ratio) {
        out.push_back(fmt::format("Another wiring of the panels on hand, {}: {}.", named(*gains.best), more(gains.best->delivered_wh)));
    } else {
        out.push_back(fmt::format("Another wiring: of the best {} within the limits none brings over 1 % more.", gains.tried));
    }
    for (const search::OneMorePanel& one : gains.one_more) {
        const std::string panel = setup.kinds.size() > 1 ? fmt::format("One more '{}'", setup.kinds[one.kind].id) : std::string("One more panel");
        out.push_back(one.gained && gains.gain(one.gained->delivered_wh).more_ratio > search::least_gain_ratio
                          ? fmt::format("{}, wired {}: {}.", panel, named(*one.gained), more(one.gained->delivered_wh))
                          : fmt::format("{}: no wiring that holds brings more with it.", panel));
    }
    if (const search::LargerCable* best = gains.best_cable()) {
        const Cable& cable = setup.cables[best->cable];
        const std::string name = cable.name.empty() ? std::string(plait::name_of(cable.run)) : cable.name;
        out.push_back(gains.gain(best->delivered_wh).more_ratio > search::least_gain_ratio
                          ? fmt::format("A larger cable, {} instead of {} for {}: {}.", size_text(best->size), size_text(cable.size), name,
                                        more(best->delivered_wh))
                          : std::string("A larger cable adds less than 0.1 %, whichever it is."));
    }
    if (!gains.finished) out.emplace_back("The search was stopped early; `--seconds N` gives it more time.");
    return out;
}

}  // namespace plait::output
