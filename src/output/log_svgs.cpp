// The pictures of measurements: a log against what was expected of it, and a bench sweep with its fit.
#include <plait/output/picture.hpp>

#include "explain_words.hpp"
#include "learn_words.hpp"
#include "plot_frame.hpp"
#include "style.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

constexpr double width = 360.0;
constexpr std::size_t most_causes = 6;

/// The causes that last longest, longest first; what keeps them apart on the band is a letter, not a colour.
std::vector<study::Cause> named_causes(const study::LogSeries& series) {
    study::ByCause<double> sum_s{};
    for (const study::LogSpan& s : series.spans()) {
        for (std::size_t c = 0; c < study::cause_count; ++c) sum_s[c] += s.cause_s[c];
    }
    std::vector<study::Cause> causes;
    for (std::size_t c = 0; c < study::cause_count; ++c) {
        if (sum_s[c] > 0.0) causes.push_back(static_cast<study::Cause>(c));
    }
    std::sort(causes.begin(), causes.end(),
              [&](study::Cause a, study::Cause b) { return sum_s[study::index_of(a)] > sum_s[study::index_of(b)]; });
    if (causes.size() > most_causes) causes.resize(most_causes);
    return causes;
}

/// How a cause is filled on the band: neighbours in the order differ most, in grey too.
std::string band_css(std::ptrdiff_t place) { return fmt::format("band c{}", place); }

}  // namespace

std::string log_svg(const study::LogSeries& series, PictureUse use) {
    const double hour_s = 3600.0;
    Frame f;
    f.width = width - f.left - 10.0;
    f.height = 170.0;
    f.most_v = std::max(series.span_s() * static_cast<double>(series.spans().size()) / hour_s, 1e-3);
    double most_w = 1.0;
    double measured_wh = 0.0;
    double possible_wh = 0.0;
    for (const study::LogSpan& s : series.spans()) {
        most_w = std::max({most_w, s.mean_w(s.possible_ws), s.mean_w(s.measured_ws), s.mean_w(s.expected_ws)});
        measured_wh += s.measured_ws / hour_s;
        possible_wh += s.possible_ws / hour_s;
    }
    f.most_y = 1.1 * most_w;
    const std::vector<study::Cause> causes = named_causes(series);
    const double band_y = f.bottom() + 34.0;
    const double legend_y = band_y + 44.0;
    std::string description = fmt::format(
        "Measured {:.0f} Wh; the array could have given {:.0f} Wh. What decided, longest first:", measured_wh,
        possible_wh);
    for (const study::Cause c : causes) description += fmt::format(" {};", words_of(c));
    Svg svg(width, legend_y + 13.0 * static_cast<double>(causes.size() + 2), "log",
            "Measured against expected, and the cause below", description);
    draw_axes(svg, f, "hours since the first row", "watts");

    // Neighbouring spans with rows make one run; a gap is left open.
    const auto runs = [&](auto draw) {
        std::size_t begin = 0;
        const std::vector<study::LogSpan>& spans = series.spans();
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
    const auto line = [&](double study::LogSpan::*sum, std::size_t begin, std::size_t end) {
        std::vector<Spot> spots;
        for (std::size_t i = begin; i < end; ++i) {
            const study::LogSpan& s = series.spans()[i];
            if (s.covered_s > 0.0) spots.push_back(f.at(x_of(i), s.mean_w(s.*sum)));
        }
        return spots;
    };
    runs([&](std::size_t begin, std::size_t end) {
        std::vector<Spot> area = line(&study::LogSpan::possible_ws, begin, end);
        area.push_back({area.back().x, f.bottom()});
        area.push_back({area.front().x, f.bottom()});
        svg.polygon(area, "take");
    });
    runs([&](std::size_t begin, std::size_t end) {
        svg.polyline(line(&study::LogSpan::expected_ws, begin, end), "curve");
        svg.polyline(line(&study::LogSpan::measured_ws, begin, end), "power");
    });
    // The cause band: a new box where the cause changes.
    svg.open("class=\"causes\"");
    runs([&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end;) {
            const study::Cause cause = series.spans()[i].cause();
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
    for (std::size_t i = 0; i < causes.size(); ++i) {
        svg.rect({6.0, y - 8.0}, 14.0, 9.0, band_css(static_cast<std::ptrdiff_t>(i)));
        svg.text({25.0, y}, fmt::format("{}  {}", static_cast<char>('a' + static_cast<char>(i)), words_of(causes[i])),
                 "small");
        y += 13.0;
    }
    svg.text(
        {6.0, y},
        fmt::format("measured {:.0f} Wh of the {:.0f} Wh that the array could have given", measured_wh, possible_wh),
        "small");
    y += 13.0;
    svg.text({6.0, y}, "tinted: the array could give; dashed: expected; line: measured", "small soft");
    return use == PictureUse::on_page ? svg.inner() : svg.file();
}

std::string sweep_svg(const study::LearnSheet& sheet, PictureUse use) {
    const study::LearnedWindow& w = sheet.window;
    Frame f;
    f.width = width - f.left - 10.0;
    f.height = 190.0;
    for (const study::FittedRow& r : w.rows) {
        f.most_v = std::max(f.most_v, 1.08 * r.row.voltage_v);
        f.most_y = std::max(f.most_y, 1.15 * r.row.current_a);
    }
    const Input* printed = sheet.printed();
    if (printed != nullptr) f.most_v = std::max(f.most_v, 1.08 * printed->max_voltage_v);
    std::string description;
    for (const std::string& s : summary_of(w)) description += s + " ";
    const double legend_y = f.bottom() + 40.0;
    Svg svg(width, legend_y + 26.0, "sweep", "The bench sweep and what fits it", description);
    draw_axes(svg, f, "volts", "amps");
    for (const study::LearnedPiece& p : w.pieces) {
        std::vector<Spot> spots;
        for (double i = 0.0; i <= 24.0; i += 1.0) {
            const double v = p.from_v + (p.to_v - p.from_v) * i / 24.0;
            const double a = p.kind == study::PieceKind::constant_power && v > 0.0 ? p.level.value / v : p.level.value;
            spots.push_back(f.at(v, p.kind == study::PieceKind::nothing ? 0.0 : a));
        }
        svg.polyline(spots, p.kind == study::PieceKind::at_least ? "curve" : "edge");
    }
    for (const study::FittedRow& r : w.rows) {
        if (r.use == study::RowUse::left_out) continue;
        const Spot at = f.at(std::max(0.0, r.row.voltage_v), std::max(0.0, r.row.current_a));
        if (r.use == study::RowUse::stands_apart) {
            svg.line({at.x - 3.0, at.y - 3.0}, {at.x + 3.0, at.y + 3.0}, "cap");
            svg.line({at.x - 3.0, at.y + 3.0}, {at.x + 3.0, at.y - 3.0}, "cap");
        } else {
            svg.circle(at, 2.4, r.rising ? "joint" : "mark");
        }
    }
    if (printed != nullptr) {
        const double x = f.at(printed->max_voltage_v, 0.0).x;
        svg.line({x, f.top}, {x, f.bottom()}, "never");
        svg.text({x - 3.0, f.top + 9.0}, "printed maximum " + volts(printed->max_voltage_v), "small stop", "end");
    }
    svg.text({6.0, legend_y}, "dots: rising, rings: falling, crosses: stand apart", "small");
    svg.text({6.0, legend_y + 13.0}, "line: the law that fits", "small soft");
    return use == PictureUse::on_page ? svg.inner() : svg.file();
}

}  // namespace plait::output
