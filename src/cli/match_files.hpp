// The files of `plait match`: which are panels, which controllers, what they cost, and where it all is to be.
#pragma once

#include "command.hpp"

#include <plait/model/catalogue.hpp>

#include <string>
#include <utility>
#include <vector>

namespace plait::cli {

struct MatchFiles {
    std::vector<CataloguePanel> panels;
    std::vector<CatalogueController> controllers;
    std::vector<std::pair<CataloguePanel, int>> kept;
    CatalogueSite site;
    std::string currency;
    std::vector<std::string> notes;  ///< what of the files is left out, and why
};

/// Everything read, or every complaint about all the files at once.
[[nodiscard]] Result<MatchFiles> match_files(const MatchOptions& o, Session& session);

/// Whether `typed` means the file: its path, its name, or its name without the ending.
[[nodiscard]] bool means_file(std::string_view typed, const std::string& path);

}  // namespace plait::cli
