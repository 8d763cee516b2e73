#include <plait/rules/fuse_figures.hpp>

#include <plait/base/constants.hpp>
#include <plait/rules/array_figures.hpp>
#include <plait/rules/cable_figures.hpp>

#include <algorithm>
#include <array>
#include <iterator>
#include <limits>

namespace plait::rules {
namespace {

// IEC 62548-1:2023 (clause numbers of IEC 62548:2016: 6.5.3), one string per fuse; seen in public texts. The least is
// printed as 1.5 × Isc; with KI = 1.25 that is 1.2 × the largest current, and so it is taken where KI must be larger.
constexpr double iec_least_factor = 1.5;
constexpr double iec_most_factor = 2.4;

}  // namespace

std::span<const double> nec_fuse_sizes() {
    static constexpr std::array<double, 22> sizes{1,  3,  6,  10, 15, 20,  25,  30,  35,  40,  45,
                                                  50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200};
    return sizes;
}

std::span<const double> gpv_fuse_sizes() {
    static constexpr std::array<double, 15> sizes{1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20, 25, 30, 32};
    return sizes;
}

std::optional<double> next_nec_size_a(double current_a) {
    for (const double size : nec_fuse_sizes()) {
        if (size >= current_a * (1.0 - rounding_ratio)) return size;
    }
    return std::nullopt;
}

FuseWindow nec_fuse_window(OwnCurrent string, double panel_rating_a) {
    FuseWindow w{continuous_duty_factor * string.bright_a, panel_rating_a, {}};
    for (const double size : nec_fuse_sizes()) {
        if (size >= w.least_a * (1.0 - rounding_ratio) && size <= w.most_a) w.sizes.push_back(size);
    }
    return w;
}

FuseWindow iec_fuse_window(OwnCurrent string, double panel_rating_a) {
    const double below_a = iec_most_factor * string.isc_a;
    const double least_a = iec_least_factor / bright_sky_factor * string.bright_a;
    FuseWindow w{least_a, std::min(below_a, panel_rating_a), {}};
    for (const double size : gpv_fuse_sizes()) {
        const bool above = size > w.least_a * (1.0 + rounding_ratio);
        if (above && size < below_a * (1.0 - rounding_ratio) && size <= panel_rating_a) w.sizes.push_back(size);
    }
    return w;
}

double battery_backfeed_a(const Situation& s) {
    if (s.controller().type != ControllerType::direct_connect || !s.controller().battery) return 0.0;
    if (s.setup.fittings.battery_fuse_a) return *s.setup.fittings.battery_fuse_a;
    const std::optional<BatteryCurrent> current = battery_current(s);
    return current ? current->fuse_a.value_or(current->fuse_least_a) : 0.0;
}

std::vector<StringFuse> string_fuse_figures(const Situation& s) {
    std::vector<StringFuse> found = string_fuses_by_panels(s);
    if (s.setup.cables.empty()) return found;
    const std::vector<CableFigures> cables = cable_figures(s);
    const bool by_cable = std::any_of(cables.begin(), cables.end(),
                                      [&](const CableFigures& f) { return f.wants_fuses(s.site().code); });
    for (StringFuse& f : found) f.needed_by_cable = by_cable && !f.fitted_a;
    return found;
}

std::vector<StringFuse> string_fuses_by_panels(const Situation& s) {
    std::vector<StringFuse> found;
    double all_a = 0.0;
    for (const SeriesString& string : s.wiring().strings) all_a += string_lit_isc_a(s, string);
    const double backfeed_a = battery_backfeed_a(s);
    const double all_bright_a = array_bright_isc_a(s, s.wiring()).value;
    for (std::size_t i = 0; i < s.wiring().strings.size(); ++i) {
        const SeriesString& string = s.wiring().strings[i];
        const OwnCurrent own{string_isc_a(s, string).value, string_bright_isc_a(s, string).value};
        const double rating_a = weakest_series_fuse_a(s.setup, string);
        const std::optional<double> fitted_a = string.fuse_a ? string.fuse_a : s.setup.fittings.string_fuse_a;
        const auto same = std::find_if(found.begin(), found.end(), [&](const StringFuse& f) {
            return f.isc_a == own.isc_a && f.bright_a == own.bright_a && f.panel_rating_a == rating_a &&
                   f.fitted_a == fitted_a;
        });
        if (same != found.end()) {
            same->strings.push_back(i);
            continue;
        }
        StringFuse f;
        f.strings = {i};
        f.isc_a = own.isc_a;
        f.bright_a = own.bright_a;
        f.others_a = all_a - string_lit_isc_a(s, string) + backfeed_a;
        f.others_bright_a = all_bright_a - own.bright_a + backfeed_a;
        f.panel_rating_a = rating_a;
        f.fitted_a = fitted_a;
        f.needed_by_nec = f.others_bright_a > rating_a * (1.0 + rounding_ratio);
        f.needed_by_iec = f.others_a > rating_a * (1.0 + rounding_ratio);
        f.nec = nec_fuse_window(own, rating_a);
        f.iec = iec_fuse_window(own, rating_a);
        std::set_intersection(f.nec.sizes.begin(), f.nec.sizes.end(), f.iec.sizes.begin(), f.iec.sizes.end(),
                              std::back_inserter(f.both));
        found.push_back(std::move(f));
    }
    return found;
}

namespace {

/// What suits all of some kinds of string at once.
FuseRange range_of(const Situation& s, std::span<const StringFuse> strings) {
    const Code code = s.site().code;
    FuseRange range;
    range.most_a = std::numeric_limits<double>::infinity();
    std::vector<double> sizes;
    bool first = true;
    for (const StringFuse& f : strings) {
        range.least_a = std::max(range.least_a, code == Code::iec ? f.iec.least_a : f.nec.least_a);
        const double most_a = code == Code::nec ? f.nec.most_a : f.iec.most_a;
        if (most_a < range.most_a) {
            range.most_a = most_a;
            range.by_panels = most_a >= f.panel_rating_a;
        }
        const std::vector<double>& own = code == Code::nec ? f.nec.sizes : code == Code::iec ? f.iec.sizes : f.both;
        std::vector<double> common;
        std::set_intersection(sizes.begin(), sizes.end(), own.begin(), own.end(), std::back_inserter(common));
        sizes = first ? own : common;
        first = false;
    }
    for (const CableFigures& f : cable_figures(s)) {
        if (s.setup.cables[f.cable].run == CableRun::trunk) continue;
        const double own_a = fuse_ceiling_a(f, code);
        range.cable_a = std::min(range.cable_a.value_or(own_a), own_a);
    }
    for (const double size : sizes) {
        if (range.cable_a && size > *range.cable_a * (1.0 + rounding_ratio)) break;
        range.chosen_a = size;
        break;
    }
    return range;
}

}  // namespace

FuseRange fuse_range(const Situation& s) { return range_of(s, string_fuse_figures(s)); }

FuseRange fuse_range(const Situation& s, const StringFuse& string) { return range_of(s, std::span(&string, 1)); }

std::optional<std::vector<double>> own_fuses_a(const Situation& s) {
    std::vector<double> each(s.wiring().strings.size());
    for (const StringFuse& kind : string_fuse_figures(s)) {
        const std::optional<double> chosen_a = fuse_range(s, kind).chosen_a;
        if (!chosen_a) return std::nullopt;
        for (const std::size_t i : kind.strings) each[i] = *chosen_a;
    }
    return each;
}

}  // namespace plait::rules
