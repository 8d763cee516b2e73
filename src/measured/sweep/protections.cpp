#include <plait/measured/protections.hpp>

#include <algorithm>

namespace plait::measured {
namespace {

ProtectionCheck at_voltage(Protection what, const std::optional<SwitchVoltage>& seen) {
    ProtectionCheck c;
    c.what = what;
    if (!seen) return c;
    c.result = ProtectionResult::seen;
    c.value = seen->middle_v();
    c.between_v = seen->between_v;
    return c;
}

// The worst of several figures of one kind: the one furthest above its print.
ProtectionCheck limited(Protection what, ComparedFigure figure, const std::vector<Compared>& compared, double tolerance_ratio) {
    ProtectionCheck worst;
    worst.what = what;
    for (const Compared& c : compared) {
        if (c.figure != figure || !c.value) continue;
        ProtectionCheck one;
        one.what = what;
        one.printed_value = c.printed_value;
        one.value = c.value;
        const bool more = c.agreement == Agreement::more && *c.value > *c.printed_value * (1.0 + tolerance_ratio);
        one.result = !c.printed_value ? ProtectionResult::seen : more ? ProtectionResult::not_pass : ProtectionResult::pass;
        const auto over = [](const ProtectionCheck& p) { return p.printed_value ? *p.value / *p.printed_value : 0.0; };
        if (worst.result == ProtectionResult::not_seen || over(one) > over(worst)) worst = one;
    }
    return worst;
}

}  // namespace

std::vector<ProtectionCheck> protections_of(const LearnedWindow& window, const std::vector<Compared>& compared,
                                            const std::optional<bool>& recovered, double usual_error_ratio) {
    std::vector<ProtectionCheck> all;
    const double tolerance = window.meter_accuracy_ratio > 0.0 ? 0.0 : usual_error_ratio;
    const auto printed = [&](ComparedFigure figure) -> std::optional<double> {
        const auto c = std::find_if(compared.begin(), compared.end(), [&](const Compared& x) { return x.figure == figure; });
        return c == compared.end() ? std::nullopt : c->printed_value;
    };
    ProtectionCheck start = at_voltage(Protection::start, window.start);
    start.printed_value = printed(ComparedFigure::start);
    if (start.between_v && start.printed_value) {
        start.result = start.between_v->lower() > *start.printed_value ? ProtectionResult::not_pass : ProtectionResult::pass;
    }
    all.push_back(start);
    if (compared.empty()) {
        // Without a print: the largest of what was seen to hold.
        for (const PieceKind kind : {PieceKind::constant_current, PieceKind::constant_power}) {
            ProtectionCheck c;
            c.what = kind == PieceKind::constant_current ? Protection::current : Protection::power;
            for (const LearnedPiece& p : window.pieces) {
                if (p.kind != kind) continue;
                c.value = std::max(c.value.value_or(0.0), p.level.value);
                c.result = ProtectionResult::seen;
            }
            all.push_back(c);
        }
    } else {
        all.push_back(limited(Protection::current, ComparedFigure::band, compared, tolerance));
        all.push_back(limited(Protection::power, ComparedFigure::power, compared, tolerance));
    }
    ProtectionCheck trip = at_voltage(Protection::trip, window.trip);
    trip.printed_value = printed(ComparedFigure::maximum);
    if (trip.between_v && trip.printed_value) {
        trip.result = trip.between_v->upper() < *trip.printed_value ? ProtectionResult::not_pass : ProtectionResult::pass;
    }
    all.push_back(trip);
    ProtectionCheck error;
    error.what = Protection::said_error;
    const auto said = std::find_if(window.rows.begin(), window.rows.end(),
                                   [](const FittedRow& r) { return r.row.state == SweepState::tripped; });
    if (said != window.rows.end()) {
        error.result = ProtectionResult::seen;
        error.value = said->row.voltage_v;
        error.line = said->row.line;
        error.said = true;
    }
    all.push_back(error);
    ProtectionCheck recovery = at_voltage(Protection::recovery, window.recovery);
    if (!window.recovery && recovered) {
        recovery.result = *recovered ? ProtectionResult::seen : ProtectionResult::not_pass;
        recovery.said = true;
    }
    all.push_back(recovery);
    return all;
}

}  // namespace plait::measured
