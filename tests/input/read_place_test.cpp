#include "reading.hpp"

#include "setup/place_words.hpp"

namespace plait::input::test {
namespace {

const std::string head =
    "[[panel]]\nid = \"meadow\"\ncount = 6\nvoc = 22.3\nisc = 5.8\nvmp = 18.6\nimp = 5.4\n"
    "[controller]\ntype = \"wide-range\"\n[[controller.input]]\nmax_voltage = 60\ntracking_min = 12\n";

const std::string site = "[site]\nlatitude = \"52° 18' N\"\nlongitude = 4.9\nfrom_utc = 1\n";

std::string complaints(const std::string& more) { return complaints_about_setup(head + more); }

TEST_CASE("a set-up says where it is, which way it looks, what it loses and stores") {
    const Setup s = setup_of(
        head.substr(0, head.find("[controller]")) + "plane = \"west\"\n" + head.substr(head.find("[controller]")) +
        site +
        "height = \"120 m\"\nsummer_time = [\"03-30\", \"10-26\"]\nturbidity = 3.5\nsky_model = \"hay-davies\"\n"
        "incidence_model = \"physical\"\nwarming_model = \"faiman\"\n"
        "daily_light = [0.7, 1.4, 2.6, 4.1, 5.1, 5.4, 5.2, 4.4, 3.1, 1.8, 0.9, 0.5]\n"
        "monthly_air = [\"3 °C\", \"3 °C\", \"6 °C\", \"9 °C\", \"13 °C\", \"16 °C\", \"18 °C\", \"18 °C\", \"15 °C\", "
        "\"11 °C\", \"7 °C\", \"4 °C\"]\n"
        "[[plane]]\nname = \"east\"\ntilt = \"35 °\"\nazimuth = \"ESE\"\nalbedo = 0.3\nhorizon = [[180, 3], [90, 12], "
        "[\"WSW\", 20]]\n"
        "[[plane]]\nname = \"west\"\ntilt = 35\nazimuth = 270\nmounting = \"close-to-roof\"\n"
        "[losses]\nsoiling = \"3 %\"\nageing = \"0.5 %\"\nage = 8\nown_use = \"9 W\"\n"
        "snow = [\"40 %\", \"20 %\", 0, 0, 0, 0, 0, 0, 0, 0, 0, \"10 %\"]\n"
        "[storage]\ncapacity = \"1.2 kWh\"\nusable = \"90 %\"\ncharge_power = \"600 W\"\ntaper_from = \"85 %\"\n"
        "charge_efficiency = \"96 %\"\nstanding_drain = \"4 W\"\n"
        "[[storage.load]]\npower = \"40 W\"\nfrom = \"18:30\"\nto = \"23:00\"\n[[storage.load]]\npower = \"6 W\"\n"
        "[storage.wall]\npower = \"300 W\"\ncombined_power = \"700 W\"\nfirst = \"wall\"\nfrom = \"22:00\"\nto = 6\n"
        "[[wiring.PV1.string]]\npanels = [\"meadow\", { panel = \"meadow\", plane = \"west\" }]\nplane = \"east\"\n"
        "[[wiring.PV1.string]]\npanels = [\"meadow\", \"meadow\"]\n");
    REQUIRE(s.location);
    CHECK(s.location->latitude_deg == Approx(52.3));
    CHECK(s.location->longitude_deg == 4.9);
    CHECK(s.location->from_utc_h == 1.0);
    CHECK(s.location->height_m == 120.0);
    CHECK(s.location->turbidity_value == 3.5);
    REQUIRE(s.location->summer_time);
    CHECK(s.location->summer_time->to_month == 10);
    CHECK(s.light_models.sky == SkyModel::hay_davies);
    CHECK(s.light_models.incidence == IncidenceModel::physical);
    CHECK(s.light_models.warming == WarmingModel::faiman);
    CHECK((*s.climate.daily_global_wh_per_m2)[5] == Approx(5400.0));
    CHECK((*s.climate.mean_air_degc)[11] == 4.0);
    REQUIRE(s.planes.size() == 2);
    CHECK(s.planes[0].azimuth_deg == 112.5);
    CHECK(s.planes[0].albedo_ratio == 0.3);
    REQUIRE(s.planes[0].horizon.size() == 3);
    CHECK(s.planes[0].horizon[0].azimuth_deg == 90.0);  // in order, whatever the file's
    CHECK(s.planes[0].horizon[2].azimuth_deg == 247.5);
    CHECK(s.planes[1].mounting == Mounting::close_to_roof);
    CHECK_FALSE(s.planes[0].mounting);
    CHECK(s.kinds[0].plane == 1u);
    CHECK(s.losses.soiling_ratio == Approx(0.03));
    CHECK(s.losses.age_years == 8.0);
    CHECK((*s.losses.snow_ratio)[0] == Approx(0.4));
    REQUIRE(s.storage);
    CHECK(s.storage->capacity_wh == 1200.0);
    CHECK(s.storage->charge_limit_w == 600.0);
    CHECK(s.storage->coldest_charging == Celsius{0.0});
    REQUIRE(s.storage->loads.size() == 2);
    CHECK(s.storage->loads[0].from_h == 18.5);
    CHECK(s.storage->loads[1].to_h == 24.0);
    REQUIRE(s.storage->wall);
    CHECK(s.storage->wall->wall_goes_first);
    CHECK(s.storage->wall->hours.at(0).from_h == 22.0);
    REQUIRE(s.wiring);
    const auto& strings = s.wiring->at(0).strings;
    CHECK(strings[0].panels[0].plane == 0u);
    CHECK(strings[0].panels[1].plane == 1u);
    CHECK_FALSE(strings[1].panels[0].plane);  // as its kind says
    CHECK(s.doubts.empty());
}

TEST_CASE("without a place there is none") {
    const Setup s = setup_of(head);
    CHECK_FALSE(s.location);
    CHECK(s.planes.empty());
    CHECK_FALSE(s.storage);
    CHECK(s.light_models.sky == SkyModel::perez);
}

TEST_CASE("ampere-hours count at the battery's nominal voltage") {
    const std::string battery = "[controller.battery]\nmin_voltage = 20\nnominal_voltage = 25.6\nmax_voltage = 29\n";
    CHECK(setup_of(head + battery + "[storage]\ncapacity = \"100 Ah\"\n").storage->capacity_wh == Approx(2560.0));
    CHECK(has(complaints("[storage]\ncapacity = \"100 Ah\"\n"), "Ah"));
}

TEST_CASE("a place that cannot be read is told how to be written") {
    CHECK(has(complaints("[site]\nlatitude = 52\nlongitude = 5\n"), "'from_utc' is missing"));
    CHECK(has(complaints("[site]\nlatitude = 95\nlongitude = 5\nfrom_utc = 1\n"), "'latitude' is 95"));
    CHECK(has(complaints("[site]\nlatitude = \"52 E\"\nlongitude = 5\nfrom_utc = 1\n"), "52.3 N"));
    CHECK(has(complaints(site + "summer_time = [\"30-03\", \"10-26\"]\n"), "summer_time"));
    CHECK(has(complaints(site + "daily_light = [1, 2]\n"), "twelve"));
    CHECK(has(complaints(site + "sky_model = \"even\"\n"), "isotropic"));
    CHECK(has(complaints("[[plane]]\nname = \"a\"\ntilt = 30\n"), "'azimuth' is missing"));
    CHECK(has(complaints("[[plane]]\nname = \"a\"\ntilt = 95\nazimuth = 180\n"), "'tilt' is 95"));
    CHECK(has(complaints("[[plane]]\nname = \"a\"\ntilt = 30\nazimuth = \"up\"\n"), "SSE"));
    CHECK(
        has(complaints("[[plane]]\nname = \"a\"\ntilt = 30\nazimuth = 180\n[[plane]]\nname = \"a\"\ntilt = 3\nazimuth "
                       "= 0\n"),
            "two planes"));
    CHECK(has(complaints("[plane]\nname = \"a\"\ntilt = 30\nazimuth = 180\n"), "[[plane]]"));
    CHECK(has(complaints("[[plane]]\nname = \"a\"\ntilt = 30\nazimuth = 180\nhorizon = [[10, 5], [370, 5]]\n"),
              "azimuth"));
    CHECK(has(complaints("[[plane]]\nname = \"a\"\ntilt = 30\nazimuth = 180\nhorizon = [[10, 5], [10, 7]]\n"),
              "two points"));
    CHECK(has(complaints("[[plane]]\nname = \"roof\"\ntilt = 30\nazimuth = 180\n[[wiring.PV1.string]]\npanels = "
                         "[\"meadow\"]\nplane = \"rof\"\n"),
              "Did you mean"));
    CHECK(has(complaints("[losses]\nageing = \"0.5 %\"\n"), "'age'"));
    CHECK(has(complaints("[losses]\nsoiling = 0.03\n"), "0.03 % or 3 %"));
    CHECK(has(complaints("[storage]\nusable = \"90 %\"\n"), "'capacity' is missing"));
    CHECK(has(complaints("[storage]\ncapacity = 500\ntaper_from = \"80 %\"\n"), "charge_power"));
    CHECK(has(complaints("[storage]\ncapacity = 500\n[[storage.load]]\npower = 5\nfrom = \"25:00\"\n"), "18:30"));
    CHECK(has(complaints("[storage]\ncapacity = 500\n[[storage.load]]\npower = 5\nfrom = 7\nto = 7\n"), "same time"));
}

TEST_CASE("a longitude with the wrong sign is doubted") {
    const Setup s = setup_of(head + "[site]\nlatitude = 40\nlongitude = 105\nfrom_utc = -7\n");
    REQUIRE(s.doubts.size() == 1);
    CHECK(has(s.doubts[0], "check the signs"));
    CHECK(setup_of(head + "[site]\nlatitude = 40\nlongitude = -105\nfrom_utc = -7\n").doubts.empty());
    // Across the date line noon is where it is.
    CHECK(setup_of(head + "[site]\nlatitude = -18\nlongitude = -178\nfrom_utc = 13\n").doubts.empty());
}

TEST_CASE("coordinates, directions, zones, days and times as people write them") {
    CHECK(written_coordinate("52.3", 'N', 'S') == Approx(52.3));
    CHECK(written_coordinate("-52.3", 'N', 'S') == Approx(-52.3));
    CHECK(written_coordinate("52.3 °N", 'N', 'S') == Approx(52.3));
    CHECK(written_coordinate("33.4s", 'N', 'S') == Approx(-33.4));
    CHECK(written_coordinate("4°54'30\"E", 'E', 'W') == Approx(4.0 + 54.5 / 60.0));
    CHECK(written_coordinate("0° 7′ W", 'E', 'W') == Approx(-7.0 / 60.0));
    CHECK_FALSE(written_coordinate("N 52", 'N', 'S'));
    CHECK_FALSE(written_coordinate("-5 S", 'N', 'S'));  // south of what?
    CHECK_FALSE(written_coordinate("52° 75'", 'N', 'S'));
    CHECK_FALSE(written_coordinate("", 'N', 'S'));
    CHECK(written_azimuth("SSE") == 157.5);
    CHECK(written_azimuth("south-east") == 135.0);
    CHECK(written_azimuth("North") == 0.0);
    CHECK(written_azimuth("200 °") == 200.0);
    CHECK_FALSE(written_azimuth("S-E-N"));
    CHECK_FALSE(written_azimuth(""));
    CHECK(written_zone("+5:45") == 5.75);
    CHECK(written_zone("UTC-03:30") == -3.5);
    CHECK(written_zone("UTC") == 0.0);
    CHECK(written_zone("-0:30") == -0.5);
    CHECK_FALSE(written_zone("CET"));
    CHECK_FALSE(written_zone("5:75"));
    CHECK(written_day_of_year("02-29")->day == 29);
    CHECK_FALSE(written_day_of_year("02-30"));
    CHECK_FALSE(written_day_of_year("2-03"));
    CHECK(written_time_of_day("18:30") == 18.5);
    CHECK(written_time_of_day("24:00") == 24.0);
    CHECK(written_time_of_day("7") == 7.0);
    CHECK_FALSE(written_time_of_day("24:30"));
    CHECK_FALSE(written_time_of_day("noon"));
}

TEST_CASE("the second column of a datasheet is a table in place of the plain nmot") {
    const std::string panel = "cells_in_series = 36\nvoc = 22.3\nisc = 5.8\nvmp = 18.6\nimp = 5.4\n";
    const Panel p =
        panel_of(panel +
                 "[nmot]\ntemperature = \"43 °C\"\npmax = \"75.6 W\"\nvmp = 17.4\nimp = 4.34\nvoc = 21.0\nisc = "
                 "4.68\n")
            .panel;
    CHECK(p.nominal_temperature == Celsius{43.0});
    CHECK(p.nominal_temperature_kind == NominalTemperatureKind::nmot);
    REQUIRE(p.nmot_point);
    CHECK(p.nmot_point->pmax_w == 75.6);
    CHECK(p.nmot_point->isc_a == 4.68);
    const Panel plain = panel_of(panel + "nmot = \"43 °C\"\n").panel;
    CHECK(plain.nominal_temperature == Celsius{43.0});
    CHECK_FALSE(plain.nmot_point);
    CHECK_FALSE(panel_of(panel + "[nmot]\ntemperature = \"43 °C\"\n").panel.nmot_point);
    CHECK(has(complaints_about_panel(panel + "[nmot]\npmax = 75\n"), "'temperature' is missing"));
    CHECK(has(complaints_about_panel(panel + "noct = \"45 °C\"\n[nmot]\ntemperature = \"43 °C\"\n"), "both given"));
    CHECK(has(complaints_about_panel(panel + "[nmot]\ntemperature = \"43 °C\"\npmax = 75\nvmp = 17\nimp = 5.3\n"),
              "times 'imp'"));
}

}  // namespace
}  // namespace plait::input::test
