#include <plait/study/fuses_wanted.hpp>

#include <plait/rules/array_figures.hpp>

#include <algorithm>

namespace plait::study {

WireSheet wire_sheet(const rules::Situation& s) {
    WireSheet sheet;
    sheet.working_v = rules::working_voltage_v(s);
    const rules::Figure cold_voc = rules::cold_voc_v(s);
    sheet.cold_voc_v = cold_voc.value;
    sheet.stand_v = cold_voc.spread.upper();
    sheet.bright_isc_a = rules::array_bright_isc_a(s, s.wiring()).value;
    sheet.cables = rules::cable_figures(s);
    for (const rules::CableFigures& f : sheet.cables) sheet.drop_v += f.drop_v;
    sheet.fuses = rules::string_fuse_figures(s);
    sheet.connectors = rules::connector_figures(s);
    return sheet;
}

BatterySheet battery_sheet(const rules::Situation& s) {
    return {rules::battery_current(s), rules::battery_cable_figures(s)};
}

bool fuses_wanted(const Setup& setup, std::span<const rules::StringFuse> fuses) {
    std::size_t strings = 0;
    for (const rules::StringFuse& f : fuses) strings += f.strings.size();
    if (strings < 2) return false;
    return std::any_of(fuses.begin(), fuses.end(),
                       [&](const rules::StringFuse& f) { return f.fitted_a || f.needed(setup.site.code); });
}

bool fuses_wanted(const Setup& setup, const WireSheet& sheet) { return fuses_wanted(setup, sheet.fuses); }

std::optional<double> chosen_fuse_a(const Setup& setup, const rules::StringFuse& fuse) {
    if (fuse.fitted_a) return fuse.fitted_a;
    const std::vector<double>& sizes = setup.site.code == Code::nec   ? fuse.nec.sizes
                                       : setup.site.code == Code::iec ? fuse.iec.sizes
                                                                      : fuse.both;
    return sizes.empty() ? std::nullopt : std::optional(sizes.front());
}

}  // namespace plait::study
