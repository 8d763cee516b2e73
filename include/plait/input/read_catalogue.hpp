// The files of a catalogue: panels, controllers, a site and a table of prices.
#pragma once

#include <plait/base/result.hpp>
#include <plait/input/read_setup.hpp>
#include <plait/model/catalogue.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::input {

/// What a file is, by its keys.
enum class FileSort {
    panel,
    controller,
    setup,  ///< a whole set-up
    none,   ///< none of these, or no TOML: whoever reads it as one of them gets the complaint
};
[[nodiscard]] FileSort sort_of_file(std::string_view text, const std::string& file);

/// A panel file. Fails with every complaint at once.
[[nodiscard]] Result<CataloguePanel> read_catalogue_panel(std::string_view text, const std::string& file);

/// A controller file, or the [controller] of a set-up, with its price. Fails with every complaint at once. Assumptions of a
/// set-up are those about its controller and inputs.
[[nodiscard]] Result<CatalogueController> read_catalogue_controller(std::string_view text, const std::string& file,
                                                                    const ReadFile& read_file);

/// [site], [[plane]] and [losses] of a set-up, or of a file that has nothing else. Fails with every complaint at once.
[[nodiscard]] Result<CatalogueSite> read_catalogue_site(std::string_view text, const std::string& file);
/// Everything assumed, cautiously.
[[nodiscard]] CatalogueSite assumed_site();

/// What one file's panel or controller costs.
struct FilePrice {
    std::string name;  ///< of the file: its path as named, or without folder and ending
    double price = 0.0;
    int line = 0;
};
struct PriceTable {
    std::string currency;  ///< may be empty
    std::vector<FilePrice> prices;
};
/// Lines of "file, price" or "file, price, currency", parted by commas or semicolons; # begins a remark, a first line whose
/// price is no number is a heading. One currency for all. Fails with every complaint at once.
[[nodiscard]] Result<PriceTable> read_prices(std::string_view text, const std::string& file);

}  // namespace plait::input
