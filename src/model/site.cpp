#include <plait/model/site.hpp>

namespace plait {
namespace {

// The value that is judged and, of a range, its ends; each once.
std::vector<Celsius> values_of(Celsius judged, const std::optional<TemperatureRange>& range) {
    std::vector<Celsius> values{judged};
    if (!range) return values;
    for (const Celsius end : {range->low, range->high}) {
        if (end.degc != judged.degc) values.push_back(end);
    }
    return values;
}

}  // namespace

std::vector<Site> at_other_ends(const Site& site) {
    std::vector<Site> sites;
    for (const Celsius coldest : values_of(site.coldest_air, site.coldest_air_range)) {
        for (const Celsius hottest : values_of(site.hottest_air, site.hottest_air_range)) {
            for (const Celsius warm : values_of(site.warm_air, site.warm_air_range)) {
                Site& other = sites.emplace_back(site);
                other.coldest_air = coldest;
                other.hottest_air = hottest;
                other.warm_air = warm;
            }
        }
    }
    sites.erase(sites.begin());  // the first is the one that is judged
    for (Site& other : sites) {
        other.coldest_air_range.reset();
        other.hottest_air_range.reset();
        other.warm_air_range.reset();
    }
    return sites;
}

}  // namespace plait
