#include <plait/measured/commissioning_card.hpp>

#include <plait/study/look_up.hpp>

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cold_methods.hpp>

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

constexpr double short_circuit_factor = 1.25;  // Voc × 1.25 for the insulation test
constexpr double extra_low_v = 120.0;

double highest_voc_stc_v(const Setup& setup, const InputWiring& wiring) {
    double highest_v = 0.0;
    for (const SeriesString& string : wiring.strings) {
        double v = 0.0;
        for (const PanelPlace& place : string.panels) v += setup.kinds[place.kind].panel.voc_v;
        highest_v = std::max(highest_v, v);
    }
    return highest_v;
}

// Each fault once, at the first string of the input it can be at.
std::vector<FaultRow> rows_of(const FieldModel& model, std::size_t input, const std::vector<ReadingPlace>& places) {
    const FieldState planned = as_planned(model.plan());
    const FaultScene scene = fault_scene(model, planned, places);
    const std::size_t first_kind = model.plan()[input].strings.front().panels.front().kind;
    std::vector<FaultRow> rows;
    for (const Fault* fault : all_faults()) {
        Suspicions suspicions;
        fault->suspect(scene, suspicions);
        for (const Suspicion& s : suspicions) {
            const bool here = s.place.input ? *s.place.input == input && s.place.string.value_or(0) == 0
                                            : !s.place.kind || *s.place.kind == first_kind;
            if (!here) continue;
            rows.push_back({fault, s.place, s.example_factor, model.readings(s.state(s.example_factor), places)});
            break;
        }
    }
    return rows;
}

}  // namespace

double Expectation::half_width_value() const {
    return std::sqrt(from_array_value * from_array_value + from_meter_value * from_meter_value +
                     light_shift_value * light_shift_value + warmth_shift_value * warmth_shift_value);
}

std::vector<Expectation> expectations(const FieldModel& model, const std::vector<ReadingPlace>& places) {
    const FieldState planned = as_planned(model.plan());
    const FieldSky& sky = model.sky();
    const Accuracies& by = model.conditions().accuracies;
    const std::vector<double> as_given = model.readings(planned, places);
    const std::vector<double> darker = model.readings(planned, places, sky.dimmest_factor(), 0.0);
    const std::vector<double> brighter = model.readings(planned, places, sky.brightest_factor(), 0.0);
    const std::vector<double> cooler = model.readings(planned, places, 1.0, -sky.temperature_k);
    const std::vector<double> warmer = model.readings(planned, places, 1.0, sky.temperature_k);
    std::vector<Expectation> all;
    for (std::size_t i = 0; i < places.size(); ++i) {
        Expectation& e = all.emplace_back();
        e.place = places[i];
        e.value = as_given[i];
        const double size = std::abs(e.value);
        e.from_array_value = by.array_ratio * size;
        e.from_meter_value = (is_of_display(e.place.point) ? by.display_ratio : by.meter_ratio) * size;
        e.light_shift_value = 0.5 * (brighter[i] - darker[i]);
        e.warmth_shift_value = 0.5 * (warmer[i] - cooler[i]);
    }
    return all;
}

int insulation_test_v(double voc_stc_v) {
    const double v = short_circuit_factor * voc_stc_v;
    return v < extra_low_v ? 250 : v <= 500.0 ? 500 : 1000;
}

double insulation_least_ohm(double voc_stc_v) { return short_circuit_factor * voc_stc_v < extra_low_v ? 0.5e6 : 1e6; }

CommissioningCard commissioning_card(const FieldModel& model) {
    const Setup& setup = model.system().setup();
    CommissioningCard card;
    card.conditions = model.conditions();
    card.sky = model.sky();
    card.shared = model.shared_limit();
    const study::Judgement judgement = study::judge_and_look_up(model.system(), model.plan()).judgement;
    card.plan_verdict = judgement.verdict;
    card.cautions = judgement.cautions;
    for (const study::InputJudgement& judged : judgement.inputs) {
        InputCard& one = card.inputs.emplace_back();
        one.input = judged.input;
        one.expected = expectations(model, model.places_of(one.input));
        one.operating = model.operating(one.input);
        one.row_places = {{MeterPoint::string_voc, one.input, 0}, {MeterPoint::string_isc, one.input, 0},
                          {MeterPoint::array_voc, one.input, 0},  {MeterPoint::array_isc, one.input, 0},
                          {MeterPoint::display_v, one.input, 0},  {MeterPoint::display_a, one.input, 0},
                          {MeterPoint::display_w, one.input, 0}};
        one.rows = rows_of(model, one.input, one.row_places);
        one.cold_voc_v = judged.wires.stand_v;
        one.highest_isc_a = judged.facts.bright_isc_a;
        const ReadingPlace first{MeterPoint::string_voc, one.input, 0};
        const Celsius cell = model.sky().cell;
        one.string_v_per_k = 0.5 * (model.voc_at_cell_v(first, cell + 1.0) - model.voc_at_cell_v(first, cell - 1.0));
        const double voc_stc_v = highest_voc_stc_v(setup, judged.wiring);
        one.insulation_test_v = insulation_test_v(voc_stc_v);
        one.insulation_least_ohm = insulation_least_ohm(voc_stc_v);
    }
    return card;
}

}  // namespace plait::measured
