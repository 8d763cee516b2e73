#include "reading.hpp"

#include "../support/source_files.hpp"
#include "../support/source_dir.hpp"

#include <plait/input/read_catalogue.hpp>
#include <plait/input/read_setup.hpp>

#include <catch2/catch.hpp>

using namespace plait;
using namespace plait::input;
using Catch::Matchers::Contains;

namespace {

std::string source(const std::string& path) { return support::text_of(std::filesystem::path(support::source_dir()) / path); }

std::string all_of(const Diagnostics& complaints) {
    std::string text;
    for (const Diagnostic& d : complaints) text += d.file + ":" + std::to_string(d.line) + ": " + d.message + "\n";
    return text;
}

bool same(const std::vector<Assumption>& a, const std::vector<Assumption>& b) {
    const auto equal = [](const Assumption& x, const Assumption& y) {
        return x.quantity == y.quantity && x.kind == y.kind && x.input == y.input && x.subject == y.subject && x.what == y.what &&
               x.value == y.value && x.why == y.why && x.figure == y.figure;
    };
    return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(), equal);
}

}  // namespace

TEST_CASE("catalogue: a file is known by its keys") {
    CHECK(sort_of_file(source("panels/rigid-175w-perc.toml"), "p") == FileSort::panel);
    CHECK(sort_of_file(source("docs/demo/inputs/small-station.toml"), "c") == FileSort::controller);
    CHECK(sort_of_file(source("docs/demo/van.toml"), "s") == FileSort::setup);
    CHECK(sort_of_file("colour = \"blue\"", "x") == FileSort::none);
    CHECK(sort_of_file("= no TOML", "x") == FileSort::none);
}

TEST_CASE("catalogue: panel, controller and site put together are the set-up that names them") {
    const auto reader = [](const std::string& path) -> Result<std::string, std::string> {
        const std::string text = source(path);
        if (text.empty()) return Failure{std::string("is not there")};
        return text;
    };
    // The leaflet leaves most out: the assumptions must come in the same order, with the same kinds.
    const std::string named = R"([[panel]]
file = "panels/folding-120w-leaflet.toml"
count = 3
[[panel]]
file = "panels/rigid-175w-perc.toml"
count = 2
[controller]
file = "docs/demo/inputs/cabin-controller.toml"
[site]
coldest_air = "-9 °C"
latitude = 51.0
longitude = 10.0
from_utc = 1
)";
    const Result<Setup> read = read_setup(named, "setup.toml", reader);
    REQUIRE(read);
    const auto leaflet = read_catalogue_panel(source("panels/folding-120w-leaflet.toml"), "panels/folding-120w-leaflet.toml");
    const auto perc = read_catalogue_panel(source("panels/rigid-175w-perc.toml"), "panels/rigid-175w-perc.toml");
    const auto cabin = read_catalogue_controller(source("docs/demo/inputs/cabin-controller.toml"), "docs/demo/inputs/cabin-controller.toml", reader);
    const auto site = read_catalogue_site(named.substr(named.find("[site]")), "site.toml");
    REQUIRE((leaflet && perc && cabin && site));
    const Setup made = setup_of({{&*leaflet, 3}, {&*perc, 2}}, *cabin, *site, "");
    REQUIRE(made.kinds.size() == 2);
    for (std::size_t k = 0; k < 2; ++k) {
        CHECK(made.kinds[k].id == read->kinds[k].id);
        CHECK(made.kinds[k].count == read->kinds[k].count);
        CHECK(made.kinds[k].panel.name == read->kinds[k].panel.name);
        CHECK(made.kinds[k].panel.voc_v == read->kinds[k].panel.voc_v);
    }
    CHECK(made.controller.name == read->controller.name);
    CHECK(made.site.coldest_air.degc == -9.0);
    CHECK(made.location.has_value());
    CHECK(same(made.assumptions, read->assumptions));
    CHECK(made.doubts == read->doubts);
    CHECK(leaflet->name == "folding-120w-leaflet");

    // The same file twice is one kind.
    const Setup more = setup_of({{&*perc, 3}, {&*perc, 2}}, *cabin, *site, "");
    CHECK(more.kinds.size() == 1);
    CHECK(more.kinds.front().count == 5);
    CataloguePanel other = *perc;
    other.file = "elsewhere/rigid-175w-perc.toml";
    const Setup two = setup_of({{&*perc, 3}, {&other, 2}}, *cabin, *site, "");
    CHECK(two.kinds[1].id == two.kinds[0].id + "-2");
}

TEST_CASE("catalogue: without a site everything is assumed as in a set-up without one") {
    const CatalogueSite assumed = assumed_site();
    const std::string named = "[[panel]]\nfile = \"panels/rigid-175w-perc.toml\"\ncount = 1\n[controller]\nfile = \"docs/demo/inputs/small-station.toml\"\n";
    const Result<Setup> read = read_setup(named, "setup.toml", [](const std::string& path) -> Result<std::string, std::string> { return source(path); });
    REQUIRE(read);
    CHECK(assumed.site.coldest_air.degc == read->site.coldest_air.degc);
    CHECK(assumed.site.mounting == read->site.mounting);
    std::vector<Assumption> of_site;
    for (const Assumption& a : read->assumptions) {
        if (a.subject == "the site") of_site.push_back(a);
    }
    CHECK(same(assumed.assumptions, of_site));
    CHECK_FALSE(of_site.empty());
}

TEST_CASE("catalogue: a set-up gives its controller, with its price and what was assumed of it") {
    const auto reader = [](const std::string& path) -> Result<std::string, std::string> { return source(path); };
    const auto shed = read_catalogue_controller(source("docs/demo/allotment.toml"), std::string(support::source_dir()) + "/docs/demo/allotment.toml",
                                                [](const std::string& path) -> Result<std::string, std::string> { return support::text_of(path); });
    REQUIRE(shed);
    CHECK(shed->controller.inputs.size() == 2);
    CHECK(shed->controller.price == 890.0);
    CHECK(shed->currency == "EUR");
    for (const Assumption& a : shed->assumptions) CHECK(a.subject.find("site") == std::string::npos);
    const auto bad = read_catalogue_controller("name = \"x\"\n[[input]]\nmax_voltage = \"60 A\"\n", "bad.toml", reader);
    REQUIRE_FALSE(bad);
    CHECK_THAT(all_of(bad.error()), Contains("bad.toml:3"));
}

TEST_CASE("catalogue: a site from a file of its own or from a whole set-up") {
    const auto alone = read_catalogue_site("[site]\ncoldest_air = \"-7 °C\"\n", "site.toml");
    REQUIRE(alone);
    CHECK(alone->site.coldest_air.degc == -7.0);
    CHECK_FALSE(alone->assumptions.empty());
    const auto whole = read_catalogue_site(source("docs/demo/allotment.toml"), "allotment.toml");
    REQUIRE(whole);
    CHECK(whole->site.coldest_air.degc == -18.0);
    CHECK(whole->planes.size() == 1);
    CHECK(whole->location.has_value());
    const auto none = read_catalogue_site("title = \"x\"\n", "none.toml");
    REQUIRE_FALSE(none);
    CHECK_THAT(all_of(none.error()), Contains("there is no [site]"));
    const auto odd = read_catalogue_site("[site]\ncoldest_air = \"-7 °C\"\n[weather]\n", "odd.toml");
    REQUIRE_FALSE(odd);
    CHECK_THAT(all_of(odd.error()), Contains("weather"));
}

TEST_CASE("prices: file, price, currency") {
    const auto table = read_prices("# shop\nfile,price,currency\nroof.toml, 95, EUR\n\"box one\",390.5,EUR\r\n", "prices.csv");
    REQUIRE(table);
    CHECK(table->currency == "EUR");
    REQUIRE(table->prices.size() == 2);
    CHECK(table->prices[0].name == "roof.toml");
    CHECK(table->prices[0].price == 95.0);
    CHECK(table->prices[1].name == "box one");
    CHECK(table->prices[1].price == 390.5);
    const auto semicolons = read_prices("roof;95\nbox;390\n", "p.csv");
    REQUIRE(semicolons);
    CHECK(semicolons->currency.empty());
    CHECK(semicolons->prices.size() == 2);
    const auto fault = [](const char* text, const char* complaint) {
        const auto bad = read_prices(text, "p.csv");
        REQUIRE_FALSE(bad);
        CHECK_THAT(all_of(bad.error()), Contains(complaint));
    };
    fault("roof, 95, EUR\nbox, 390, USD\n", "different currencies");
    fault("roof, 95\nroof, 96\n", "line 1 already");
    fault("roof, 95\nbox, cheap\n", "p.csv:2");
    fault("roof\n", "write the file's name and its price");
    fault("roof, -3\n", "p.csv:1");
    fault("", "has no price");
    fault("file, price\n", "has no price");
}
