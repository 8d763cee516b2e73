#include <plait/rules/fuse_figures.hpp>

#include <plait/rules/array_figures.hpp>

#include <algorithm>
#include <array>
#include <iterator>
#include <limits>

namespace plait::rules {
namespace {

// IEC 62548:2016, one string per fuse; seen in public texts.
constexpr double iec_least_factor = 1.5;
constexpr double iec_most_factor = 2.4;

// As where findings are compared: a product one rounding step high is not beyond.
constexpr double rounding_ratio = 1e-12;

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

FuseWindow nec_fuse_window(double isc_a, double panel_rating_a) {
    FuseWindow w{bright_sky_factor * continuous_duty_factor * isc_a, panel_rating_a, {}};
    for (const double size : nec_fuse_sizes()) {
        if (size >= w.least_a * (1.0 - rounding_ratio) && size <= w.most_a) w.sizes.push_back(size);
    }
    return w;
}

FuseWindow iec_fuse_window(double isc_a, double panel_rating_a) {
    const double below_a = iec_most_factor * isc_a;
    FuseWindow w{iec_least_factor * isc_a, std::min(below_a, panel_rating_a), {}};
    for (const double size : gpv_fuse_sizes()) {
        const bool above = size > w.least_a * (1.0 + rounding_ratio);
        if (above && size < below_a * (1.0 - rounding_ratio) && size <= panel_rating_a) w.sizes.push_back(size);
    }
    return w;
}

std::vector<StringFuse> string_fuse_figures(const Situation& s) {
    std::vector<StringFuse> found;
    const double all_a = array_isc_a(s, s.wiring()).value;
    for (std::size_t i = 0; i < s.wiring().strings.size(); ++i) {
        const SeriesString& string = s.wiring().strings[i];
        const double isc_a = string_isc_a(s, string).value;
        double rating_a = std::numeric_limits<double>::infinity();
        for (const PanelPlace& place : string.panels) rating_a = std::min(rating_a, s.panel(place).max_series_fuse_a);
        const auto same = std::find_if(found.begin(), found.end(), [&](const StringFuse& f) {
            return f.isc_a == isc_a && f.panel_rating_a == rating_a;
        });
        if (same != found.end()) {
            ++same->count;
            continue;
        }
        StringFuse f;
        f.string = i;
        f.count = 1;
        f.isc_a = isc_a;
        f.others_a = all_a - isc_a;
        f.panel_rating_a = rating_a;
        f.needed_by_nec = bright_sky_factor * f.others_a > rating_a * (1.0 + rounding_ratio);
        f.needed_by_iec = f.others_a > rating_a * (1.0 + rounding_ratio);
        f.nec = nec_fuse_window(isc_a, rating_a);
        f.iec = iec_fuse_window(isc_a, rating_a);
        std::set_intersection(f.nec.sizes.begin(), f.nec.sizes.end(), f.iec.sizes.begin(), f.iec.sizes.end(),
                              std::back_inserter(f.both));
        found.push_back(std::move(f));
    }
    return found;
}

}  // namespace plait::rules
