// The files the project ships are what people copy from: they are read here as anybody's would be.
#include "../support/source_files.hpp"
#include "../support/source_dir.hpp"

#include <plait/input/read_panel.hpp>
#include <plait/input/read_setup.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <set>

using namespace plait;
using namespace plait::input;

namespace {

constexpr const char* first_line = "# Invented for the demo: no maker, no product.\n";
constexpr const char* sparse_panel = "folding-120w-leaflet.toml";  // there to show the fall-backs

std::string words_of(const Diagnostics& complaints) {
    std::string words;
    for (const Diagnostic& d : complaints) {
        words += d.file + ":" + std::to_string(d.line) + ":" + std::to_string(d.column) + ": " + d.message + "\n";
    }
    return words;
}

std::string words_of(const std::vector<std::string>& doubts) {
    std::string words;
    for (const std::string& doubt : doubts) words += doubt + "\n";
    return words;
}

Result<std::string, std::string> read_source_file(const std::string& path) {
    if (!std::filesystem::exists(path)) return Failure{std::string("there is no such file")};
    return support::text_of(path);
}

Result<Setup> demo(const std::string& name) {
    const auto path = std::filesystem::path(support::source_dir()) / "docs" / "demo" / name;
    return read_setup(support::text_of(path), path.string(), read_source_file);
}

bool assumes(const std::vector<Assumption>& assumptions, Quantity quantity) {
    for (const Assumption& a : assumptions) {
        if (a.quantity == quantity) return true;
    }
    return false;
}

}  // namespace

TEST_CASE("every shipped panel reads without a complaint or a doubt, and says that it is invented") {
    const auto files = support::toml_files("panels");
    CHECK(files.size() >= 14);
    std::set<std::string> names;
    for (const auto& path : files) {
        INFO(path.filename().string());
        const std::string text = support::text_of(path);
        CHECK(text.rfind(first_line, 0) == 0);
        const auto read = read_panel(text, path.filename().string());
        if (!read) FAIL_CHECK(words_of(read.error()));
        if (!read) continue;
        CHECK(words_of(read->doubts) == "");
        CHECK(names.insert(read->panel.name).second);
        const Panel& p = read->panel;
        // Datasheets round their figures; the library's agree with one another to half a per cent.
        CHECK(std::abs(p.vmp_v * p.imp_a / p.pmax_w - 1.0) < 0.005);
        if (path.filename() == sparse_panel) continue;
        for (const Quantity q :
             {Quantity::panel_technology, Quantity::panel_cells, Quantity::panel_bypass_diodes,
              Quantity::panel_voc_coefficient, Quantity::panel_pmax_coefficient, Quantity::panel_isc_coefficient,
              Quantity::panel_nominal_temperature, Quantity::panel_system_voltage, Quantity::panel_series_fuse,
              Quantity::panel_pmax_tolerance}) {
            CHECK_FALSE(assumes(read->assumptions, q));
        }
    }
}

TEST_CASE("the panel with a leaflet's five figures shows the fall-backs") {
    const auto path = std::filesystem::path(support::source_dir()) / "panels" / sparse_panel;
    const auto read = read_panel(support::text_of(path), sparse_panel);
    REQUIRE(read.has_value());
    CHECK(read->panel.technology == Technology::unknown);
    CHECK_FALSE(read->panel.voc_coefficient_stated);
    CHECK_FALSE(read->panel.max_series_fuse_stated);
    for (const Quantity q : {Quantity::panel_technology, Quantity::panel_cells, Quantity::panel_voc_coefficient,
                             Quantity::panel_system_voltage, Quantity::panel_series_fuse}) {
        CHECK(assumes(read->assumptions, q));
    }
}

TEST_CASE("coefficients in volts, watts and amperes come out per kelvin of the printed value") {
    const auto read = [](const char* name) {
        const auto path = std::filesystem::path(support::source_dir()) / "panels" / name;
        const auto file = read_panel(support::text_of(path), name);
        REQUIRE(file.has_value());
        return file->panel;
    };
    const Panel lab = read("rigid-80w-mono-lab.toml");
    CHECK(lab.voc_coefficient_per_k == Approx(-0.072 / 22.2));
    CHECK(lab.isc_coefficient_per_k == Approx(0.0024 / 4.75));
    CHECK(lab.pmax_coefficient_per_k == Approx(-0.35 / 80.0));
    CHECK(read("rigid-50w-mono-old.toml").voc_coefficient_per_k == Approx(-36 * 0.0021 / 22.0));
    CHECK(read("rigid-100w-poly.toml").nominal_temperature.degc == Approx((117.0 - 32.0) / 1.8));
}

TEST_CASE("every demo set-up reads without a complaint or a doubt, and brings a wiring to check") {
    const auto files = support::toml_files("docs/demo");
    CHECK(files.size() >= 5);
    for (const auto& path : files) {
        INFO(path.filename().string());
        CHECK(support::text_of(path).rfind("# Invented for the demo", 0) == 0);
        const auto setup = demo(path.filename().string());
        if (!setup) FAIL_CHECK(words_of(setup.error()));
        if (!setup) continue;
        CHECK(words_of(setup->doubts) == "");
        REQUIRE(setup->wiring.has_value());
        CHECK(setup->wiring->size() == setup->controller.inputs.size());
        for (std::size_t kind = 0; kind < setup->kinds.size(); ++kind) {
            std::size_t used = 0;
            for (const InputWiring& wiring : *setup->wiring) used += wiring.panel_count(kind);
            CHECK(used > 0);
            CHECK(used <= static_cast<std::size_t>(setup->kinds[kind].count));
        }
    }
}

// What the comments in the demo files say, worked out from their printed figures: Voc·(1 + β·(T − 25 °C)) a panel.
TEST_CASE("the demo files' own arithmetic is right") {
    const auto cold_voc_v = [](const Setup& s, std::size_t kind, int in_series) {
        const Panel& p = s.kinds[kind].panel;
        return in_series * p.voc_v * (1.0 + p.voc_coefficient_per_k * (s.site.coldest_air.degc - 25.0));
    };
    const auto allotment = demo("allotment.toml");
    REQUIRE(allotment.has_value());
    CHECK(cold_voc_v(*allotment, 0, 2) == Approx(54.9).margin(0.05));
    CHECK(cold_voc_v(*allotment, 0, 3) == Approx(82.3).margin(0.05));
    CHECK(cold_voc_v(*allotment, 0, 5) == Approx(137.0).margin(0.5));
    CHECK(cold_voc_v(*allotment, 0, 6) == Approx(165.0).margin(0.5));
    CHECK(6 * allotment->kinds[0].panel.voc_v == Approx(147.0));
    const auto van = demo("van.toml");
    REQUIRE(van.has_value());
    CHECK(cold_voc_v(*van, 0, 4) == Approx(103.0).margin(0.5));
    const auto cabin = demo("cabin-direct.toml");
    REQUIRE(cabin.has_value());
    CHECK(cold_voc_v(*cabin, 0, 2) == Approx(51.7).margin(0.05));
    const auto mixed = demo("mixed.toml");
    REQUIRE(mixed.has_value());
    REQUIRE(mixed->kinds.size() == 3);
    CHECK(2 * mixed->kinds[0].panel.vmp_v == Approx(62.4));
    CHECK(3 * mixed->kinds[1].panel.vmp_v == Approx(60.0));
    CHECK(3 * mixed->kinds[2].panel.vmp_v == Approx(59.7));
    CHECK(2 * mixed->kinds[0].panel.voc_v == Approx(76.4));
    CHECK(3 * mixed->kinds[1].panel.voc_v == Approx(72.9));
    CHECK(3 * mixed->kinds[2].panel.voc_v == Approx(70.2));
    CHECK(1.25 * mixed->kinds[1].panel.isc_a == Approx(12.0));
    CHECK(mixed->site.coldest_air.degc == Approx(-10.0));
}

TEST_CASE("the carport demo keeps which cells of a bypass group are shaded") {
    const auto setup = demo("carport.toml");
    REQUIRE(setup);
    REQUIRE(setup->wiring);
    const std::vector<PanelPlace>& panels = (*setup->wiring)[0].strings[0].panels;
    CHECK((panels[0].groups == std::vector<GroupState>{{1.0, 0.0, 1, 0.3}, {}, {}}));
    CHECK(panels[1].groups.empty());
    CHECK((panels[2].groups == std::vector<GroupState>{{}, {1.0, 0.0, 3, 0.15}, {}}));
}

TEST_CASE("the shaded demo keeps the light, the warmth and the blocking diodes of its wiring") {
    const auto setup = demo("shaded.toml");
    REQUIRE(setup.has_value());
    REQUIRE(setup->wiring.has_value());
    REQUIRE(setup->wiring->size() == 1);
    const auto& strings = setup->wiring->front().strings;
    REQUIRE(strings.size() == 2);
    CHECK(strings[0].blocking_diode);
    REQUIRE(strings[0].panels.size() == 3);
    REQUIRE(strings[0].panels[0].groups.size() == 3);
    CHECK(strings[0].panels[0].groups[1].light_ratio == 0.15);
    CHECK(strings[0].panels[1].groups[2].light_ratio == 0.4);
    CHECK(strings[0].panels[1].groups[2].warmer_k == 6.0);
    CHECK(strings[0].panels[2].groups.empty());
}
