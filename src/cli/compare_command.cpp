#include "command.hpp"
#include "time_options.hpp"

#include <plait/output/data.hpp>
#include <plait/output/reports.hpp>
#include <plait/output/subjects.hpp>
#include <plait/search/comparison.hpp>
#include <plait/study/impossible_figure.hpp>

#include <fmt/core.h>

#include <algorithm>
#include <utility>

namespace plait::cli {
namespace {

std::optional<Diagnostic> unwired(const std::string& file, const Setup& setup) {
    if (!setup.wiring) {
        return Diagnostic{file, 0, 0, Complaint::wiring,
                          fmt::format("there is no [wiring] to judge; add one, such as [wiring] {}, or leave --as-wired away to "
                                      "compare the best wirings",
                                      wiring_example(setup).in_file)};
    }
    if (std::all_of(setup.wiring->begin(), setup.wiring->end(), [](const InputWiring& w) { return w.empty(); })) {
        return Diagnostic{file, 0, 0, Complaint::wiring,
                          fmt::format("the [wiring] uses no input; give at least one, such as {}, or leave --as-wired away to "
                                      "compare the best wirings",
                                      wiring_example(setup).in_file)};
    }
    return std::nullopt;
}

/// Every file, or the complaints about all of them.
Result<std::vector<Setup>> setups_of(const CompareOptions& o, Session& session) {
    std::vector<Setup> setups;
    Diagnostics complaints;
    for (std::size_t i = 0; i < o.files.size(); ++i) {
        const std::string& file = o.files[i];
        // The same file twice is compared with itself; its complaints are wanted once.
        const bool again = std::find(o.files.begin(), o.files.begin() + static_cast<std::ptrdiff_t>(i), file) !=
                           o.files.begin() + static_cast<std::ptrdiff_t>(i);
        Diagnostics here;
        Result<Setup> setup = setup_of(file, session);
        if (!setup) {
            here = setup.error();
        } else if (const std::optional<Diagnostic> d = o.as_wired ? unwired(file, *setup) : std::nullopt) {
            here.push_back(*d);
        } else {
            setups.push_back(*std::move(setup));
        }
        if (!again) complaints.insert(complaints.end(), here.begin(), here.end());
    }
    if (!complaints.empty()) return Failure{std::move(complaints)};
    return setups;
}

}  // namespace

CommandResult run_command(const CompareOptions& o, Session& session) {
    Result<std::vector<Setup>> read = setups_of(o, session);
    if (!read) return refused(read.error());
    std::vector<Setup> setups = *std::move(read);
    std::vector<TimeLight> times;
    for (std::size_t i = 0; i < setups.size() && o.by != "watts"; ++i) {
        Result<TimeLight> light = light_by(o.by, o.time, o.files[i], setups[i], session);
        if (!light) return refused(light.error());
        times.push_back(*std::move(light));
    }
    std::vector<search::ComparedSetup> compared;
    std::vector<output::NamedSetup> named;
    for (std::size_t i = 0; i < setups.size(); ++i) {
        const Setup& setup = setups[i];
        const study::LightSeries* light = times.empty() ? nullptr : &times[i].light;
        const study::SystemModel system(setup);
        named.push_back({o.files[i], &setup});
        compared.push_back(o.as_wired ? search::setup_as_wired(system, *setup.wiring, light)
                                      : search::advised_setup(system, session.watch(o.most_seconds), light));
        if (!compared.back().plan) continue;
        if (const auto figure = study::impossible_figure(system, compared.back().plan->judgement)) {
            return impossible(*figure);
        }
    }
    const search::Comparison c = search::compare(std::move(compared));
    const bool ready = std::all_of(c.setups.begin(), c.setups.end(), [](const search::ComparedSetup& s) {
        return s.plan && s.plan->judgement.verdict.ready();
    });
    output::EnergyTime time;
    const output::EnergyTime* by_energy = nullptr;
    if (!times.empty()) {
        const bool dimmed = std::all_of(times.begin(), times.end(), [](const TimeLight& t) { return t.dimmed; });
        time = {times.front().period, times.front().from_file, dimmed};
        by_energy = &time;
    }
    std::function<std::string()> data;
    if (o.form.json) data = [&] { return output::compare_json(named, c, by_energy); };
    if (o.form.csv) data = [&] { return output::compare_csv(named, c); };
    return shown(ready ? Exit::all_within : Exit::limit_broken, o.form, session,
                 output::compare_report(named, c, session.provenance(joined(o.files, ", "), o.form), by_energy), data);
}

}  // namespace plait::cli
