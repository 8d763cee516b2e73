// A log against what was expected of it, with its account.
#include <plait/measured/log_series.hpp>
#include <plait/output/picture.hpp>

#include "report/explain_words.hpp"
#include "plot_frame.hpp"
#include "render/style.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

constexpr double width = 360.0;
constexpr std::size_t most_causes = 6;

/// The causes that last longest, longest first; what keeps them apart on the band is a letter, not a colour.
std::vector<measured::Cause> named_causes(const measured::LogSeries& series) {
    measured::ByCause<double> sum_s{};
    for (const measured::LogSpan& s : series.spans()) {
        for (std::size_t c = 0; c < measured::cause_count; ++c) sum_s[c] += s.cause_s[c];
    }
    std::vector<measured::Cause> causes;
    for (std::size_t c = 0; c < measured::cause_count; ++c) {
        if (sum_s[c] > 0.0) causes.push_back(static_cast<measured::Cause>(c));
    }
    std::sort(causes.begin(), causes.end(), [&](measured::Cause a, measured::Cause b) {
        return sum_s[measured::index_of(a)] > sum_s[measured::index_of(b)];
    });
    if (causes.size() > most_causes) causes.resize(most_causes);
    return causes;
}

std::string watt_hours(double wh) { return rules::with_minus_sign(fmt::format("{:.0f} Wh", wh)); }

/// "b  heat of the cells: 967 Wh" for each cause on the band, then what is left, so that it adds up.
std::vector<std::string> account_lines(const measured::LogAccount& account,
                                       const std::vector<measured::Cause>& causes) {
    std::vector<std::string> lines;
    double others_wh = account.label_wh - account.measured_wh;
    for (const measured::Cause c : causes) {
        const double lost_wh = account.lost_wh[measured::index_of(c)];
        others_wh -= lost_wh;
        lines.push_back(fmt::format("{}  {}: {}", static_cast<char>('a' + static_cast<char>(lines.size())), words_of(c),
                                    watt_hours(lost_wh)));
    }
    lines.push_back(fmt::format("all else: {}", watt_hours(others_wh)));
    lines.push_back(fmt::format("label {} less all these: measured {}", watt_hours(account.label_wh),
                                watt_hours(account.measured_wh)));
    return lines;
}

/// How a cause is filled on the band: neighbours in the order differ most, in grey too.
std::string band_css(std::ptrdiff_t place) { return fmt::format("band c{}", place); }

}  // namespace

std::string log_svg(const Setup& setup, const measured::LogAccount& account, const measured::LogSeries& series,
                    const study::Verdict& plan, PictureUse use) {
    const double hour_s = 3600.0;
    Frame f;
    f.width = width - f.left - 10.0;
    f.height = 170.0;
    f.most_v = std::max(series.span_s() * static_cast<double>(series.spans().size()) / hour_s, 1e-3);
    double most_w = 1.0;
    for (const measured::LogSpan& s : series.spans()) {
        most_w = std::max({most_w, s.mean_w(s.possible_ws), s.mean_w(s.measured_ws), s.mean_w(s.expected_ws)});
    }
    f.most_y = 1.1 * most_w;
    const std::vector<measured::Cause> causes = named_causes(series);
    const double band_y = f.bottom() + 34.0;
    const double legend_y = band_y + 44.0;
    const std::vector<std::string> sums = account_lines(account, causes);
    std::string description = "What decided, longest first, and what it took:";
    for (const std::string& line : sums) description += " " + line + ";";
    Svg svg(width, legend_y + 13.0 * static_cast<double>(sums.size() + 1), "log",
            "Measured against expected, and the cause below", description);
    draw_axes(svg, f, "hours since the first row", "watts");

    // Neighbouring spans with rows make one run; a gap is left open.
    const auto runs = [&](auto draw) {
        std::size_t begin = 0;
        const std::vector<measured::LogSpan>& spans = series.spans();
        while (begin < spans.size()) {
            if (!(spans[begin].covered_s > 0.0)) {
                ++begin;
                continue;
            }
            std::size_t end = begin;
            std::size_t empty = 0;
            for (std::size_t i = begin; i < spans.size() && empty < 8; ++i) {
                empty = spans[i].covered_s > 0.0 ? 0 : empty + 1;
                if (empty == 0) end = i + 1;
            }
            draw(begin, end);
            begin = end;
        }
    };
    const auto x_of = [&](std::size_t i) { return (static_cast<double>(i) + 0.5) * series.span_s() / hour_s; };
    const auto line = [&](double measured::LogSpan::*sum, std::size_t begin, std::size_t end) {
        std::vector<Spot> spots;
        for (std::size_t i = begin; i < end; ++i) {
            const measured::LogSpan& s = series.spans()[i];
            if (s.covered_s > 0.0) spots.push_back(f.at(x_of(i), s.mean_w(s.*sum)));
        }
        return spots;
    };
    runs([&](std::size_t begin, std::size_t end) {
        std::vector<Spot> area = line(&measured::LogSpan::possible_ws, begin, end);
        area.push_back({area.back().x, f.bottom()});
        area.push_back({area.front().x, f.bottom()});
        svg.polygon(area, "take");
    });
    runs([&](std::size_t begin, std::size_t end) {
        svg.polyline(line(&measured::LogSpan::expected_ws, begin, end), "curve");
        svg.polyline(line(&measured::LogSpan::measured_ws, begin, end), "power");
    });
    // The cause band: a new box where the cause changes.
    svg.open("class=\"causes\"");
    runs([&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end;) {
            const measured::Cause cause = series.spans()[i].cause();
            std::size_t stop = i;
            while (stop < end && (!(series.spans()[stop].covered_s > 0.0) || series.spans()[stop].cause() == cause))
                ++stop;
            const double left = f.at(static_cast<double>(i) * series.span_s() / hour_s, 0.0).x;
            const double right = f.at(static_cast<double>(stop) * series.span_s() / hour_s, 0.0).x;
            const auto known = std::find(causes.begin(), causes.end(), cause);
            if (known == causes.end()) {
                svg.line({left, band_y + 7.0}, {right, band_y + 7.0}, "grid");
            } else {
                svg.rect({left, band_y}, right - left, 14.0, band_css(known - causes.begin()));
                if (right - left > 9.0) {
                    svg.text({0.5 * (left + right), band_y + 24.0},
                             std::string(1, static_cast<char>('a' + static_cast<char>(known - causes.begin()))),
                             "small", "middle");
                }
            }
            i = stop;
        }
    });
    svg.close();
    double y = legend_y;
    for (std::size_t i = 0; i < sums.size(); ++i) {
        const bool on_band = i < causes.size();
        if (on_band) svg.rect({6.0, y - 8.0}, 14.0, 9.0, band_css(static_cast<std::ptrdiff_t>(i)));
        svg.text({on_band ? 25.0 : 6.0, y}, sums[i], "small");
        y += 13.0;
    }
    svg.text({6.0, y}, "tinted: the array could give; dashed: expected; line: measured", "small soft");
    return finished(svg, setup, plan, use);
}

}  // namespace plait::output
