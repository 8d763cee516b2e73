#include "cold_words.hpp"

#include <plait/base/constants.hpp>
#include <plait/rules/stated_weather.hpp>

#include "words.hpp"

#include <algorithm>

namespace plait::rules {
namespace {

std::string coefficient_text(const Panel& panel) {
    return with_minus_sign(fmt::format("{:.3g} %/K", 100.0 * panel.voc_coefficient_per_k));
}

std::string factor_text(double ratio) { return fmt::format("{:.4g}", ratio); }

// Follows the factor.
std::string basis_text(const Situation& s, const ColdPart& part) {
    const Panel& panel = s.setup.kinds[part.kind].panel;
    switch (part.voltage.factor.basis) {
        case ColdBasis::coefficient:
            return " by the panels' own coefficient of " + coefficient_text(panel) +
                   (s.site().cold_method == ColdMethod::coefficient
                        ? ""
                        : ", as " + method_noun(s.site(), s.site().cold_method) +
                              (method_applies(panel, s.site().cold_method, s.site().coldest_air)
                                   ? " gives less"
                                   : " does not cover them"));
        case ColdBasis::code_table:
            return " by the code's table, which goes in steps of 5 K";
        case ColdBasis::flat_factor:
            return ", the site's flat factor";
        case ColdBasis::assumed_coefficient:
            return " by an assumed coefficient of " + coefficient_text(panel) + ", as the panels' own is not printed";
        case ColdBasis::table_for_want:
            return " by the code's table, as the panels' coefficient is not printed; it goes in steps of 5 K";
        case ColdBasis::beyond_table:
            return " by the code's table carried on below −40 °C, where it ends, in steps of 5 K";
        case ColdBasis::usual_factor:
            return ", the usual factor below 0 °C for panels whose coefficient is not printed";
        case ColdBasis::curve:
            return " by the panels' curve, which gives more than " +
                   method_noun(s.site(), s.site().cold_method);
    }
    return "";
}

}  // namespace

std::vector<ColdPart> cold_parts(const Situation& s, ColdMethod method) {
    const SeriesString* highest = nullptr;
    double highest_v = -1.0;
    for (const SeriesString& string : s.wiring().strings) {
        const double voc_v = string_cold_voc_v(s.stated(), string, method).value;
        if (voc_v <= highest_v) continue;
        highest_v = voc_v;
        highest = &string;
    }
    std::vector<ColdPart> parts;
    if (highest == nullptr) return parts;
    std::vector<const PanelPlace*> known;
    for (const PanelPlace& place : highest->panels) {
        const auto same = [&](const PanelPlace* p) { return *p == place; };
        if (std::any_of(known.begin(), known.end(), same)) continue;
        known.push_back(&place);
        parts.push_back({place.kind, panel_cold_voltage(s.stated(), place, method, s.site().coldest_air)});
    }
    return parts;
}

ColdBasis least_authority(const std::vector<ColdPart>& parts) {
    ColdBasis least = ColdBasis::coefficient;
    for (const ColdPart& part : parts) least = std::max(least, part.voltage.factor.basis);
    return least;
}

std::string method_noun(const Site& site, ColdMethod method) {
    switch (method) {
        case ColdMethod::coefficient:
            return "the panels' coefficient";
        case ColdMethod::code_table:
            return "the code's table";
        case ColdMethod::flat_factor:
            return fmt::format("the flat factor {}", factor_text(site.flat_factor_ratio));
    }
    return "";
}

std::string cold_basis_words(const Situation& s) {
    std::string text;
    std::vector<std::string> said;
    for (const ColdPart& part : cold_parts(s, s.site().cold_method)) {
        std::string words = fmt::format("Voc × {}{}", factor_text(part.voltage.factor.voc_ratio), basis_text(s, part));
        if (part.voltage.light_factor > 1.0 + rounding_ratio) {
            words += fmt::format(" and × {} in the light stated", factor_text(part.voltage.light_factor));
        }
        if (s.setup.kinds.size() > 1) words += fmt::format(" ({})", s.setup.kinds[part.kind].id);
        if (std::find(said.begin(), said.end(), words) != said.end()) continue;
        text += (text.empty() ? "" : "; ") + words;
        said.push_back(std::move(words));
    }
    return text;
}

}  // namespace plait::rules
