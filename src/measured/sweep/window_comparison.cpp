#include <plait/measured/window_comparison.hpp>

#include <plait/physics/acceptance_window.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace plait::measured {
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
    if (printed.max_voltage_v && w.highest_working_v > *printed.max_voltage_v) {
        c.value = w.highest_working_v;
        c.agreement = Agreement::more;
    }
    return c;
}

// A reading at a printed edge belongs to the more generous side; one inside a band is a test of that band.
bool tested(const LearnedWindow& w, const LearnedPiece& p, const CurrentBand& b) {
    return std::any_of(w.rows.begin(), w.rows.end(), [&](const FittedRow& r) {
        const double v = r.row.voltage_v;
        return r.use == RowUse::fits && v >= p.from_v && v <= p.to_v && v > b.from_v && v < b.to_v;
    });
}

Compared band_of(const LearnedPiece& p, const std::optional<double>& printed_a, double from_v, double to_v) {
    Compared c = compared(ComparedFigure::band, printed_a, p.level.value, p.level.likely);
    c.at_from_v = from_v;
    c.at_to_v = to_v;
    return c;
}

// A printed band that no measured one lies in. The supply may have shown that the input takes more.
Compared untested_band(const LearnedWindow& w, const CurrentBand& b) {
    Compared c = compared(ComparedFigure::band, b.limit_a, std::nullopt, std::nullopt);
    c.at_from_v = b.from_v;
    c.at_to_v = b.to_v;
    for (const LearnedPiece& p : w.pieces) {
        const bool here = p.kind == PieceKind::at_least && p.from_v < b.to_v && b.from_v < p.to_v;
        if (!here || p.level.value <= b.limit_a * (1.0 + 3.0 * w.noise_ratio)) continue;
        c.value = std::max(c.value.value_or(0.0), p.level.value);
        c.agreement = Agreement::more;
    }
    return c;
}

void compare_bands(const LearnedWindow& w, const Input& printed, std::vector<Compared>& all) {
    for (const LearnedPiece& p : w.pieces) {
        if (p.kind != PieceKind::constant_current) continue;
        bool any = false;
        for (const CurrentBand& b : printed.bands) {
            if (!tested(w, p, b)) continue;
            all.push_back(band_of(p, b.limit_a, std::max(p.from_v, b.from_v), std::min(p.to_v, b.to_v)));
            any = true;
        }
        if (!any) all.push_back(band_of(p, std::nullopt, p.from_v, p.to_v));
    }
    for (const CurrentBand& b : printed.bands) {
        const bool seen = std::any_of(w.pieces.begin(), w.pieces.end(), [&](const LearnedPiece& p) {
            return p.kind == PieceKind::constant_current && tested(w, p, b);
        });
        if (!seen) all.push_back(untested_band(w, b));
    }
}

// The bands as measured. A stretch at constant power is the band before it going on under the power limit; without one
// before it, the most it was seen to take. Empty where power limits everything: then no band was seen at all.
std::vector<CurrentBand> measured_bands(const LearnedWindow& w) {
    std::vector<CurrentBand> bands;
    bool after_gap = true;
    bool any = false;
    for (const LearnedPiece& p : w.pieces) {
        const bool power = p.kind == PieceKind::constant_power;
        if (p.kind == PieceKind::nothing) {
            after_gap = true;
        } else if (power && !after_gap) {
            bands.back().to_v = p.to_v;
        } else {
            CurrentBand b{p.from_v, p.to_v, power ? p.level.value / p.from_v : p.level.value};
            if (!after_gap) {  // between two readings the smaller current is the one to count on
                (b.limit_a >= bands.back().limit_a ? bands.back().to_v : b.from_v) =
                    b.limit_a >= bands.back().limit_a ? b.from_v : bands.back().to_v;
            }
            bands.push_back(b);
            after_gap = false;
            any = any || !power;
        }
    }
    if (!any) bands.clear();
    return bands;
}

// Where the sweep did not go the printed bands stand; the one it ended in goes on as measured.
std::vector<CurrentBand> with_printed_beyond(std::vector<CurrentBand> bands, const std::vector<CurrentBand>& printed,
                                             Interval window_v) {
    bands.front().from_v = std::min(bands.front().from_v, window_v.upper());
    const double low_v = bands.front().from_v;
    const double high_v = bands.back().to_v;
    std::vector<CurrentBand> all;
    const auto within = [&](CurrentBand b, double from_v, double to_v) {
        b.from_v = std::max(b.from_v, from_v);
        b.to_v = std::min(b.to_v, to_v);
        if (b.from_v < b.to_v) all.push_back(b);
    };
    const auto holds = [](const CurrentBand& b, double v) { return b.from_v <= v && v <= b.to_v; };
    double from_v = printed.empty() ? window_v.lower() : low_v;
    double to_v = printed.empty() ? window_v.upper() : high_v;
    for (const CurrentBand& b : printed) {
        if (holds(b, low_v)) from_v = std::min(from_v, b.from_v);
        if (holds(b, high_v)) to_v = std::max(to_v, b.to_v);
    }
    bands.front().from_v = std::max(from_v, window_v.lower());
    bands.back().to_v = std::min(to_v, window_v.upper());
    for (const CurrentBand& b : printed) within(b, window_v.lower(), bands.front().from_v);
    for (const CurrentBand& b : bands) within(b, window_v.lower(), window_v.upper());
    for (const CurrentBand& b : printed) within(b, bands.back().to_v, window_v.upper());
    return all;
}

// Cut where the printed bands change, nowhere above them.
std::vector<CurrentBand> held_to(const std::vector<CurrentBand>& printed, const std::vector<CurrentBand>& bands) {
    std::vector<CurrentBand> all;
    for (const CurrentBand& b : bands) {
        double from_v = b.from_v;
        for (const CurrentBand& p : printed) {
            if (p.to_v <= from_v || p.from_v >= b.to_v) continue;
            if (p.from_v > from_v) all.push_back({from_v, p.from_v, b.limit_a});  // the print is silent there
            from_v = std::min(p.to_v, b.to_v);
            all.push_back({std::max(p.from_v, b.from_v), from_v, std::min(p.limit_a, b.limit_a)});
        }
        if (from_v < b.to_v) all.push_back({from_v, b.to_v, b.limit_a});
    }
    return all;
}

}  // namespace

std::vector<Compared> compare_window(const LearnedWindow& window, const Controller& controller, const Input& printed) {
    std::vector<Compared> all{start_of(window, printed)};
    const physics::AcceptanceWindow limits = physics::window_of(controller, printed);
    compare_bands(window, printed, all);
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
    // An end of the window that the sweep did not reach stays as printed.
    const double max_v = input.max_voltage_v.value_or(std::numeric_limits<double>::infinity());
    double top_v = std::min(w.highest_working_v, max_v);
    if (!w.trip) top_v = std::max(top_v, std::min(input.tracking_max_v.value_or(top_v), max_v));
    double bottom_v = std::min(w.lowest_working_v, 0.99 * top_v);
    if (!w.start && !w.stop) bottom_v = std::min(bottom_v, input.tracking_min_v.value_or(bottom_v));
    input.tracking_min_v = bottom_v;
    input.tracking_max_v = top_v;
    if (w.start && w.start->between_v.upper() < max_v) input.start_voltage_v = w.start->between_v.upper();

    const std::vector<CurrentBand> measured = measured_bands(w);
    // Where power limits everything, a bench has nothing to say against the printed currents.
    if (!measured.empty()) {
        std::vector<CurrentBand> bands = with_printed_beyond(measured, input.bands, Interval(bottom_v, top_v));
        const bool forbids_more = input.over_current == OverCurrent::not_permitted;
        input.bands = forbids_more ? held_to(input.bands, bands) : std::move(bands);
    }
    if (w.power_w) input.max_power_w = w.power_w->value;
    return c;
}

}  // namespace plait::measured
