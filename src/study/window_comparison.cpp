#include <plait/study/window_comparison.hpp>

#include <plait/physics/acceptance_window.hpp>

#include <algorithm>
#include <cmath>

namespace plait::study {
namespace {

Agreement agreement_of(double printed, const Interval& measured) {
    // A printed 60 V and a reading of 60.00 V are the same.
    const double near = 1e-9 * std::abs(printed);
    if (measured.upper() < printed - near) return Agreement::less;
    if (measured.lower() > printed + near) return Agreement::more;
    return Agreement::agrees;
}

Compared compared(ComparedFigure figure, std::optional<double> printed, std::optional<double> value,
                  std::optional<Interval> likely) {
    Compared c;
    c.figure = figure;
    c.printed_value = printed;
    c.value = value;
    c.likely = likely;
    c.agreement = !likely ? Agreement::not_seen : !printed ? Agreement::not_printed : agreement_of(*printed, *likely);
    return c;
}

Compared start_of(const LearnedWindow& w, const Input& printed) {
    if (!w.start) return compared(ComparedFigure::start, printed.start_voltage_v, std::nullopt, std::nullopt);
    return compared(ComparedFigure::start, printed.start_voltage_v, w.start->middle_v(), w.start->between_v);
}

Compared power_of(const LearnedWindow& w, const std::optional<double>& printed_w) {
    if (w.power_w) return compared(ComparedFigure::power, printed_w, w.power_w->value, w.power_w->likely);
    Compared c = compared(ComparedFigure::power, printed_w, std::nullopt, std::nullopt);
    if (printed_w && w.most_power_w > *printed_w * (1.0 + 3.0 * w.noise_ratio)) {
        c.value = w.most_power_w;
        c.agreement = Agreement::more;
    }
    return c;
}

Compared maximum_of(const LearnedWindow& w, const Input& printed) {
    if (w.trip) return compared(ComparedFigure::maximum, printed.max_voltage_v, w.trip->middle_v(), w.trip->between_v);
    Compared c = compared(ComparedFigure::maximum, printed.max_voltage_v, std::nullopt, std::nullopt);
    if (w.highest_working_v > printed.max_voltage_v) {
        c.value = w.highest_working_v;
        c.agreement = Agreement::more;
    }
    return c;
}

}  // namespace

std::vector<Compared> compare_window(const LearnedWindow& window, const Controller& controller, const Input& printed) {
    std::vector<Compared> all{start_of(window, printed)};
    const physics::AcceptanceWindow limits = physics::window_of(controller, printed);
    for (const LearnedPiece& p : window.pieces) {
        if (p.kind != PieceKind::constant_current) continue;
        const double middle_v = 0.5 * (p.from_v + p.to_v);
        std::optional<double> printed_a;
        for (const CurrentBand& b : printed.bands) {
            if (b.from_v <= middle_v && middle_v <= b.to_v) printed_a = std::max(printed_a.value_or(0.0), b.limit_a);
        }
        Compared c = compared(ComparedFigure::band, printed_a, p.level.value, p.level.likely);
        c.at_from_v = p.from_v;
        c.at_to_v = p.to_v;
        all.push_back(c);
    }
    all.push_back(
        power_of(window, std::isfinite(limits.power_w) ? std::optional<double>(limits.power_w) : std::nullopt));
    all.push_back(maximum_of(window, printed));
    return all;
}

Controller learned_controller(const LearnSheet& sheet) {
    const LearnedWindow& w = sheet.window;
    Controller c;
    if (sheet.controller) {
        c = *sheet.controller;
    } else {
        c.name = "Measured on the bench";
        c.inputs.emplace_back();
        c.inputs.back().name = "PV1";
    }
    Input& input = c.inputs[sheet.input];
    const bool forbids_more = input.over_current == OverCurrent::not_permitted;
    const std::vector<CurrentBand> printed_bands = input.bands;
    if (!sheet.controller) input.max_voltage_v = w.highest_working_v;
    const double top_v = std::min(w.highest_working_v, input.max_voltage_v);
    const double bottom_v = std::min(w.lowest_working_v, 0.99 * top_v);
    input.tracking_min_v = bottom_v;
    input.tracking_max_v = top_v;
    if (w.start && w.start->between_v.upper() < input.max_voltage_v) input.start_voltage_v = w.start->between_v.upper();

    input.bands.clear();
    for (std::size_t k = 0; k < w.pieces.size(); ++k) {
        const LearnedPiece& p = w.pieces[k];
        if (p.kind != PieceKind::constant_current && p.kind != PieceKind::at_least) continue;
        // A stretch at constant power after a band is the band going on under the power limit.
        double from_v = p.from_v;
        double to_v = p.to_v;
        while (k + 1 < w.pieces.size() && w.pieces[k + 1].kind == PieceKind::constant_power) to_v = w.pieces[++k].to_v;
        if (input.bands.empty()) from_v = bottom_v;
        if (!input.bands.empty() && w.pieces[k].kind != PieceKind::nothing) {
            CurrentBand& before = input.bands.back();
            // Between two readings the smaller current is the one to count on.
            const bool gap = k > 0 && std::any_of(w.pieces.begin(), w.pieces.begin() + static_cast<std::ptrdiff_t>(k),
                                                  [&](const LearnedPiece& q) {
                                                      return q.kind == PieceKind::nothing && q.from_v > before.from_v;
                                                  });
            if (!gap) {
                if (p.level.value >= before.limit_a) {
                    before.to_v = from_v;
                } else {
                    from_v = before.to_v;
                }
            }
        }
        if (from_v >= top_v) break;
        input.bands.push_back({from_v, std::min(to_v, top_v), p.level.value});
    }
    if (!input.bands.empty() && (w.pieces.back().kind != PieceKind::nothing)) input.bands.back().to_v = top_v;
    if (forbids_more) {
        for (CurrentBand& b : input.bands) {
            for (const CurrentBand& printed : printed_bands) {
                if (printed.from_v < b.to_v && b.from_v < printed.to_v)
                    b.limit_a = std::min(b.limit_a, printed.limit_a);
            }
        }
    }
    if (w.power_w) input.max_power_w = w.power_w->value;
    return c;
}

}  // namespace plait::study
