#include <plait/measured/field_model.hpp>

#include <plait/physics/cell_temperature.hpp>
#include <plait/study/judgement.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace plait::measured {

struct FieldModel::Sun {
    physics::PanelPhysics panel;
    physics::Condition condition;
};

FieldState as_planned(const ArrayPlan& plan) {
    FieldState state;
    for (const InputWiring& wiring : plan) {
        std::vector<FieldString>& strings = state.inputs.emplace_back();
        for (const SeriesString& string : wiring.strings) {
            FieldString& real = strings.emplace_back();
            real.blocking_diode = string.blocking_diode;
            for (const PanelPlace& place : string.panels) real.panels.push_back({place, false, 0});
        }
    }
    return state;
}

namespace {

std::size_t first_kind(const ArrayPlan& plan) {
    for (const InputWiring& wiring : plan) {
        for (const SeriesString& string : wiring.strings) {
            if (!string.panels.empty()) return string.panels.front().kind;
        }
    }
    return 0;
}

FieldSky sky_of(const Setup& setup, const ArrayPlan& plan, const FieldConditions& given) {
    const FieldWeather& w = given.weather;
    FieldSky sky;
    sky.irradiance_given = w.irradiance_w_per_m2.has_value();
    if (sky.irradiance_given) {
        sky.irradiance_w_per_m2 = *w.irradiance_w_per_m2;
        sky.irradiance_low_w_per_m2 = sky.irradiance_w_per_m2 * (1.0 - given.accuracies.irradiance_ratio);
        sky.irradiance_high_w_per_m2 = sky.irradiance_w_per_m2 * (1.0 + given.accuracies.irradiance_ratio);
    } else {
        // Voltages follow the logarithm of the light, so the middle is the geometric one.
        sky.irradiance_w_per_m2 = std::sqrt(dullest_w_per_m2 * brightest_w_per_m2);
        sky.irradiance_low_w_per_m2 = dullest_w_per_m2;
        sky.irradiance_high_w_per_m2 = brightest_w_per_m2;
    }
    sky.temperature_given = w.cell || w.air;
    double air_k = given.accuracies.temperature_k;
    if (!w.cell) {
        const double coldest = setup.site.coldest_air.degc;
        const double hottest = setup.site.hottest_air.degc;
        sky.air = w.air.value_or(Celsius{0.5 * (coldest + hottest)});
        if (!w.air) air_k = 0.5 * (hottest - coldest);
        air_k = std::hypot(air_k, given.accuracies.mounting_k);
        sky.cell = *sky.air + physics::rise_above_air_k(setup.kinds[first_kind(plan)].panel, setup.site.mounting,
                                                        sky.irradiance_w_per_m2);
    } else {
        sky.cell = *w.cell;
    }
    sky.temperature_k = air_k;
    return sky;
}

}  // namespace

FieldModel::FieldModel(const study::SystemModel& system, const ArrayPlan& plan, const FieldConditions& conditions)
    : system_(&system), plan_(plan), given_(conditions), sky_(sky_of(system.setup(), plan, conditions)) {}

std::vector<FieldModel::Sun> FieldModel::suns(const FieldState& state, double light_error_factor,
                                              double warmer_k) const {
    const Setup& setup = system_->setup();
    const double irradiance = sky_.irradiance_w_per_m2 * state.light_factor * light_error_factor;
    std::vector<Sun> all;
    for (std::size_t kind = 0; kind < setup.kinds.size(); ++kind) {
        const Panel& panel = setup.kinds[kind].panel;
        Sun sun{{system_->fitted(kind).model, panel.bypass_diodes, panel.cells_in_series, panel.half_cut},
                {irradiance, sky_.cell}};
        if (sky_.air) {
            sun.condition.cell = *sky_.air + physics::rise_above_air_k(panel, setup.site.mounting, irradiance);
        }
        sun.condition.cell = sun.condition.cell + warmer_k;
        if (state.shifted_kind && *state.shifted_kind == kind) {
            physics::DiodeModel& model = sun.panel.model;
            if (model.law == physics::SaturationLaw::voc_line) {
                model.voc_coefficient_per_k += state.coefficient_shift_per_k;
            } else {
                // That law has no coefficient to change; cells so much warmer have the same open-circuit voltage.
                const double from_stc_k = sun.condition.cell - stc_cell;
                sun.condition.cell =
                    sun.condition.cell + state.coefficient_shift_per_k / model.voc_coefficient_per_k * from_stc_k;
            }
        }
        sun.condition.cell.degc = std::clamp(sun.condition.cell.degc, -60.0, 150.0);
        all.push_back(sun);
    }
    return all;
}

std::vector<physics::SeriesPart> FieldModel::parts_of(const FieldString& string, const std::vector<Sun>& suns) {
    std::vector<physics::SeriesPart> parts;
    const auto add = [&](const physics::GroupCurve& curve) {
        const auto known = std::find_if(parts.begin(), parts.end(),
                                        [&](const physics::SeriesPart& part) { return part.curve == curve; });
        if (known != parts.end()) {
            known->count += 1.0;
        } else {
            parts.push_back({curve, 1.0});
        }
    };
    double rated_a = 0.0;
    double warmest_degc = -60.0;
    for (const FieldPanel& panel : string.panels) {
        const Sun& sun = suns[panel.place.kind];
        rated_a = std::max(rated_a, sun.panel.model.isc_a);
        warmest_degc = std::max(warmest_degc, sun.condition.cell.degc);
        const std::size_t groups = sun.panel.group_count();
        for (std::size_t g = 0; g + panel.shorted_groups < groups; ++g) {
            const GroupState state = g < panel.place.groups.size() ? panel.place.groups[g] : GroupState{};
            const physics::GroupCurve curve = physics::group_curve(sun.panel, sun.condition, state);
            add(panel.backward != string.backward ? curve.turned() : curve);
        }
    }
    if (string.blocking_diode && !string.panels.empty()) {
        const physics::GroupCurve diode = physics::blocking_element(rated_a, Celsius{warmest_degc});
        add(string.backward ? diode.turned() : diode);
    }
    return parts;
}

/// Each is built when first asked for: most questions are about one input.
class FieldModel::Arrays {
public:
    Arrays(const FieldModel& model, const FieldState& state, std::vector<Sun> suns)
        : model_(&model),
          state_(&state),
          suns_(std::move(suns)),
          string_ohms_(state.inputs.size()),
          arrays_(state.inputs.size()),
          points_(state.inputs.size()) {}

    /// The parts of a string with its own cables; none where it has no panels.
    [[nodiscard]] std::vector<physics::SeriesPart> string(std::size_t input, std::size_t string) {
        std::vector<physics::SeriesPart> parts = parts_of(state_->inputs[input][string], suns_);
        const double ohm = wires(input).string_ohm.empty() ? 0.0 : wires(input).string_ohm[string];
        if (ohm > 0.0 && !parts.empty()) parts.push_back({physics::wire_element(ohm), 1.0});
        return parts;
    }

    [[nodiscard]] const physics::ArrayCurve& at(std::size_t input) {
        if (!arrays_[input]) {
            std::vector<std::vector<physics::SeriesPart>> strings;
            for (std::size_t i = 0; i < state_->inputs.size(); ++i) {
                for (std::size_t s = 0; s < state_->inputs[i].size(); ++s) {
                    const FieldString& one = state_->inputs[i][s];
                    if (!one.open && one.joined_at.value_or(i) == input) strings.push_back(string(i, s));
                }
            }
            arrays_[input] = physics::ArrayCurve::of_strings(strings, wires(input).trunk_ohm);
        }
        return *arrays_[input];
    }

    /// What the input would take by itself.
    [[nodiscard]] const physics::OperatingPoint& alone(std::size_t input) {
        if (!points_[input]) points_[input] = model_->system().operating_point(input, at(input));
        return *points_[input];
    }

    [[nodiscard]] std::optional<SharedLimit> shared() {
        const Controller& controller = model_->system().setup().controller;
        if (physics::pinned_voltage_v(controller)) return std::nullopt;  // it cannot hold back
        const bool may_share = state_->inputs.size() > 1 && physics::charging_power_limit_w(controller);
        if (!may_share && !controller.max_total_power_w) return std::nullopt;
        double wanted_w = 0.0;
        for (std::size_t i = 0; i < state_->inputs.size(); ++i) {
            if (alone(i).held()) wanted_w += alone(i).point.power_w();
        }
        const double limit_w = study::shared_w(controller, wanted_w);
        return limit_w < wanted_w ? std::optional<SharedLimit>({limit_w, wanted_w}) : std::nullopt;
    }

    [[nodiscard]] physics::OperatingPoint held(std::size_t input) {
        const physics::OperatingPoint& own = alone(input);
        if (!asked_) {
            shared_ = shared();
            asked_ = true;
        }
        if (!shared_ || !own.held()) return own;
        physics::AcceptanceWindow window = model_->system().window(input);
        window.power_w = own.point.power_w() * shared_->limit_w / shared_->wanted_w;
        return physics::operating_point(at(input), window);
    }

private:
    // The cables follow the panels that are really there: each has its leads.
    [[nodiscard]] const physics::WireResistance& wires(std::size_t input) {
        if (!string_ohms_[input]) {
            InputWiring wiring;
            for (const FieldString& string : state_->inputs[input]) {
                SeriesString& built = wiring.strings.emplace_back();
                for (const FieldPanel& panel : string.panels) built.panels.push_back(panel.place);
            }
            string_ohms_[input] = model_->system().wires(input, wiring);
        }
        return *string_ohms_[input];
    }

    const FieldModel* model_;
    const FieldState* state_;
    std::vector<Sun> suns_;
    std::vector<std::optional<physics::WireResistance>> string_ohms_;
    std::vector<std::optional<physics::ArrayCurve>> arrays_;
    std::vector<std::optional<physics::OperatingPoint>> points_;
    std::optional<SharedLimit> shared_;
    bool asked_ = false;
};

physics::OperatingPoint FieldModel::operating(std::size_t input) const {
    const FieldState planned = as_planned(plan_);
    return Arrays(*this, planned, suns(planned, 1.0, 0.0)).held(input);
}

std::optional<SharedLimit> FieldModel::shared_limit() const {
    const FieldState planned = as_planned(plan_);
    return Arrays(*this, planned, suns(planned, 1.0, 0.0)).shared();
}

std::vector<double> FieldModel::readings(const FieldState& state, std::span<const ReadingPlace> places,
                                         double light_error_factor, double warmer_k) const {
    Arrays arrays(*this, state, suns(state, light_error_factor, warmer_k));
    std::vector<std::optional<physics::OperatingPoint>> points(state.inputs.size());
    std::vector<double> values;
    for (const ReadingPlace& place : places) {
        if (is_of_string(place.point)) {
            std::vector<physics::SeriesPart> parts = arrays.string(place.input, place.string);
            if (state.inputs[place.input][place.string].open || parts.empty()) {
                values.push_back(0.0);
                continue;
            }
            const physics::ArrayCurve curve = physics::ArrayCurve::of_string(std::move(parts));
            values.push_back(place.point == MeterPoint::string_voc ? curve.open_circuit_v() : curve.short_circuit_a());
        } else if (place.point == MeterPoint::array_voc) {
            values.push_back(arrays.at(place.input).open_circuit_v());
        } else if (place.point == MeterPoint::array_isc) {
            values.push_back(arrays.at(place.input).short_circuit_a());
        } else {
            std::optional<physics::OperatingPoint>& point = points[place.input];
            if (!point) point = arrays.held(place.input);
            // An input that takes nothing shows its array's open-circuit voltage.
            const physics::PowerPoint p =
                point->held() ? point->point : physics::PowerPoint{arrays.at(place.input).open_circuit_v(), 0.0};
            values.push_back(place.point == MeterPoint::display_v   ? p.voltage_v
                             : place.point == MeterPoint::display_a ? p.current_a
                                                                    : p.power_w());
            continue;
        }
        // The hand-held meter, not the display.
        values.back() *= is_voltage(place.point) ? state.volts_shown_factor : state.amps_shown_factor;
    }
    return values;
}

double FieldModel::voc_at_cell_v(ReadingPlace place, Celsius cell) const {
    const FieldState planned = as_planned(plan_);
    std::vector<Sun> sun = suns(planned, 1.0, 0.0);
    for (Sun& s : sun) s.condition.cell = cell;
    Arrays arrays(*this, planned, std::move(sun));
    if (place.point != MeterPoint::string_voc) return arrays.at(place.input).open_circuit_v();
    return physics::ArrayCurve::of_string(arrays.string(place.input, place.string)).open_circuit_v();
}

std::vector<ReadingPlace> FieldModel::places_of(std::size_t input) const {
    std::vector<ReadingPlace> places;
    for (std::size_t s = 0; s < plan_[input].strings.size(); ++s) {
        places.push_back({MeterPoint::string_voc, input, s});
        places.push_back({MeterPoint::string_isc, input, s});
    }
    for (const MeterPoint point : meter_points) {
        if (!is_of_string(point)) places.push_back({point, input, 0});
    }
    return places;
}

}  // namespace plait::measured
