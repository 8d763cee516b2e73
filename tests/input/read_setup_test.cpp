#include "reading.hpp"

namespace plait::input::test {
namespace {

const std::string controller =
    "[controller]\ntype = \"wide-range\"\n[[controller.input]]\nmax_voltage = 60\ntracking_min = 12\nmax_current = "
    "15\n";
const std::string small_setup = "[[panel]]\nid = \"meadow\"\ncount = 4\npmax = 100\nvmp = 18\n" + controller;

Result<std::string, std::string> good_folder(const std::string& path) {
    return from_disk(source_dir + "/tests/input/good/" + path);
}

Setup complete() {
    const auto text = good_folder("complete.toml");
    REQUIRE(text);
    // The second kind has no id: the name of its file, panel_plain.toml, gives one.
    return setup_of(*text, good_folder);
}

TEST_CASE("every key of a set-up arrives in the model") {
    const Setup s = complete();
    CHECK(s.assumptions.empty());
    CHECK(s.doubts.empty());
    CHECK(s.title == "Allotment shed");
    CHECK(s.currency == "EUR");
    CHECK(s.curve_method == CurveMethod::de_soto);

    REQUIRE(s.kinds.size() == 2);
    const PanelKind& meadow = s.kinds[0];
    CHECK(meadow.id == "meadow");
    CHECK(meadow.count == 6);
    CHECK(meadow.price.value() == 80.5);
    CHECK(meadow.panel.name == "Meadow 330");
    CHECK(meadow.panel.technology == Technology::perc);
    CHECK(meadow.panel.half_cut);
    CHECK(meadow.panel.isc_coefficient_per_k == Approx(0.0049 / 10.2));
    CHECK(meadow.panel.max_system_voltage_v == Approx(1500.0));
    CHECK(meadow.panel.pmax_tolerance_below_ratio == 0.0);
    CHECK(meadow.panel.pmax_tolerance_above_ratio == Approx(0.03));
    CHECK(meadow.panel.given_diode.value().shunt_resistance_ohm == Approx(400.0));
    CHECK(s.kinds[1].id == "panel-plain");
    CHECK(s.kinds[1].count == 2);
    CHECK_FALSE(s.kinds[1].price);
    CHECK(s.kinds[1].panel.name == "Meadow 100");

    const Controller& c = s.controller;
    CHECK(c.name == "Shed box");
    CHECK(c.type == ControllerType::step_down);
    CHECK(c.running_headroom_v == 2.0);
    CHECK(c.starting_headroom_v == 4.0);
    CHECK(c.direct_connect_drop_v == 0.0);
    CHECK(c.efficiency_ratio == Approx(0.95));
    CHECK(c.max_total_power_w.value() == Approx(2000.0));
    CHECK(c.price.value() == 300.0);
    REQUIRE(c.battery);
    CHECK(c.battery->min_voltage_v == 10.5);
    CHECK(c.battery->nominal_voltage_v == 12.8);
    CHECK(c.battery->max_voltage_v == 14.6);
    CHECK(c.battery->max_charge_current_a.value() == 60.0);
    REQUIRE(c.inputs.size() == 2);
    const Input& roof = c.inputs[0];
    CHECK(roof.name == "roof");
    CHECK(roof.max_voltage_v == 150.0);
    CHECK(roof.tracking_min_v.value() == 20.0);
    CHECK(roof.tracking_max_v.value() == 140.0);
    CHECK(roof.start_voltage_v.value() == 22.0);
    REQUIRE(roof.bands.size() == 2);
    CHECK(roof.bands[1].limit_a == 13.0);
    CHECK(roof.max_power_w.value() == 900.0);
    CHECK(roof.max_short_circuit_a.value() == 25.0);
    CHECK(roof.max_array_power_w.value() == 1200.0);
    CHECK(roof.over_current == OverCurrent::only_clips);
    CHECK(c.inputs[1].over_current == OverCurrent::not_permitted);

    CHECK(s.site.coldest_air.degc == Approx(-10.0));  // 14 °F
    CHECK(s.site.coldest_basis == TemperatureBasis::record);
    CHECK(s.site.hottest_air.degc == Approx(36.0));
    CHECK(s.site.hottest_basis == TemperatureBasis::mean_extreme);
    CHECK(s.site.warm_air.degc == 22.0);
    CHECK(s.site.mounting == Mounting::propped_up);
    CHECK(s.site.peak_irradiance_w_per_m2 == Approx(1100.0));
    CHECK(s.site.cold_method == ColdMethod::flat_factor);
    CHECK(s.site.flat_factor_ratio == 1.25);
    CHECK(s.site.code == Code::iec);
}

TEST_CASE("a wiring in full keeps the light and warmth of each bypass group") {
    const Setup s = complete();
    REQUIRE(s.wiring);
    REQUIRE(s.wiring->size() == 2);
    const InputWiring& roof = (*s.wiring)[0];
    REQUIRE(roof.strings.size() == 2);
    CHECK(roof.strings[0].blocking_diode);
    CHECK_FALSE(roof.strings[1].blocking_diode);
    REQUIRE(roof.strings[0].panels.size() == 2);
    CHECK(roof.strings[0].panels[0].groups.empty());
    const std::vector<GroupState> shaded{{1.0, 0.0}, {0.2, 5.0}, {0.5, 0.0}};
    CHECK((roof.strings[0].panels[1].groups == shaded));
    const std::vector<GroupState> dim(3, GroupState{0.5, 0.0});
    CHECK((roof.strings[1].panels[0].groups == dim));
    const std::vector<GroupState> warm(3, GroupState{1.0, 3.0});
    CHECK((roof.strings[1].panels[1].groups == warm));
    CHECK(((*s.wiring)[1] == written_out({1, 2, 1})));
}

TEST_CASE("a set-up without a site assumes one, and says what") {
    const Setup s = setup_of(small_setup);
    CHECK(s.site.coldest_air.degc == -20.0);
    CHECK(s.site.hottest_air.degc == 40.0);
    CHECK(s.site.warm_air.degc == 25.0);
    CHECK(s.site.mounting == Mounting::flat_on_ground);
    CHECK(s.site.peak_irradiance_w_per_m2 == 1000.0);
    CHECK(s.site.coldest_basis == TemperatureBasis::unsaid);
    CHECK(s.site.cold_method == ColdMethod::coefficient);
    CHECK(s.site.code == Code::both);
    CHECK(assumed(s.assumptions, Quantity::site_coldest_air).value == "-20 °C");
    CHECK(assumed(s.assumptions, Quantity::site_hottest_air).value == "40 °C");
    CHECK(assumed(s.assumptions, Quantity::site_warm_air).value == "25 °C");
    CHECK(assumed(s.assumptions, Quantity::site_mounting).value == "flat-on-ground");
    CHECK(assumed(s.assumptions, Quantity::site_peak_irradiance).subject == "the site");
    CHECK_FALSE(s.wiring);
    CHECK(s.curve_method == CurveMethod::prior_ideality);
}

TEST_CASE("a site's temperatures may be ranges: the graver end is judged, both are kept") {
    const Setup s = setup_of(small_setup +
                             "[site]\ncoldest_air = [\"-12 °C\", \"-5 °C\"]\nhottest_air = [\"95 °F\", \"40 °C\"]\nwarm_air = "
                             "[\"30 °C\", \"20 °C\"]\n");
    CHECK(s.site.coldest_air.degc == -12.0);
    REQUIRE(s.site.coldest_air_range);
    CHECK(s.site.coldest_air_range->high.degc == -5.0);
    CHECK(s.site.hottest_air.degc == 40.0);
    CHECK(s.site.hottest_air_range->low.degc == Approx(35.0));
    CHECK(s.site.warm_air.degc == 25.0);
    CHECK(s.site.warm_air_range->low.degc == 20.0);
    CHECK(s.site.warm_air_range->high.degc == 30.0);
    CHECK(at_other_ends(s.site).size() == 2 * 2 * 3 - 1);
    const Setup one = setup_of(small_setup + "[site]\ncoldest_air = [\"-12 °C\", \"-12 °C\"]\n");
    CHECK_FALSE(one.site.coldest_air_range);
    CHECK(at_other_ends(one.site).empty());
}

TEST_CASE("a coldest air above that of test conditions is doubted") {
    const auto doubts = [](const std::string& air) {
        return setup_of(small_setup + "[site]\ncoldest_air = " + air + "\n").doubts.size();
    };
    CHECK(doubts("\"25 °C\"") == 0);
    CHECK(doubts("\"25.1 °C\"") == 1);
    CHECK(doubts("\"81 °F\"") == 1);
    CHECK(doubts("[\"20 °C\", \"28 °C\"]") == 1);
}

TEST_CASE("assumptions say which kind they are about") {
    const Setup s = setup_of(
        "[[panel]]\nid = \"a\"\ncount = 1\npmax = 100\nvmp = 18\n[[panel]]\nid = \"b\"\ncount = 1\npmax = "
        "60\nvmp = 18\n" +
        controller);
    std::vector<std::size_t> kinds;
    for (const Assumption& a : s.assumptions) {
        if (a.quantity == Quantity::panel_voc) kinds.push_back(a.kind.value());
    }
    CHECK((kinds == std::vector<std::size_t>{0, 1}));
    CHECK_FALSE(assumed(s.assumptions, Quantity::site_mounting).kind);
}

TEST_CASE("an id is made from the file or the name, and is always a word") {
    const auto id_of = [](const std::string& lines) {
        return setup_of("[[panel]]\ncount = 1\npmax = 100\nvmp = 18\n" + lines + controller).kinds.front().id;
    };
    CHECK(id_of("name = \"Meadow 100 W\"\n") == "meadow-100-w");
    CHECK(id_of("name = \"100 W\"\n") == "panel-100-w");
    CHECK(id_of("name = \"°°°\"\n") == "panel-1");
    CHECK(id_of("name = \"Unused\"\n") == "panel-1");
    CHECK(id_of("") == "panel-1");
    CHECK(id_of("id = \"x_1-y\"\n") == "x_1-y");
    const Setup named = setup_of("[[panel]]\nid = \"meadow\"\ncount = 1\npmax = 100\nvmp = 18\n" + controller);
    CHECK(named.kinds.front().panel.name == "meadow");
}

TEST_CASE("files are looked for beside the set-up") {
    std::vector<std::string> asked;
    const auto reader = [&](const std::string& path) -> Result<std::string, std::string> {
        asked.push_back(path);
        return std::string("pmax = 100\nvmp = 18\n");
    };
    const auto ask = [&](const std::string& set_up, const std::string& file) {
        asked.clear();
        const auto s = read_setup("[[panel]]\nfile = '" + file + "'\ncount = 1\n" + controller, set_up, reader);
        INFO((s ? "" : listed(s.error())));
        REQUIRE(s);
        REQUIRE(asked.size() == 1);
        return asked.front();
    };
    CHECK(ask("shed.toml", "x.toml") == "x.toml");
    CHECK(ask("docs/demo/shed.toml", "../../panels/x.toml") == "docs/demo/../../panels/x.toml");
    CHECK(ask("/a/shed.toml", "x.toml") == "/a/x.toml");
    CHECK(ask("a/shed.toml", "/b/x.toml") == "/b/x.toml");
    CHECK(ask("C:\\a\\shed.toml", "x.toml") == "C:\\a\\x.toml");
    CHECK(ask("a/shed.toml", "D:\\b\\x.toml") == "D:\\b\\x.toml");
}

TEST_CASE("complaints inside a panel or controller file carry that file's name and place") {
    const auto reader = [](const std::string& path) -> Result<std::string, std::string> {
        if (has(path, "panel")) return std::string("pmax = 100\nvmp = 18\nvoc = true\n");
        return std::string("type = \"wide-range\"\n[[input]]\nmax_voltage = 60\ntracking_min = 70\n");
    };
    const auto s =
        read_setup("titel = 1\n[[panel]]\nfile = \"panel.toml\"\ncount = 0\n[controller]\nfile = \"box.toml\"\n",
                   "a/shed.toml", reader);
    REQUIRE_FALSE(s);
    INFO(listed(s.error()));
    REQUIRE(s.error().size() == 4);
    const std::string said = listed(s.error());
    CHECK(has(said, "a/shed.toml:1:1: 'titel' is not a key of a set-up. Did you mean 'title'?"));
    CHECK(has(said, "a/shed.toml:4:9: 'count' is 0"));
    CHECK(has(said, "a/panel.toml:3:7: 'voc' is true"));
    CHECK(has(said, "a/box.toml:4:16: 'tracking_min' is 70 V"));
}

TEST_CASE("doubts inside a panel file carry its name too") {
    const auto reader = [](const std::string&) -> Result<std::string, std::string> {
        return panel_with({{"pmax", "96"}});
    };
    const Setup s = setup_of("[[panel]]\nfile = \"p.toml\"\ncount = 1\n" + controller, reader);
    REQUIRE(s.doubts.size() == 1);
    CHECK(has(s.doubts.front(), "p.toml:5:8: 'pmax' is 96 W"));
}

TEST_CASE("a controller file may have its price beside it") {
    const Setup s = setup_of(
        "[[panel]]\ncount = 1\npmax = 100\nvmp = 18\n[controller]\nfile = \"controller_plain.toml\"\nprice = 250\n",
        good_folder);
    CHECK(s.controller.name == "Shed box");
    CHECK(s.controller.price.value() == 250.0);
}

TEST_CASE("without a reader of files, naming one is a complaint") {
    CHECK(has(complaints_about_setup("[[panel]]\nfile = \"p.toml\"\ncount = 1\n" + controller, ReadFile()),
              "cannot be read: no files can be read here"));
}

TEST_CASE("a panel that was not read does not make its wiring wrong") {
    const std::string said =
        complaints_about_setup("[[panel]]\nid = \"meadow\"\ncount = 4\npmax = true\nvmp = 18\n" + controller +
                               "[[wiring.PV1.string]]\npanels = [ { panel = \"meadow\", light = [1, 1, 1] } ]\n");
    CHECK(std::count(said.begin(), said.end(), '\n') == 1);
    CHECK(has(said, "'pmax' is true"));
}

}  // namespace
}  // namespace plait::input::test
