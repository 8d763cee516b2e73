#include <plait/rules/array_figures.hpp>
#include "wires_json.hpp"

#include "render/style.hpp"

namespace plait::output {
namespace {

Json size_json(const CableSize& size) {
    return {{"area_mm2", number(size.area_mm2)}, {"awg", maybe(size.awg)}, {"text", size_text(size)}};
}
Json size_json(const std::optional<CableSize>& size) { return size ? size_json(*size) : Json(nullptr); }

Json nec_json(const std::optional<physics::NecAmpacity>& a, bool within) {
    if (!a) return nullptr;
    return {{"taken_as", size_json(a->taken_as)},
            {"terminals_ampacity_a", maybe(a->terminal_a)},
            {"table_ampacity_a", maybe(a->column_a)},
            {"ambient_factor", maybe(a->ambient_factor)},
            {"bundle_factor", number(a->bundle_factor)},
            {"corrected_ampacity_a", maybe(a->corrected_a)},
            {"within", within}};
}

Json iec_json(const std::optional<physics::IecAmpacity>& a, bool within) {
    if (!a) return nullptr;
    return {{"taken_as", size_json(a->taken_as)},
            {"table_ampacity_a", maybe(a->table_a)},
            {"ambient_factor", maybe(a->ambient_factor)},
            {"bundle_factor", number(a->bundle_factor)},
            {"corrected_ampacity_a", maybe(a->corrected_a)},
            {"within", within}};
}

Json cable_json(const Setup& setup, const rules::CableFigures& f) {
    const Cable& c = setup.cables[f.cable];
    Json j;
    j["number"] = f.cable + 1;
    j["name"] = c.name;
    j["run"] = plait::name_of(c.run);
    j["length_m"] = number(c.length_m);
    j["size"] = size_json(c.size);
    j["kind"] = plait::name_of(c.kind);
    j["table_ohm_per_m"] = number(f.table_ohm_per_m);
    j["conductor_degc"] = number(c.conductor.degc);
    j["ambient_degc"] = number(c.ambient.degc);
    j["laid"] = plait::name_of(c.laying);
    j["circuits"] = c.circuits;
    j["loop_ohm"] = number(f.loop_ohm);
    j["working_a"] = number(f.currents.working_a);
    j["most_a"] = number(f.currents.most_a);
    j["continuous_a"] = number(f.currents.continuous_a);
    j["drop_v"] = number(f.drop_v);
    j["drop_ratio"] = number(f.drop_ratio);
    j["loss_w"] = number(f.loss_w);
    j["nec"] = nec_json(f.nec, f.within_nec());
    j["iec"] = iec_json(f.iec, f.within_iec());
    j["smallest_for_drop"] = size_json(f.smallest_for_drop);
    j["smallest_by_nec"] = size_json(f.smallest_by_nec);
    j["smallest_by_iec"] = size_json(f.smallest_by_iec);
    return j;
}

Json cables_json(const Setup& setup, const std::vector<rules::CableFigures>& cables) {
    Json list = Json::array();
    for (const rules::CableFigures& f : cables) list.push_back(cable_json(setup, f));
    return list;
}

Json window_json(const rules::FuseWindow& w) {
    return {{"least_a", number(w.least_a)}, {"most_a", number(w.most_a)}, {"sizes_a", w.sizes}};
}

Json fuse_json(const Setup& setup, const rules::StringFuse& f, double stand_v) {
    Json j;
    j["string"] = f.strings.front() + 1;
    j["strings_alike"] = f.strings.size();
    j["isc_a"] = number(f.isc_a);
    j["isc_bright_sky_a"] = number(f.bright_a);
    j["isc_continuous_a"] = number(rules::continuous_duty_factor * f.bright_a);
    j["others_a"] = number(f.others_a);
    j["others_bright_sky_a"] = number(f.others_bright_a);
    j["panel_rating_a"] = number(f.panel_rating_a);
    j["needed_by_nec"] = f.needed_by_nec;
    j["needed_by_iec"] = f.needed_by_iec;
    j["needed_by_cable"] = f.needed_by_cable;
    j["nec"] = window_json(f.nec);
    j["iec"] = window_json(f.iec);
    j["both_sizes_a"] = f.both;
    j["fitted_a"] = maybe(f.fitted_a);
    j["chosen_a"] = maybe(study::chosen_fuse_a(setup, f));
    j["least_voltage_v"] = number(stand_v);
    return j;
}

Json load_json(const rules::ConnectorLoad& l) {
    return {{"current_a", number(l.current_a)}, {"rating_a", maybe(l.rating_a)}, {"rating_assumed", l.assumed}};
}

}  // namespace

Json wires_json(const Setup& setup, const study::WireSheet& sheet) {
    Json j;
    j["working_v"] = number(sheet.working_v);
    j["drop_target_ratio"] = number(setup.drop_target_ratio);
    j["drop_v"] = number(sheet.drop_v);
    j["drop_ratio"] = number(sheet.drop_ratio());
    j["cables"] = cables_json(setup, sheet.cables);
    j["string_fuses"] = Json::array();
    for (const rules::StringFuse& f : sheet.fuses) j["string_fuses"].push_back(fuse_json(setup, f, sheet.stand_v));
    j["connectors"] = {{"leg", load_json(sheet.connectors.leg)},
                       {"leg_reverse_a", number(sheet.connectors.leg_reverse_a)},
                       {"common_leg", load_json(sheet.connectors.common)},
                       {"plug", load_json(sheet.connectors.plug)},
                       {"plug_fault_a", number(sheet.connectors.plug_fault_a)}};
    j["disconnect"] = {{"least_voltage_v", number(sheet.stand_v)}, {"least_current_a", number(sheet.bright_isc_a)}};
    return j;
}

Json battery_json(const Setup& setup, const study::BatterySheet& sheet) {
    if (!sheet.current) return nullptr;
    return {{"unlimited_a", number(sheet.current->unlimited_a)},
            {"charge_a", number(sheet.current->charge_a)},
            {"fuse_least_a", number(sheet.current->fuse_least_a)},
            {"fuse_a", maybe(sheet.current->fuse_a)},
            {"cables", cables_json(setup, sheet.cables)}};
}

Json cable_effect_json(const rules::ConditionPoint& p) {
    if (!p.cable) return nullptr;
    return {{"drop_v", number(p.cable->drop_v)},
            {"loss_w", number(p.cable->loss_w)},
            {"loss_ratio", number(p.cable_loss_ratio())},
            {"without", power_point(p.cable->without.point)}};
}

}  // namespace plait::output
