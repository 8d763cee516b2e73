// Arrays in the field for the tests of expectation and diagnosis.
#pragma once

#include "../study/trial.hpp"

#include <plait/measured/diagnosis.hpp>
#include <plait/measured/commissioning_card.hpp>

namespace plait::measured {
using namespace study;

/// Voc 24.3 V, β −0.33 %/K, Isc 10 A, α 0.05 %/K; two bypass diodes.
inline Panel field_panel() {
    Panel p = rules::round_panel();
    p.name = "Field 190";
    p.pmax_w = 190.0;
    p.vmp_v = 20.0;
    p.imp_a = 9.5;
    p.voc_v = 24.3;
    p.isc_a = 10.0;
    p.isc_coefficient_per_k = 0.0005;
    p.voc_coefficient_per_k = -0.0033;
    p.pmax_coefficient_per_k = -0.0040;
    p.max_series_fuse_a = 20.0;
    return p;
}

/// One or more inputs of 400 V that take whatever comes.
inline Trial field_trial() {
    Trial t = roomy_trial();
    t.panel() = field_panel();
    t.input().max_voltage_v = 400.0;
    t.input().tracking_min_v = 5.0;
    t.input().tracking_max_v = 400.0;
    t.input().start_voltage_v = 6.0;
    t.input().bands = {{0.0, 400.0, 100.0}};
    t.input().max_power_w = 20000.0;
    return t;
}

/// A trial with its model; the model keeps pointers, so it stays where it is.
struct Field {
    Trial trial;
    SystemModel system;
    FieldModel model;

    Field(Trial t, FieldConditions conditions)
        : trial(std::move(t)), system(trial.setup), model(system, trial.plan, conditions) {}
    Field(const Field&) = delete;
    Field& operator=(const Field&) = delete;

    [[nodiscard]] std::vector<ReadingPlace> all_places() const {
        std::vector<ReadingPlace> all;
        for (std::size_t i = 0; i < trial.plan.size(); ++i) {
            if (trial.plan[i].empty()) continue;
            for (const ReadingPlace& place : model.places_of(i)) all.push_back(place);
        }
        return all;
    }
    [[nodiscard]] std::vector<MeterReading> read(const FieldState& state,
                                                 const std::vector<ReadingPlace>& places) const {
        const std::vector<double> values = model.readings(state, places);
        std::vector<MeterReading> readings;
        for (std::size_t i = 0; i < places.size(); ++i) readings.push_back({places[i], values[i]});
        return readings;
    }
    [[nodiscard]] FieldState planned() const { return as_planned(trial.plan); }
};

inline FieldConditions in_weather(double irradiance, double cell_degc) {
    FieldConditions c;
    c.weather.cell = Celsius{cell_degc};
    c.weather.irradiance_w_per_m2 = irradiance;
    return c;
}

/// Perfect instruments: only the 5 % of IEC 62446-1 are left.
inline FieldConditions with_perfect_instruments(FieldConditions c) {
    c.accuracies.meter_ratio = 0.0;
    c.accuracies.display_ratio = 0.0;
    c.accuracies.irradiance_ratio = 0.0;
    c.accuracies.temperature_k = 0.0;
    c.accuracies.mounting_k = 0.0;
    return c;
}

inline ReadingPlace string_voc(std::size_t string, std::size_t input = 0) {
    return {MeterPoint::string_voc, input, string};
}
inline ReadingPlace string_isc(std::size_t string, std::size_t input = 0) {
    return {MeterPoint::string_isc, input, string};
}
inline ReadingPlace at_input(MeterPoint point, std::size_t input = 0) { return {point, input, 0}; }

}  // namespace plait::measured
