// Panels and controllers from files of their own, not yet put together: what is tried with what.
#pragma once

#include <plait/model/setup.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace plait {

/// One kind of panel.
struct CataloguePanel {
    std::string file;  ///< as it was named; two of the same name are the same panel
    std::string name;  ///< what reports call it: the file's name without folder and ending
    std::string id;    ///< what wirings call it; made unique where several meet in one set-up
    Panel panel;
    std::vector<Assumption> assumptions;  ///< `kind` is empty
    std::vector<std::string> doubts;
    std::optional<double> price;  ///< of one panel, in the catalogue's currency
};

/// One controller with all its inputs.
struct CatalogueController {
    std::string file;
    std::string name;        ///< what reports call it: the file's name without folder and ending
    Controller controller;  ///< with its price
    std::string currency;   ///< of that price; may be empty
    std::vector<Assumption> assumptions;
    std::vector<std::string> doubts;
};

/// Where it all is to be: the same for every pair.
struct CatalogueSite {
    Site site;
    std::optional<Location> location;
    std::vector<Plane> planes;
    LightModels light_models;
    SiteClimate climate;
    StatedLosses losses;
    std::vector<Assumption> assumptions;
    std::vector<std::string> doubts;
};

/// A kind of panel and how many there are.
struct PanelsOfKind {
    const CataloguePanel* panel = nullptr;
    int count = 0;
};

/// Puts place and weather of a site into a set-up; what was assumed for them is left to the caller.
void put_site(Setup& setup, const CatalogueSite& site);

/// The set-up that a file would state which names these panels, this controller and this site. Panels of the same file are
/// one kind, at the place where the file comes first. At least one panel. Cables, fittings and storage are not part of it.
[[nodiscard]] Setup setup_of(const std::vector<PanelsOfKind>& panels, const CatalogueController& controller,
                             const CatalogueSite& site, const std::string& currency);

}  // namespace plait
