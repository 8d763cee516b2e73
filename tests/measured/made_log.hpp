// Logs made by the exact forward model, with known causes and noise: what the explainer is held against. Nothing here
// uses the explainer's tables or hypotheses.
#pragma once

#include "../study/trial.hpp"
#include "../support/arrays.hpp"

#include <plait/measured/log_explanation.hpp>
#include <plait/physics/cell_temperature.hpp>

#include <cmath>
#include <string>
#include <vector>

namespace plait::measured {
using namespace study;

/// What truly happened in a row.
struct MadeRow {
    LogRow row;
    Cause cause = Cause::less_light;  ///< of what is lost beyond the array's own maximum
    double sun_w = 0.0;
    double cool_w = 0.0;
    double possible_w = 0.0;
    double drawn_w = 0.0;
};

struct MadeLog {
    Setup setup;
    InputWiring wiring;
    LogAccuracy accuracy;
    double label_w = 0.0;
    std::vector<MadeRow> rows;
};

class LogMaker {
public:
    LogMaker(Cause cause, std::uint64_t seed) : dice_(seed), cause_(cause) {
        Trial t = roomy_trial();
        t.wire(2, 2);
        Input& in = t.input();
        in.tracking_min_v = 12.0;
        in.start_voltage_v = 14.0;
        in.max_power_w = 1000.0;
        in.bands = {{12.0, 20.0, 5.0}, {20.0, 100.0, 30.0}};
        log_.accuracy.irradiance_ratio = 0.02;  // a good pyranometer
        switch (cause) {
            case Cause::power_limit:
                in.max_power_w = 190.0;
                break;
            case Cause::current_limit:
                in.bands = {{12.0, 20.0, 5.0}, {20.0, 100.0, 5.5}};
                break;
            case Cause::cable: {
                Cable thin;  // thin and long: some 8 % of full sun
                thin.run = CableRun::trunk;
                thin.length_m = 20.0;
                thin.size = {4.0, std::nullopt};
                thin.resistance_ohm_per_m = 0.008;
                t.setup.cables.push_back(thin);
                break;
            }
            case Cause::below_window:
                in.tracking_min_v = 39.0;
                in.start_voltage_v = 39.0;
                in.bands.clear();
                break;
            case Cause::above_window:
                in.tracking_max_v = 29.0;
                break;
            case Cause::wall:
                t.controller().max_total_power_w = 400.0;
                break;
            case Cause::display:
                log_.accuracy.display_w = 20.0;
                break;
            default:
                break;
        }
        log_.setup = t.setup;
        log_.wiring = t.plan[0];
        log_.label_w = 400.0;
    }

    /// Two days, one clear and one with clouds, a row every five minutes from five to nine.
    MadeLog made() {
        const SystemModel system(log_.setup);
        const auto bias = [&](double ratio) { return 1.0 + ratio * std::sqrt(0.5) * bell(); };
        volt_bias_ = bias(log_.accuracy.volt_ratio);
        amp_bias_ = bias(log_.accuracy.amp_ratio);
        sun_bias_ = bias(log_.accuracy.irradiance_ratio);
        panel_volt_ = 1.0 + 0.005 * bell();  // this panel is not quite its datasheet
        panel_amp_ = 1.0 + 0.01 * bell();
        for (int day = 0; day < 2; ++day) {
            double cloud = 1.0;
            for (int step = 0; step <= 192; ++step) {
                cloud = day == 0 ? 1.0 : std::min(1.0, std::max(0.15, cloud + 0.15 * bell()));
                add(system, day, step, cloud);
            }
        }
        return std::move(log_);
    }

private:
    double bell() {
        double sum = -6.0;
        for (int i = 0; i < 12; ++i) sum += dice_.between(0.0, 1.0);
        return sum;
    }
    double noisy(double value, double ratio, double bias) {
        return value * bias * (1.0 + ratio * std::sqrt(0.5) * bell());
    }
    static double rounded(double value, double step) { return step * std::round(value / step); }

    void add(const SystemModel& system, int day, int step, double cloud) {
        const double of_day = static_cast<double>(step) / 192.0;
        const double height = std::max(0.0, std::sin(3.14159265358979 * of_day));
        const double sun = 1000.0 * std::pow(height, 1.3) * cloud;
        const double air = 12.0 + 12.0 * height + 3.0 * day;
        const double cell = air + physics::rise_above_air_k(log_.setup.kinds[0].panel, log_.setup.site.mounting, sun);
        const KindConditions now{{sun, Celsius{cell}}};
        const physics::ArrayCurve bare = system.curve(log_.wiring, now);
        const physics::ArrayCurve curve = system.curve(log_.wiring, now, system.wires(0, log_.wiring));
        const physics::OperatingPoint op = system.operating_point(0, curve);

        MadeRow made;
        made.sun_w = log_.label_w * sun / 1000.0;
        made.cool_w = system.curve(log_.wiring, {{sun, stc_cell}}).maximum_power().power_w();
        made.possible_w = bare.maximum_power().power_w();
        physics::PowerPoint p = op.held() ? op.point : physics::PowerPoint{curve.open_circuit_v(), 0.0};
        const bool at_work = of_day > 0.2 && of_day < 0.7;
        double charge = 0.3 + 0.4 * of_day;
        double wall_w = 0.0;
        // A fault that begins stays; shade and trips come and go.
        const bool stays = (cause_ == Cause::bypassed_group || cause_ == Cause::missing_string) && (day > 0 || of_day > 0.2);
        if (op.held() && (at_work || stays || cause_ == Cause::battery || cause_ == Cause::display)) {
            fault(system, now, curve, of_day, p, charge, wall_w);
        }
        if (op.held() && op.binding != physics::Binding::nothing) made.cause = cause_;
        if (op.held() && cause_ == Cause::cable) made.cause = cause_;
        if (!op.held() && cause_ == Cause::below_window) made.cause = cause_;
        if (p.current_a != op.point.current_a && op.held()) made.cause = cause_;
        if (cause_ == Cause::display && p.power_w() == 0.0 && op.held()) made.cause = cause_;
        made.drawn_w = p.power_w();
        const LogAccuracy& a = log_.accuracy;
        LogRow& row = made.row;
        row.time_s = 86400.0 * day + 300.0 * step + 18000.0;
        row.voltage_v = rounded(noisy(p.voltage_v * panel_volt_, a.volt_ratio, volt_bias_), 0.1);
        row.current_a = rounded(noisy(p.current_a * panel_amp_, a.amp_ratio, amp_bias_), 0.1);
        row.irradiance_w_per_m2 = rounded(noisy(sun, a.irradiance_ratio, sun_bias_), 1.0);
        row.air = Celsius{rounded(air + 0.5 * a.air_k * bell(), 0.1)};
        row.panel = Celsius{rounded(cell + 0.5 * a.panel_k * bell(), 0.1)};
        row.charge_ratio = rounded(charge, 0.01);
        row.wall_w = wall_w;
        log_.rows.push_back(made);
    }

    void fault(const SystemModel& system, const KindConditions& now, const physics::ArrayCurve& curve, double of_day,
               physics::PowerPoint& p, double& charge, double& wall_w) {
        const auto without = [&](const InputWiring& w) { p = system.operating_point(0, system.curve(w, now)).point; };
        InputWiring w = log_.wiring;
        switch (cause_) {
            case Cause::tripped:
                p = {curve.open_circuit_v(), 0.0};
                break;
            case Cause::battery: {
                const double share = of_day < 0.45 ? 1.0 : std::max(0.0, 1.0 - 3.0 * (of_day - 0.45));
                charge = of_day < 0.45 ? 0.4 + 1.15 * of_day : std::min(1.0, 0.94 + 0.3 * (of_day - 0.45));
                if (share < 1.0) p = {curve.voltage_v(share * p.current_a), share * p.current_a};
                break;
            }
            case Cause::wall: {
                wall_w = 250.0 + 80.0 * of_day;
                const double left_w = 400.0 - wall_w;
                if (left_w >= p.power_w()) break;
                p = curve.power_crossing(left_w, p, {curve.open_circuit_v(), 0.0});
                break;
            }
            case Cause::display:
                if (p.power_w() < log_.accuracy.display_w) p = {p.voltage_v, 0.0};
                break;
            case Cause::bypassed_group:
                w.strings[1].panels[1].groups = {{1.0, 0.0}, {0.0, 0.0}};
                without(w);
                break;
            case Cause::missing_string:
                w.strings.pop_back();
                without(w);
                break;
            case Cause::shade: {
                const double share = 0.35 + 0.4 * std::abs(std::sin(9.0 * of_day));
                const physics::Condition less{now[0].irradiance_w_per_m2 * share, now[0].cell};
                p = system.operating_point(0, system.curve(w, {less})).point;
                break;
            }
            case Cause::unexplained:
                p = {0.62 * p.voltage_v, 0.55 * p.current_a};
                break;
            default:
                break;
        }
    }

    test::Dice dice_;
    Cause cause_;
    MadeLog log_;
    double volt_bias_ = 1.0;
    double amp_bias_ = 1.0;
    double sun_bias_ = 1.0;
    double panel_volt_ = 1.0;
    double panel_amp_ = 1.0;
};

}  // namespace plait::measured
