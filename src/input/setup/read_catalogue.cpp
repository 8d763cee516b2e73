#include <plait/input/read_catalogue.hpp>

#include "document.hpp"
#include "panel_from.hpp"
#include "panel_kinds.hpp"
#include "place_from.hpp"
#include "quantity/fields.hpp"
#include "setup_fields.hpp"
#include "site_from.hpp"
#include "storage_from.hpp"

#include <plait/input/read_controller.hpp>
#include <plait/input/read_panel.hpp>

#include <algorithm>
#include <array>
#include <utility>
#include <vector>

namespace plait::input {
namespace {

template <std::size_t N>
bool has_one_of(const Table& table, const std::array<std::string_view, N>& keys) {
    return std::any_of(keys.begin(), keys.end(), [&](std::string_view key) { return find(table, key) != nullptr; });
}

bool of_controller(Quantity q) {
    switch (q) {
        case Quantity::input_max_voltage:
        case Quantity::input_tracking_range:
        case Quantity::input_current_limit:
        case Quantity::input_over_limit:
        case Quantity::controller_headroom:
        case Quantity::controller_efficiency:
        case Quantity::battery_voltage:
            return true;
        default:
            return false;
    }
}

/// The keys of a whole set-up, none of which a file of a site needs.
Specs keys_of_a_site_file() {
    static const std::vector<Spec> keys = [] {
        std::vector<Spec> all;
        for (const Spec* spec : specs_of(setup_fields())) all.emplace_back(*spec).required = false;
        return all;
    }();
    Specs known;
    for (const Spec& spec : keys) known.push_back(&spec);
    return known;
}

CatalogueSite site_of(const FileNotes& notes, const Table& table) {
    // `place_from` fills a whole set-up.
    Setup setup;
    if (const Entry* entry = find(table, "plane")) setup.planes = planes_from(notes, *entry);
    const Entry* site = find(table, "site");
    setup.site = site_from(notes, site);
    if (site != nullptr && site->value.as<Table>() != nullptr) place_from(notes, *site->value.as<Table>(), setup);
    if (const Entry* entry = find(table, "losses")) setup.losses = losses_from(notes, *entry);
    return {setup.site, setup.location, std::move(setup.planes), setup.light_models, setup.climate, setup.losses, {}, {}};
}

}  // namespace

FileSort sort_of_file(std::string_view text, const std::string& file) {
    Notes notes;
    const auto table = parse_document(text, FileNotes(file, notes));
    if (!table) return FileSort::none;
    if (has_one_of<2>(*table, {"controller", "site"})) return FileSort::setup;
    if (has_one_of(*table, panel_file_keys)) return FileSort::panel;
    if (has_one_of(*table, controller_file_keys)) return FileSort::controller;
    return FileSort::none;
}

Result<CataloguePanel> read_catalogue_panel(std::string_view text, const std::string& file) {
    Result<PanelFile> read = read_panel(text, file);
    if (!read) return Failure{read.error()};
    PanelFile panel = *std::move(read);
    return CataloguePanel{file, stem_of(file), id_of_file(file), std::move(panel.panel), std::move(panel.assumptions), std::move(panel.doubts),
                          std::nullopt};
}

Result<CatalogueController> read_catalogue_controller(std::string_view text, const std::string& file, const ReadFile& read_file) {
    if (sort_of_file(text, file) != FileSort::setup) {
        Result<ControllerFile> read = read_controller(text, file);
        if (!read) return Failure{read.error()};
        ControllerFile c = *std::move(read);
        return CatalogueController{file, stem_of(file), std::move(c.controller), "", std::move(c.assumptions), std::move(c.doubts)};
    }
    const Result<Setup> read = read_setup(text, file, read_file);
    if (!read) return Failure{read.error()};
    CatalogueController out{file, stem_of(file), read->controller, read->currency, {}, {}};
    for (const Assumption& a : read->assumptions) {
        if (of_controller(a.quantity)) out.assumptions.push_back(a);
    }
    return out;
}

Result<CatalogueSite> read_catalogue_site(std::string_view text, const std::string& file) {
    Notes all;
    const FileNotes notes(file, all);
    const auto table = parse_document(text, notes);
    if (table && find(*table, "site") == nullptr) {
        notes.complain(
            {1, 1}, Complaint::missing,
            "there is no [site] to take the weather from; write one, such as [site] coldest_air = \"-14 °C\", or "
            "leave --site away to have a cautious one assumed");
    } else if (table) {
        check_keys(notes, *table, {1, 1}, "a file with a [site]", keys_of_a_site_file());
    }
    if (!table || !all.complaints.empty()) return Failure{in_order(std::move(all.complaints))};
    CatalogueSite out = site_of(notes, *table);
    if (!all.complaints.empty()) return Failure{in_order(std::move(all.complaints))};
    out.assumptions = std::move(all.assumptions);
    out.doubts = std::move(all.doubts);
    return out;
}

CatalogueSite assumed_site() {
    Notes all;
    CatalogueSite out = site_of(FileNotes("", all), {});
    out.assumptions = std::move(all.assumptions);
    return out;
}

}  // namespace plait::input
