#include <plait/study/input_wants.hpp>

#include <plait/base/constants.hpp>
#include <plait/model/technology_ranges.hpp>
#include <plait/model/usual_panels.hpp>
#include <plait/physics/acceptance_window.hpp>
#include <plait/rules/array_figures.hpp>
#include <plait/rules/catalogue.hpp>
#include <plait/study/harvest_year.hpp>
#include <plait/study/judgement.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace plait::study {
namespace {

// What most labels print. Common practice, no source.
constexpr double usual_voc_tolerance_ratio = 0.03;
constexpr double highest_looked_at_v = 1e5;
constexpr int some_year = 2025;

/// The panel that is taken for an array: 60 cells, the middle of what is sold.
const Panel& typical_panel() {
    const std::vector<UsualPanel>& all = usual_panels();
    const auto at = std::find_if(all.begin(), all.end(), [](const UsualPanel& u) { return u.panel.panel.cells_in_series == 60; });
    assert(at != all.end());
    return at->panel.panel;
}

const InputWiring& one_panel() {
    static const InputWiring wiring{{SeriesString{{PanelPlace{0, {}}}}}};
    return wiring;
}

/// One panel on one input, held against rules by its datasheet alone.
class Probe {
public:
    Probe(const CatalogueController& controller, std::size_t input, const CatalogueSite& site) : input_(input) {
        setup_.controller = controller.controller;
        setup_.site = site.site;
        setup_.kinds.push_back({"typical", typical_panel(), 1, std::nullopt, std::nullopt});
    }

    Panel& panel() { return setup_.kinds.front().panel; }

    template <class Ask>
    auto ask(Ask ask) const {
        const rules::WiredInput wired{input_, &one_panel(), nullptr};
        return ask(rules::Situation{setup_, wired, std::span(&wired, 1), {}});
    }

    /// Whether the deciding finding of a rule is one that `wanted` looks for.
    template <class Wanted>
    [[nodiscard]] bool finds(std::string_view rule, Wanted wanted) const {
        return ask([&](const rules::Situation& s) {
            rules::Findings findings;
            rules::rule_named(rule)->check(s, findings);
            return std::any_of(findings.begin(), findings.end(), [&](const rules::Finding& f) { return f.decides && wanted(f); });
        });
    }

    /// The Voc at which `true_above` turns from false to true, V; it is false at 0.
    template <class TrueAbove>
    double turning_voc_v(TrueAbove true_above) {
        double low_v = 0.0;
        double high_v = highest_looked_at_v;
        // Sixty halvings leave less than the last digit of a double.
        for (int i = 0; i < 60; ++i) {
            const double middle_v = 0.5 * (low_v + high_v);
            panel().voc_v = middle_v;
            (true_above() ? high_v : low_v) = middle_v;
        }
        return low_v;
    }

private:
    Setup setup_;
    std::size_t input_;
};

double room_v(Probe& probe) {
    return probe.turning_voc_v([&] {
        return probe.finds("cold-voltage", [](const rules::Finding& f) { return f.exceeds_at_worst(); });
    });
}

std::vector<ColdRoom> cold_rooms(const CatalogueController& controller, std::size_t input, const CatalogueSite& site) {
    std::vector<ColdRoom> rooms;
    if (!controller.controller.inputs[input].max_voltage_v) return rooms;
    for (const Technology technology : wanted_technologies()) {
        const Limits usual = ranges_of(technology).voc_coefficient.usual;
        ColdRoom room{technology, usual.low, usual.high, 0.0, 0.0, 0.0};
        Probe probe(controller, input, site);
        Panel& panel = probe.panel();
        panel.technology = technology;
        panel.voc_tolerance_ratio = usual_voc_tolerance_ratio;
        panel.voc_coefficient_per_k = usual.low;
        room.voc_steep_v = room_v(probe);
        panel.voc_coefficient_per_k = usual.high;
        room.voc_shallow_v = room_v(probe);
        panel.voc_coefficient_stated = false;
        panel.voc_coefficient_per_k = 0.5 * (usual.low + usual.high);
        room.voc_unstated_v = room_v(probe);
        rooms.push_back(room);
    }
    return rooms;
}

double start_voc_v(const CatalogueController& controller, std::size_t input, const CatalogueSite& site) {
    Probe probe(controller, input, site);
    const auto starts = [&] {
        return !probe.finds("start-voltage", [](const rules::Finding& f) { return f.outcome == rules::Outcome::falls_short; });
    };
    probe.panel().voc_v = 0.0;
    if (starts()) return 0.0;
    return probe.turning_voc_v(starts);
}

std::vector<BandVolts> band_volts(const CatalogueController& controller, std::size_t input, const CatalogueSite& site) {
    if (physics::pinned_voltage_v(controller.controller)) return {};
    const physics::AcceptanceWindow window = physics::window_of(controller.controller, controller.controller.inputs[input]);
    const Probe probe(controller, input, site);
    // Both figures are proportional to the label's Vmp.
    const double label_v = typical_panel().vmp_v;
    const double hot_ratio = probe.ask([](const rules::Situation& s) { return rules::hot_vmp_v(s).value; }) / label_v;
    const double cold_ratio = probe.ask([](const rules::Situation& s) { return rules::cold_vmp_v(s).value; }) / label_v;
    std::vector<CurrentBand> bands = window.bands;
    constexpr double unlimited = std::numeric_limits<double>::infinity();
    if (bands.empty()) bands.push_back({window.low_v, window.high_v, unlimited});
    std::vector<BandVolts> out;
    for (const CurrentBand& band : bands) {
        const CurrentBand held{std::max(band.from_v, window.low_v), std::min(band.to_v, window.high_v), band.limit_a};
        out.push_back({held, held.from_v / hot_ratio, held.to_v / cold_ratio});
    }
    return out;
}

std::optional<std::size_t> best_of(const std::vector<BandVolts>& bands) {
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < bands.size(); ++i) {
        if (bands[i].to_v < bands[i].from_v) continue;
        if (!best || bands[i].band.limit_a > bands[*best].band.limit_a) best = i;
    }
    return best;
}

/// Light that counts so much, and what a typical panel gives in it over its rating.
struct WeighedLight {
    double weight = 0.0;  ///< hours of a year, or a share of it
    double power_ratio = 0.0;
};

std::vector<WeighedLight> european_light(const SystemModel& system) {
    const LevelPowers free_w = system.free_powers(one_panel());
    std::vector<WeighedLight> light;
    for (std::size_t l = 0; l < harvest_levels.size(); ++l) {
        LevelPowers one{};
        one[l] = 1.0;
        const double weight = weighted(one).european_w;
        if (weight > 0.0) light.push_back({weight, free_w[l] / typical_panel().pmax_w});
    }
    return light;
}

std::vector<WeighedLight> local_light(const SystemModel& system) {
    const LightSeries series = light_series(system.setup(), climate_year(system.setup(), some_year, DaysOfMonth::mixed));
    const HarvestYear year = HarvestStudy(system, series).run({one_panel()});
    std::vector<WeighedLight> light;
    for (const double w : year.possible_w) {
        if (w > 0.0) light.push_back({series.step_h, w / typical_panel().pmax_w});
    }
    return light;
}

struct YearSums {
    double given = 0.0;
    double taken = 0.0;
    double next = 0.0;
};

YearSums sums_of(const std::vector<WeighedLight>& light, double array_w, double limit_w) {
    YearSums sums;
    for (const WeighedLight& l : light) {
        sums.given += l.weight * l.power_ratio;
        const bool below = l.power_ratio * array_w < limit_w;
        sums.taken += l.weight * (below ? l.power_ratio : limit_w / array_w);
        if (below) sums.next += l.weight * l.power_ratio;
    }
    return sums;
}

/// The array beyond which the next watt brings less than this share of itself.
double array_of_next_w(const std::vector<WeighedLight>& light, double limit_w, double ratio) {
    double low_w = 0.0;
    double high_w = 1e4 * limit_w;
    for (int i = 0; i < 80; ++i) {
        const double middle_w = 0.5 * (low_w + high_w);
        const YearSums sums = sums_of(light, middle_w, limit_w);
        (sums.next < ratio * sums.given ? high_w : low_w) = middle_w;
    }
    return low_w;
}

}  // namespace

const std::vector<Technology>& wanted_technologies() {
    static const std::vector<Technology> all{Technology::mono_silicon, Technology::poly_silicon,  Technology::perc,
                                             Technology::topcon,       Technology::heterojunction, Technology::back_contact,
                                             Technology::cigs,         Technology::cdte};
    return all;
}

std::optional<double> InputWants::silicon_voc_v() const {
    std::optional<double> least_v;
    for (const ColdRoom& r : cold) {
        if (!is_crystalline_silicon(r.technology)) continue;
        const double here_v = std::min(r.voc_steep_v, r.voc_unstated_v);
        least_v = std::min(least_v.value_or(here_v), here_v);
    }
    return least_v;
}

InputWants input_wants(const CatalogueController& controller, std::size_t input, const CatalogueSite& site) {
    InputWants out;
    out.input = input;
    out.label_tolerance_ratio = usual_voc_tolerance_ratio;
    out.cold = cold_rooms(controller, input, site);
    out.start_voc_v = start_voc_v(controller, input, site);
    out.bands = band_volts(controller, input, site);
    out.best_band = best_of(out.bands);

    // The array's light and warmth, on an input that takes all of it.
    Setup setup;
    setup.kinds.push_back({"typical", typical_panel(), 1, std::nullopt, std::nullopt});
    setup.controller.inputs.emplace_back();
    put_site(setup, site);
    const SystemModel system(setup);
    const physics::AcceptanceWindow window = physics::window_of(controller.controller, controller.controller.inputs[input]);
    const double limit_w = shared_w(controller.controller, window.power_w);
    const double limit_a = out.best_band ? out.bands[*out.best_band].band.limit_a : std::numeric_limits<double>::infinity();
    const Panel& typical = typical_panel();
    for (const double irradiance_w_per_m2 : {stc_irradiance_w_per_m2, 800.0}) {
        const physics::PowerPoint point =
            system.curve(one_panel(), system.conditions_in_air(irradiance_w_per_m2, site.site.warm_air)).maximum_power();
        LightCeiling ceiling{irradiance_w_per_m2, std::nullopt, std::nullopt};
        if (std::isfinite(limit_w)) ceiling.array_w = limit_w * typical.pmax_w / point.power_w();
        if (std::isfinite(limit_a)) ceiling.array_a = limit_a * typical.imp_a / point.current_a;
        out.ceilings.push_back(ceiling);
    }
    if (!std::isfinite(limit_w)) return out;
    out.year_is_local = site.location.has_value();
    const std::vector<WeighedLight> light = out.year_is_local ? local_light(system) : european_light(system);
    for (const double share : {0.75, 1.0, 1.25, 1.5, 2.0, 3.0}) {
        const double array_w = share * limit_w;
        const YearSums sums = sums_of(light, array_w, limit_w);
        YearStep step{array_w, sums.taken / sums.given, sums.next / sums.given, std::nullopt};
        if (out.year_is_local) step.delivered_wh = sums.taken * array_w;
        out.year.push_back(step);
    }
    out.half_w = array_of_next_w(light, limit_w, 0.5);
    out.tenth_w = array_of_next_w(light, limit_w, 0.1);
    return out;
}

}  // namespace plait::study
