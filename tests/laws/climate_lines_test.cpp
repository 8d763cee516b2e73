// What the climate statistics write under [site] is what the reader of set-ups takes.
#include <plait/base/civil_date.hpp>
#include <plait/input/read_setup.hpp>
#include <plait/study/climate.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <string>

using namespace plait;

TEST_CASE("the site lines of a climate sheet are read back as what they say") {
    StationRecord record;
    record.id = "XX000000001";
    for (int d = day_number(civil_date(1970, 1, 1)); d <= day_number(civil_date(2010, 12, 31)); ++d) {
        const double season = -12.0 * std::cos(2.0 * 3.14159265 * day_of_year(date_of(d)) / 365.0);
        const double low = 6.0 + season + 5.0 * std::sin(0.37 * d) - 2.0 * std::sin(0.011 * d * d);
        record.days.push_back({d, std::round(10.0 * low) / 10.0, std::round(10.0 * (low + 9.0)) / 10.0});
    }
    for (const std::size_t years : {std::size_t{8}, std::size_t{15}, std::size_t{41}}) {
        StationRecord part = record;
        part.days.resize(years * 365);
        const study::ClimateSheet sheet = study::climate_sheet(part, false);
        const auto lines = study::site_lines(sheet);
        std::string text = "[site]\n";
        for (const std::string& line : lines) text += line + "\n";
        text +=
            "[[panel]]\ncount = 1\nvoc = 22.3\nisc = 5.8\nvmp = 18.6\nimp = 5.4\n[controller]\ntype = \"wide-range\"\n"
            "[[controller.input]]\nmax_voltage = 60\ntracking_min = 12\n";
        INFO(text);
        const auto setup = input::read_setup(text, "x.toml", {});
        if (!setup) {
            for (const Diagnostic& d : setup.error()) UNSCOPED_INFO(d.line << ": " << d.message);
        }
        REQUIRE(setup);
        CHECK(setup->site.coldest_basis == sheet.coldest_basis);
        CHECK(setup->site.hottest_basis == sheet.hottest_basis);
        // Rounded to a tenth, outwards.
        CHECK(setup->site.coldest_air.degc <= sheet.coldest_air->degc + 1e-6);
        CHECK(setup->site.coldest_air.degc > sheet.coldest_air->degc - 0.1001);
        CHECK(setup->site.hottest_air.degc >= sheet.hottest_air->degc - 1e-6);
        CHECK(setup->site.hottest_air.degc < sheet.hottest_air->degc + 0.1001);
        CHECK(text.find("# coldest_air") != std::string::npos);
    }
}
