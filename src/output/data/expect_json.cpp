#include <plait/measured/commissioning_card.hpp>
#include <plait/measured/diagnosis.hpp>
#include <plait/measured/field_model.hpp>

#include "report/expect_words.hpp"
#include "json_parts.hpp"
#include "render/style.hpp"

namespace plait::output {
namespace {

std::string_view unit_of(MeterPoint point) { return is_power(point) ? "W" : is_voltage(point) ? "V" : "A"; }

const std::string& input_name(const measured::FieldModel& model, std::size_t input) {
    return model.system().setup().controller.inputs[input].name;
}

Json place_json(const measured::FieldModel& model, const ReadingPlace& place) {
    return {{"input", input_name(model, place.input)},
            {"point", name_of(place.point)},
            {"string", is_of_string(place.point) ? Json(place.string + 1) : Json(nullptr)},
            {"unit", unit_of(place.point)}};
}

Json expectation_json(const measured::FieldModel& model, const measured::Expectation& e) {
    Json j;
    j["at"] = place_json(model, e.place);
    j["value"] = number(e.value);
    j["low"] = number(e.low_value());
    j["high"] = number(e.high_value());
    j["half_widths"] = {{"array", number(e.from_array_value)},
                        {"meter", number(e.from_meter_value)},
                        {"light", number(e.from_light_value())},
                        {"temperature", number(e.from_warmth_value())}};
    return j;
}

Json fault_place_json(const measured::FieldModel& model, const measured::FaultPlace& place) {
    const Setup& setup = model.system().setup();
    const auto name = [&](const std::optional<std::size_t>& input) {
        return input ? Json(input_name(model, *input)) : Json(nullptr);
    };
    const auto count = [](const std::optional<std::size_t>& string) {
        return string ? Json(*string + 1) : Json(nullptr);
    };
    return {{"input", name(place.input)},
            {"string", count(place.string)},
            {"panel", place.kind ? Json(setup.kinds[*place.kind].id) : Json(nullptr)},
            {"other_panel", place.other_kind ? Json(setup.kinds[*place.other_kind].id) : Json(nullptr)},
            {"other_input", name(place.other_input)},
            {"other_string", count(place.other_string)},
            {"words", where_of(model, place)}};
}

Json values_json(const std::vector<double>& values) {
    Json list = Json::array();
    for (const double v : values) list.push_back(number(v));
    return list;
}

Json conditions_json(const measured::CommissioningCard& card) {
    const measured::FieldSky& sky = card.sky;
    const Accuracies& a = card.conditions.accuracies;
    return {{"irradiance_given", sky.irradiance_given},
            {"irradiance_w_per_m2", number(sky.irradiance_w_per_m2)},
            {"irradiance_low_w_per_m2", number(sky.irradiance_low_w_per_m2)},
            {"irradiance_high_w_per_m2", number(sky.irradiance_high_w_per_m2)},
            {"temperature_given", sky.temperature_given},
            {"air_degc", sky.air ? number(sky.air->degc) : Json(nullptr)},
            {"cell_degc", number(sky.cell.degc)},
            {"cell_accuracy_k", number(sky.temperature_k)},
            {"array_accuracy_ratio", a.array_ratio},
            {"meter_accuracy_ratio", a.meter_ratio},
            {"display_accuracy_ratio", a.display_ratio},
            {"irradiance_accuracy_ratio", a.irradiance_ratio}};
}

Json input_json(const measured::FieldModel& model, const measured::InputCard& one) {
    Json j;
    j["name"] = input_name(model, one.input);
    j["wiring"] = label(model.plan()[one.input], kind_ids(model.system().setup()));
    j["max_voltage_v"] = maybe(model.system().setup().controller.inputs[one.input].max_voltage_v);
    j["cold_voc_v"] = number(one.cold_voc_v);
    j["highest_isc_a"] = number(one.highest_isc_a);
    j["one_kelvin_v"] = number(one.string_v_per_k);
    j["insulation_test_v"] = one.insulation_test_v;
    j["insulation_least_ohm"] = number(one.insulation_least_ohm);
    j["held"] = one.operating.held();
    j["binding"] = name_of(one.operating.binding);
    j["expected"] = Json::array();
    for (const measured::Expectation& e : one.expected) j["expected"].push_back(expectation_json(model, e));
    j["fault_places"] = Json::array();
    for (const ReadingPlace& place : one.row_places) j["fault_places"].push_back(place_json(model, place));
    j["faults"] = Json::array();
    for (const measured::FaultRow& r : one.rows) {
        const bool degrees = r.fault->amount != measured::AmountKind::none;
        j["faults"].push_back({{"fault", r.fault->id},
                               {"title", r.fault->title},
                               {"meaning", r.fault->meaning},
                               {"remedy", r.fault->remedy},
                               {"put_right_first", r.fault->never_connect},
                               {"weight", r.fault->weight},
                               {"where", fault_place_json(model, r.place)},
                               {"amount_kind", name_of(r.fault->amount)},
                               {"amount", degrees ? number(r.amount_factor) : Json(nullptr)},
                               {"would_read", values_json(r.values)}});
    }
    return j;
}

Json suspects_json(const measured::FieldModel& model, const measured::Diagnosis& d) {
    Json list = Json::array();
    for (const measured::SuspectedFault& s : d.suspects) {
        list.push_back({{"fault", s.fault->id},
                        {"title", s.fault->title},
                        {"where", fault_place_json(model, s.place)},
                        {"amount_kind", name_of(s.fault->amount)},
                        {"amount", maybe(s.amount_factor)},
                        {"probability_ratio", number(s.probability_ratio)},
                        {"meaning", s.fault->meaning},
                        {"remedy", s.fault->remedy},
                        {"would_read", values_json(s.would_read)}});
    }
    return list;
}

Json diagnosis_json(const measured::FieldModel& model, const measured::Diagnosis& d) {
    Json j;
    j["all_within"] = d.all_within;
    j["stops"] = Json::array();
    for (const measured::Stop& s : d.stops) {
        j["stops"].push_back({{"reason", name_of(s.reason)},
                              {"at", place_json(model, s.place)},
                              {"beside", s.other ? place_json(model, *s.other) : Json(nullptr)},
                              {"value", number(s.value)},
                              {"limit", number(s.limit)},
                              {"text", sentence_of(model, d, s)}});
    }
    j["readings"] = Json::array();
    for (const measured::CheckedReading& r : d.readings) {
        Json one = expectation_json(model, r.expected);
        one["reading"] = number(r.reading.value);
        one["within"] = r.within;
        j["readings"].push_back(one);
    }
    j["nothing_wrong_ratio"] = number(d.sound_ratio);
    j["unknown_ratio"] = number(d.unknown_ratio);
    j["suspects"] = suspects_json(model, d);
    j["ambiguity"] = nullptr;
    if (d.ambiguity) {
        const bool further = d.ambiguity->further.has_value();
        j["ambiguity"] = {{"first", d.ambiguity->first},
                      {"second", d.ambiguity->second},
                      {"further", further ? place_json(model, *d.ambiguity->further) : Json(nullptr)},
                      {"first_would_read", further ? number(d.ambiguity->first_reading_value) : Json(nullptr)},
                      {"second_would_read", further ? number(d.ambiguity->second_reading_value) : Json(nullptr)}};
    }
    j["cell_temperatures"] = Json::array();
    for (const measured::CellFromVoc& c : d.cell_temperatures) {
        j["cell_temperatures"].push_back({{"at", place_json(model, c.place)},
                                          {"cell_degc", number(c.cell.degc)},
                                          {"half_width_k", number(c.half_k)},
                                          {"array_and_meter_k", number(c.voltage_half_k)},
                                          {"light_k", number(c.light_half_k)},
                                          {"coefficient_k", number(c.coefficient_half_k)}});
    }
    return j;
}

}  // namespace

std::string expect_json(const measured::FieldModel& model, const measured::CommissioningCard& card,
                        const measured::Diagnosis* diagnosis) {
    const bool over = card.plan_verdict.connection == study::Connection::forbidden;
    Json j = head("expect");
    j["title"] = model.system().setup().title;
    j["verdict"] = over || (diagnosis && !diagnosis->stops.empty()) ? "do-not-connect"
                   : !diagnosis                                     ? "card"
                   : diagnosis->all_within                          ? "pass"
                                                                    : "outside";
    j["plan"] = verdict_json(model.system().setup(), card.plan_verdict);
    j["weather"] = conditions_json(card);
    j["shared_limit"] =
        card.shared ? Json{{"limit_w", number(card.shared->limit_w)}, {"wanted_w", number(card.shared->wanted_w)}}
                    : Json(nullptr);
    j["inputs"] = Json::array();
    for (const measured::InputCard& one : card.inputs) j["inputs"].push_back(input_json(model, one));
    j["diagnosis"] = diagnosis ? diagnosis_json(model, *diagnosis) : Json(nullptr);
    j["cautions"] = cautions_json(card.cautions);
    return printed(j);
}

}  // namespace plait::output
