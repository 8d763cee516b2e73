#include <plait/input/read_weather.hpp>

#include <catch2/catch.hpp>

using namespace plait;
using namespace plait::input;
using Catch::Matchers::Contains;

TEST_CASE("light: plain, with a unit, and nothing that is no light") {
    CHECK(*read_irradiance("800", "--sun") == 800.0);
    CHECK(*read_irradiance("800 W/m²", "--sun") == 800.0);
    CHECK(*read_irradiance("800 W/m2", "--sun") == 800.0);
    CHECK(*read_irradiance("0.8 kW/m²", "--sun") == Approx(800.0));
    CHECK(*read_irradiance("0", "--sun") == 0.0);
    CHECK(*read_irradiance("2000", "--sun") == 2000.0);
    for (const char* bad : {"", " ", "nan", "-inf", "1e999", "-1", "2000.1", "800 W", "5 °C", "1,5", "full"}) {
        CAPTURE(bad);
        const auto read = read_irradiance(bad, "--sun");
        REQUIRE_FALSE(read);
        CHECK(read.error().size() == 1);
        CHECK(read.error().front().file == "--sun");
    }
    CHECK_THAT(read_irradiance("800 V", "--sun").error().front().message, Contains("a voltage, but an irradiance"));
}

TEST_CASE("temperature: the three scales, minus signs of both kinds") {
    // −40 is the same on both scales; 0 °C is 32 °F and 273.15 K by definition.
    CHECK(read_temperature("−40 °C", "--cell")->degc == -40.0);
    CHECK(read_temperature("-40 °F", "--cell")->degc == Approx(-40.0));
    CHECK(read_temperature("32 F", "--cell")->degc == Approx(0.0).margin(1e-12));
    CHECK(read_temperature("273.15 K", "--cell")->degc == Approx(0.0).margin(1e-12));
    CHECK_FALSE(read_temperature("-61 °C", "--cell"));
    CHECK_FALSE(read_temperature("101 °C", "--cell"));
    CHECK_THAT(read_temperature("31", "--air").error().front().message,
               Contains("31 °C or 31 °F, which is -0.556 °C") && Contains("\"31 °C\""));
    CHECK_FALSE(read_temperature("\xff", "--cell"));
    CHECK_FALSE(read_temperature("45 K too much", "--cell"));
}

TEST_CASE("voltages: a list, each place told when it is wrong") {
    CHECK(*read_voltages("10, 20.5 V ,0,500 mV", "--at") == std::vector<double>{10.0, 20.5, 0.0, 0.5});
    CHECK(*read_voltages("7", "--at") == std::vector<double>{7.0});
    const auto bad = read_voltages("1, 2 A, x, −3", "--at");
    REQUIRE_FALSE(bad);
    REQUIRE(bad.error().size() == 3);
    CHECK(bad.error()[0].column == 3);
    CHECK(bad.error()[1].column == 8);
    CHECK_FALSE(read_voltages("", "--at"));
    CHECK_FALSE(read_voltages("1,", "--at"));
    std::string many = "1";
    for (int i = 0; i < 10000; ++i) many += ",1";
    CHECK(read_voltages(many, "--at")->size() == 10001);
    CHECK_FALSE(read_voltages(many + ",1", "--at"));
}
