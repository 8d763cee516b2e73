#include "commands.hpp"

#include <plait/output/compare.hpp>
#include <plait/output/page.hpp>
#include <plait/search/comparison.hpp>

#include <algorithm>
#include <utility>

namespace plait::cli {
namespace {

std::optional<Diagnostic> unwired(const std::string& file, const Setup& setup) {
    if (!setup.wiring) {
        return Diagnostic{file, 0, 0,
                          "there is no [wiring] to judge; add one, such as [wiring] PV1 = \"2s1p\", or leave "
                          "--as-wired away to compare the best wirings"};
    }
    if (std::all_of(setup.wiring->begin(), setup.wiring->end(), [](const InputWiring& w) { return w.empty(); })) {
        return Diagnostic{file, 0, 0,
                          "the [wiring] uses no input; give at least one, such as PV1 = \"2s1p\", or leave --as-wired "
                          "away to compare the best wirings"};
    }
    return std::nullopt;
}

/// Every file, or the complaints about all of them.
Result<std::vector<Setup>> setups_of(const Options& o, const World& world) {
    std::vector<Setup> setups;
    Diagnostics complaints;
    for (std::size_t i = 0; i < o.files.size(); ++i) {
        const std::string& file = o.files[i];
        // The same file twice is compared with itself; its complaints are wanted once.
        const bool again = std::find(o.files.begin(), o.files.begin() + static_cast<std::ptrdiff_t>(i), file) !=
                           o.files.begin() + static_cast<std::ptrdiff_t>(i);
        Diagnostics here;
        const Result<std::string, std::string> text = world.read_file(file);
        if (!text) {
            here.push_back({file, 0, 0, text.error()});
        } else {
            Result<Setup> setup = input::read_setup(*text, file, world.read_file);
            if (!setup) {
                here = setup.error();
            } else if (const std::optional<Diagnostic> d = o.as_wired ? unwired(file, *setup) : std::nullopt) {
                here.push_back(*d);
            } else {
                setups.push_back(*std::move(setup));
            }
        }
        if (!again) complaints.insert(complaints.end(), here.begin(), here.end());
    }
    if (!complaints.empty()) return Failure{std::move(complaints)};
    return setups;
}

}  // namespace

CommandResult compare(const Options& o, const World& world, output::Colour colour) {
    const Result<std::vector<Setup>> setups = setups_of(o, world);
    if (!setups) return refused(setups.error());
    std::vector<search::ComparedSetup> compared;
    std::vector<output::NamedSetup> named;
    for (std::size_t i = 0; i < setups->size(); ++i) {
        const Setup& setup = (*setups)[i];
        const study::SystemModel system(setup);
        named.push_back({o.files[i], &setup});
        compared.push_back(
            o.as_wired ? search::setup_as_wired(system, *setup.wiring)
                       : search::advised_setup(system, world.watch ? world.watch(o.most_seconds) : search::KeepGoing{}));
    }
    const search::Comparison c = search::compare(std::move(compared));
    const bool all_usable = c.usable.size() == c.setups.size();
    CommandResult result{all_usable ? Exit::all_within : Exit::limit_broken,
            o.json  ? output::compare_json(named, c)
            : o.csv ? output::compare_csv(named, c)
                    : output::compare_text(named, c, colour),
            ""};
    if (!o.page.empty()) result.files.push_back({o.page, output::compare_page(named, c), output::page_mark});
    return result;
}

}  // namespace plait::cli
