#include <plait/study/apply_cure.hpp>

#include <plait/rules/cure_search.hpp>

namespace plait::study {

using rules::CureKind;

std::optional<ChangedSetup> apply(const rules::Cure& cure, const Setup& setup, const ArrayPlan& plan) {
    if (cure.input >= plan.size()) return std::nullopt;
    ChangedSetup changed{setup, plan};
    InputWiring& wiring = changed.plan[cure.input];
    Fittings& fittings = changed.setup.fittings;
    switch (cure.kind) {
        case CureKind::fewer_in_series:
            wiring = rules::cut_to(wiring, cure.count);
            break;
        case CureKind::more_in_series:
            wiring = rules::grown_to(wiring, cure.count);
            break;
        case CureKind::fewer_strings:
            wiring = rules::first_strings(wiring, cure.count);
            break;
        case CureKind::string_fuse:
            // One rating for every string: what a string of this input has of its own gives way to it.
            for (SeriesString& string : wiring.strings) string.fuse_a.reset();
            fittings.string_fuse_a = cure.rating_a;
            fittings.string_fuse_v = cure.rating_v;
            break;
        case CureKind::blocking_diodes:
            for (SeriesString& string : wiring.strings) string.blocking_diode = true;
            break;
        case CureKind::own_string_fuses:
            if (cure.string_fuses_a.size() != wiring.strings.size()) return std::nullopt;
            for (std::size_t i = 0; i < wiring.strings.size(); ++i) wiring.strings[i].fuse_a = cure.string_fuses_a[i];
            fittings.string_fuse_v = cure.rating_v;
            break;
        case CureKind::cable_sizes:
            for (const rules::ThickerCable& thicker : cure.cables) {
                if (thicker.cable >= setup.cables.size()) return std::nullopt;
                changed.setup.cables[thicker.cable].size = thicker.size;
                changed.setup.cables[thicker.cable].resistance_ohm_per_m.reset();  // it was that of the old one
            }
            break;
        case CureKind::disconnect_volts:
            fittings.disconnect_v = cure.rating_v;
            break;
        case CureKind::disconnect_amps:
            fittings.disconnect_a = cure.rating_a;
            break;
        case CureKind::connectors:
            fittings.connector_a = cure.rating_a;
            break;
        case CureKind::branch_connectors:
            fittings.branch_a = cure.rating_a;
            break;
        case CureKind::battery_fuse:
            fittings.battery_fuse_a = cure.rating_a;
            break;
        case CureKind::more_panels:
            if (cure.panel_kind >= setup.kinds.size()) return std::nullopt;
            changed.setup.kinds[cure.panel_kind].count += static_cast<int>(cure.count);
            break;
    }
    return changed;
}

}  // namespace plait::study
