#include <plait/measured/next_readings.hpp>

#include <plait/physics/acceptance_window.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace plait::measured {
namespace {

// A supply that gives so much more than the input's limit shows that the limit is the input's (common practice, no
// source).
constexpr double more_than_limit = 1.1;
constexpr double beside_ratio = 0.02;  // of the voltage: on either side of an edge
constexpr double least_beside_v = 0.3;
constexpr double same_v = 0.05;

// Where no current limit is printed, power alone limits.
double printed_a_at(const physics::AcceptanceWindow& w, double v) {
    const double band_a = w.bands.empty() ? std::numeric_limits<double>::infinity() : w.current_limit_a(v);
    return std::min(band_a, w.power_w / v);
}

class Plan {
public:
    Plan(const Controller& controller, const Input& printed, double top_v) : limits_(physics::window_of(controller, printed)) {
        plan_.top_v = top_v;
        plan_.maximum_printed = printed.max_voltage_v.has_value();
        const double low_v = std::max(limits_.low_v, 0.0);
        start_v_ = std::min(std::max(printed.start_voltage_v.value_or(low_v), low_v), top_v);
        high_v_ = std::min(std::isfinite(limits_.high_v) ? limits_.high_v : top_v, top_v);
        upwards();
        std::sort(plan_.readings.begin(), plan_.readings.end(),
                  [](const PlannedReading& a, const PlannedReading& b) { return a.voltage_v < b.voltage_v; });
        downwards();
        for (PlannedReading& r : plan_.readings) {
            const bool inside = r.voltage_v >= low_v && r.voltage_v <= high_v_ && (r.falling || r.voltage_v >= start_v_);
            const double amps = inside ? printed_a_at(limits_, r.voltage_v) : 0.0;
            if (inside && !std::isfinite(amps)) continue;
            r.printed_a = amps;
            r.printed_w = amps * r.voltage_v;
            plan_.supply_a = std::max(plan_.supply_a.value_or(0.0), more_than_limit * amps);
            plan_.supply_w = std::max(plan_.supply_w.value_or(0.0), more_than_limit * *r.printed_w);
        }
    }

    BenchPlan take() { return std::move(plan_); }

private:
    static double beside_v(double v) { return std::max(least_beside_v, beside_ratio * v); }

    // Rounded to a tenth of a volt, down, so that no reading passes the top.
    void add(double voltage_v, PlanReason reason) {
        voltage_v = std::floor(voltage_v * 10.0 + 1e-6) / 10.0;
        if (!(voltage_v > 0.0) || voltage_v > plan_.top_v) return;
        const bool there = std::any_of(plan_.readings.begin(), plan_.readings.end(), [&](const PlannedReading& r) {
            return std::abs(r.voltage_v - voltage_v) < same_v;
        });
        if (!there) plan_.readings.push_back({voltage_v, reason, false, std::nullopt, std::nullopt});
    }

    // Both ends of a stretch of one law and two readings between them.
    void stretch(double from_v, double to_v, PlanReason reason) {
        const double low_v = from_v + beside_v(from_v);
        const double high_v = to_v - beside_v(to_v);
        if (!(high_v > low_v)) return add(0.5 * (from_v + to_v), reason);
        for (const double share : {0.0, 1.0 / 3.0, 2.0 / 3.0, 1.0}) add(low_v + share * (high_v - low_v), reason);
    }

    void upwards() {
        if (start_v_ > 0.0) {
            add(start_v_ * 0.85, PlanReason::below_start);
            add(start_v_ - beside_v(start_v_), PlanReason::below_start);
            add(start_v_ + beside_v(start_v_), PlanReason::start);
        }
        std::vector<CurrentBand> bands = limits_.bands;
        if (bands.empty()) bands.push_back({start_v_, high_v_, std::numeric_limits<double>::infinity()});
        for (const CurrentBand& b : bands) {
            const double from_v = std::max(b.from_v, start_v_);
            const double to_v = std::min(b.to_v, high_v_);
            if (!(to_v > from_v)) continue;
            if (from_v > start_v_ + beside_v(start_v_)) {
                add(from_v - beside_v(from_v), PlanReason::band_edge);
                add(from_v + beside_v(from_v), PlanReason::band_edge);
            }
            const double takeover_v = std::isfinite(b.limit_a) ? limits_.power_w / b.limit_a : from_v;
            const double ends_v = std::clamp(takeover_v, from_v, to_v);
            if (ends_v > from_v) stretch(from_v, ends_v, PlanReason::band);
            if (ends_v < to_v && ends_v > from_v) {
                add(ends_v - beside_v(ends_v), PlanReason::power_takes_over);
                add(ends_v + beside_v(ends_v), PlanReason::power_takes_over);
            }
            if (ends_v < to_v) stretch(ends_v, to_v, PlanReason::power);
        }
        add(plan_.top_v, PlanReason::top);
    }

    // Down again: where it ceases is seldom where it began, and a band may change elsewhere.
    void downwards() {
        const std::vector<PlannedReading> up = plan_.readings;
        for (auto r = up.rbegin(); r != up.rend(); ++r) {
            const bool near_start = r->voltage_v < start_v_ * 1.15;
            const bool edge = r->reason == PlanReason::band_edge || r->reason == PlanReason::power_takes_over;
            if (r->voltage_v < plan_.top_v - same_v && (near_start || edge)) {
                plan_.readings.push_back({r->voltage_v, PlanReason::down, true, std::nullopt, std::nullopt});
            }
        }
    }

    physics::AcceptanceWindow limits_;
    BenchPlan plan_;
    double start_v_ = 0.0;
    double high_v_ = 0.0;
};

}  // namespace

std::optional<BenchPlan> plan_bench(const Controller& controller, const Input& printed) {
    const std::optional<double> top_v = printed.max_voltage_v ? printed.max_voltage_v : printed.tracking_max_v;
    if (!top_v || !(*top_v > 0.0)) return std::nullopt;
    return Plan(controller, printed, *top_v).take();
}

}  // namespace plait::measured
