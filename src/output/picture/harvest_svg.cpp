// A harvest by the hour of a day and by the month of a year.
#include <plait/base/civil_date.hpp>
#include <plait/output/picture.hpp>
#include <plait/study/harvest_sheet.hpp>

#include "plot_frame.hpp"
#include "render/style.hpp"
#include "report/harvest_words.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace plait::output {
namespace {

using study::HarvestLoss;

constexpr double width = 360.0;
constexpr std::array<std::string_view, 12> month_letters{"J", "F", "M", "A", "M", "J", "J", "A", "S", "O", "N", "D"};

/// A plan that must not be connected says so across what it would deliver.
std::string ended(Svg& svg, const Setup& setup, const study::Verdict& plan, PictureUse use) {
    if (plan.connection == study::Connection::forbidden) svg.across("EXCEEDS");
    return finished(svg, setup, plan, use);
}

/// A line in steps, an interval a step.
std::vector<Spot> steps_of(const Frame& f, const study::LightSeries& light, const std::vector<double>& watts) {
    std::vector<Spot> spots;
    for (std::size_t i = 0; i < light.hours.size(); ++i) {
        spots.push_back(f.at(light.hours[i].local_h, watts[i]));
        spots.push_back(f.at(light.hours[i].local_h + light.step_h, watts[i]));
    }
    return spots;
}

/// Losses that are drawn as one.
struct Group {
    std::string_view name;
    std::string_view css;
    HarvestLoss first;
    HarvestLoss last;
};
constexpr std::array groups{
    Group{"limits of inputs and battery", "band c1", HarvestLoss::not_started, HarvestLoss::shared_limit},
    Group{"panels tied together, cables", "band c3", HarvestLoss::mismatch, HarvestLoss::cables},
    Group{"conversion to the battery", "band c5", HarvestLoss::conversion, HarvestLoss::conversion},
    Group{"warm cells, weak light", "band c2", HarvestLoss::cells, HarvestLoss::cells},
    Group{"shade, glass, soiling, snow, ageing", "band c4", HarvestLoss::shade, HarvestLoss::ageing},
};

double group_wh(const study::HarvestSum& sum, const Group& group) {
    double wh = 0.0;
    for (auto i = static_cast<std::size_t>(group.first); i <= static_cast<std::size_t>(group.last); ++i) wh += sum.lost_wh[i];
    return wh;
}

}  // namespace

std::string harvest_day_svg(const Setup& setup, const study::HarvestSheet& s, const study::Verdict& plan, PictureUse use) {
    Frame f;
    f.width = width - f.left - 10.0;
    f.height = 150.0;
    f.least_v = 24.0;
    f.most_v = 0.0;
    double most_w = 1.0;
    for (std::size_t i = 0; i < s.light.hours.size(); ++i) {
        if (!(s.harvest.possible_w[i] > 0.0)) continue;
        f.least_v = std::min(f.least_v, std::floor(s.light.hours[i].local_h));
        f.most_v = std::max(f.most_v, std::ceil(s.light.hours[i].local_h + s.light.step_h - 1e-9));
        most_w = std::max(most_w, s.harvest.possible_w[i]);
    }
    if (!(f.least_v < f.most_v)) {
        f.least_v = 0.0;
        f.most_v = 24.0;
    }
    f.most_y = 1.1 * most_w;
    std::vector<HarvestLoss> limits;
    for (const std::optional<HarvestLoss>& by : s.harvest.limited_by) {
        if (by && std::find(limits.begin(), limits.end(), *by) == limits.end()) limits.push_back(*by);
    }
    std::vector<std::string> lines;
    for (std::size_t i = 0; i < limits.size(); ++i) {
        lines.push_back(fmt::format("{}  {}: {}", static_cast<char>('a' + static_cast<char>(i)), words_of(limits[i]),
                                    watt_hours(s.harvest.total.loss_wh(limits[i]))));
    }
    const std::string sums = fmt::format("delivered on {}: {}", period_words(s.period), watt_hours(s.harvest.total.delivered_wh));
    std::string description = sums + ".";
    for (const std::string& line : lines) description += " " + line + ";";
    const double band_y = f.bottom() + 32.0;
    const double legend_y = limits.empty() ? f.bottom() + 42.0 : band_y + 42.0;
    Svg svg(width, legend_y + 13.0 * static_cast<double>(lines.size()) + 32.0, "harvest-day", "What a day could bring, and what it brings",
            description);
    draw_axes(svg, f, "hour of standard time", "watts");
    const auto inside = [&](std::vector<Spot> spots) {
        std::vector<Spot> kept;
        for (const Spot& spot : spots) {
            if (spot.x >= f.left - 0.01 && spot.x <= f.right() + 0.01) kept.push_back(spot);
        }
        return kept;
    };
    std::vector<Spot> area = inside(steps_of(f, s.light, s.harvest.possible_w));
    if (!area.empty()) {
        area.push_back({area.back().x, f.bottom()});
        area.push_back({area.front().x, f.bottom()});
        svg.polygon(area, "take");
        svg.polyline(inside(steps_of(f, s.light, s.harvest.possible_w)), "curve");
        svg.polyline(inside(steps_of(f, s.light, s.harvest.delivered_w)), "power");
    }
    for (std::size_t i = 0; i < s.light.hours.size();) {
        const std::optional<HarvestLoss> by = s.harvest.limited_by[i];
        std::size_t end = i + 1;
        while (end < s.light.hours.size() && s.harvest.limited_by[end] == by) ++end;
        if (by) {
            const auto place = std::find(limits.begin(), limits.end(), *by) - limits.begin();
            const double left = f.at(s.light.hours[i].local_h, 0.0).x;
            const double right = f.at(s.light.hours[end - 1].local_h + s.light.step_h, 0.0).x;
            svg.rect({left, band_y}, right - left, 12.0, fmt::format("band c{}", std::min<std::ptrdiff_t>(place, 5)));
            svg.text({0.5 * (left + right), band_y + 22.0}, std::string(1, static_cast<char>('a' + static_cast<char>(place))), "small", "middle");
        }
        i = end;
    }
    double y = legend_y;
    for (const std::string& line : lines) {
        svg.text({6.0, y}, fitting(line, width - 12.0), "small");
        y += 13.0;
    }
    svg.text({6.0, y}, fitting(sums, width - 12.0), "small strong");
    svg.text({6.0, y + 13.0}, "tinted, dashed edge: the panels could give; line: delivered", "small soft");
    if (!limits.empty()) svg.text({6.0, y + 25.0}, "band: hours in which a limit takes something", "small soft");
    return ended(svg, setup, plan, use);
}

std::string harvest_year_svg(const Setup& setup, const study::HarvestSheet& s, const study::Verdict& plan, PictureUse use) {
    Frame f;
    f.width = width - f.left - 10.0;
    f.height = 170.0;
    f.most_v = 12.0;
    double most_wh = 1.0;
    for (const study::HarvestSum& m : s.harvest.months) most_wh = std::max(most_wh, s.usual_wh_or_h(m.ideal_wh));
    const double unit_wh = most_wh >= 10000.0 ? 1000.0 : 1.0;
    f.most_y = 1.05 * most_wh / unit_wh;
    const study::HarvestSum& total = s.harvest.total;
    std::vector<std::pair<const Group*, std::string>> lines;
    for (const Group& g : groups) {
        const double wh = s.usual_wh_or_h(group_wh(total, g));
        if (std::abs(wh) > 1e-4 * total.ideal_wh) lines.emplace_back(&g, fmt::format("{}: {}", g.name, watt_hours(wh)));
    }
    const std::string delivered = fmt::format("delivered: {}", watt_hours(s.usual_wh_or_h(total.delivered_wh)));
    std::string description = delivered + ".";
    for (const auto& [group, line] : lines) description += " " + line + ";";
    const double legend_y = f.bottom() + 30.0;
    Svg svg(width, legend_y + 13.0 * static_cast<double>(lines.size() + 1) + 4.0, "harvest-year", "What a year brings by month, and what is lost",
            description);
    const double step_y = round_step(f.most_y, 5.0);
    for (double i = 0.0; i * step_y <= f.most_y; i += 1.0) {
        svg.line(f.at(0.0, i * step_y), f.at(12.0, i * step_y), "grid");
        svg.text({f.left - 4.0, f.at(0.0, i * step_y).y + 3.5}, fmt::format("{:g}", i * step_y), "small soft", "end");
    }
    svg.text({4.0, f.top - 8.0}, unit_wh > 1.0 ? "kWh" : "Wh", "small soft");
    for (std::size_t m = 0; m < 12; ++m) {
        const study::HarvestSum& month = s.harvest.months[m];
        const double left = f.at(static_cast<double>(m) + 0.12, 0.0).x;
        const double right = f.at(static_cast<double>(m) + 0.88, 0.0).x;
        svg.text({0.5 * (left + right), f.bottom() + 12.0}, month_letters[m], "small soft", "middle");
        double from = 0.0;
        const auto stack = [&](double wh, std::string_view css) {
            const double to = from + std::max(0.0, s.usual_wh_or_h(wh)) / unit_wh;  // a gain is not a piece of the bar
            const double top = f.at(0.0, to).y;
            const double high = f.at(0.0, from).y - top;
            if (high > 0.05) svg.rect({left, top}, right - left, high, css);
            from = to;
        };
        svg.open("class=\"month\"");
        svg.tip(fmt::format("{}: delivered {} of {}", month_name(static_cast<int>(m) + 1), watt_hours(s.usual_wh_or_h(month.delivered_wh)),
                            watt_hours(s.usual_wh_or_h(month.ideal_wh))));
        stack(month.delivered_wh, "plug");
        for (const auto& [group, line] : lines) stack(group_wh(month, *group), group->css);
        svg.close();
    }
    svg.polyline({{f.left, f.top}, {f.left, f.bottom()}, {f.right(), f.bottom()}}, "axis");
    double y = legend_y;
    for (auto line = lines.rbegin(); line != lines.rend(); ++line) {
        svg.rect({6.0, y - 8.0}, 14.0, 9.0, line->first->css);
        svg.text({25.0, y}, fitting(line->second, width - 31.0), "small");
        y += 13.0;
    }
    svg.rect({6.0, y - 8.0}, 14.0, 9.0, "plug");
    svg.text({25.0, y}, delivered, "small strong");
    return ended(svg, setup, plan, use);
}

}  // namespace plait::output
