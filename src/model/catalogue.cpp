#include <plait/model/catalogue.hpp>

#include <algorithm>

namespace plait {
namespace {

std::string unique_id(const std::string& wanted, const std::vector<PanelKind>& kinds) {
    const auto taken = [&](const std::string& id) {
        return std::any_of(kinds.begin(), kinds.end(), [&](const PanelKind& k) { return k.id == id; });
    };
    std::string id = wanted;
    for (int n = 2; taken(id); ++n) id = wanted + "-" + std::to_string(n);
    return id;
}

void append(std::vector<std::string>& to, const std::vector<std::string>& from) { to.insert(to.end(), from.begin(), from.end()); }

}  // namespace

void put_site(Setup& setup, const CatalogueSite& site) {
    setup.site = site.site;
    setup.location = site.location;
    setup.planes = site.planes;
    setup.light_models = site.light_models;
    setup.climate = site.climate;
    setup.losses = site.losses;
}

Setup setup_of(const std::vector<PanelsOfKind>& panels, const CatalogueController& controller, const CatalogueSite& site,
               const std::string& currency) {
    Setup setup;
    setup.currency = currency;
    std::vector<const CataloguePanel*> seen;
    for (const PanelsOfKind& p : panels) {
        const auto known = std::find_if(seen.begin(), seen.end(),
                                        [&](const CataloguePanel* s) { return s == p.panel || s->file == p.panel->file; });
        if (known != seen.end()) {
            setup.kinds[static_cast<std::size_t>(known - seen.begin())].count += p.count;
            continue;
        }
        for (Assumption a : p.panel->assumptions) {
            a.kind = setup.kinds.size();
            setup.assumptions.push_back(std::move(a));
        }
        append(setup.doubts, p.panel->doubts);
        setup.kinds.push_back({unique_id(p.panel->id, setup.kinds), p.panel->panel, p.count, p.panel->price, std::nullopt});
        seen.push_back(p.panel);
    }
    setup.controller = controller.controller;
    setup.assumptions.insert(setup.assumptions.end(), controller.assumptions.begin(), controller.assumptions.end());
    append(setup.doubts, controller.doubts);
    put_site(setup, site);
    setup.assumptions.insert(setup.assumptions.end(), site.assumptions.begin(), site.assumptions.end());
    append(setup.doubts, site.doubts);
    return setup;
}

}  // namespace plait
