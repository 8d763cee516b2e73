#include <plait/physics/sun_position.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "csv_table.hpp"
#include "../support/source_dir.hpp"

using namespace plait;
using namespace plait::physics;
using plait_test::CsvRow;
using plait_test::CsvTable;

namespace {

constexpr double degrees = 180.0 / std::numbers::pi;

struct Unit {
    double east, north, up;
};

Unit unit_of(double elevation_deg, double azimuth_deg) {
    const double e = elevation_deg / degrees;
    const double a = azimuth_deg / degrees;
    return {std::cos(e) * std::sin(a), std::cos(e) * std::cos(a), std::sin(e)};
}

/// The angle between two directions: near the zenith azimuth alone says little.
double apart_deg(const SunDirection& s, const Unit& u) {
    const double x = s.north_ratio * u.up - s.up_ratio * u.north;
    const double y = s.up_ratio * u.east - s.east_ratio * u.up;
    const double z = s.east_ratio * u.north - s.north_ratio * u.east;
    return std::asin(std::min(1.0, std::sqrt(x * x + y * y + z * z))) * degrees;
}

SunDirection sun_at(CivilDate date, double ut_h, const Observer& from) {
    return sun_direction(sun_ephemeris(Moment::of(date, ut_h)), from);
}

// NREL/TP-560-34302 (2004, rev. 2008), its worked example: 17 October 2003, 12:30:30 at UTC − 7 h.
const CivilDate nrel_date = civil_date(2003, 10, 17);
const Observer nrel_place{39.742476, -105.1786, 1830.14};

}  // namespace

TEST_CASE("the sun stands where the worked example of NREL/TP-560-34302 has it") {
    const SunDirection sun = sun_at(nrel_date, 19.0 + 30.0 / 60.0 + 30.0 / 3600.0, nrel_place);
    // Printed: zenith 50.11162° with refraction at 820 mbar and 11 °C, azimuth 194.34024°, incidence 25.18700° on a
    // surface of slope 30°, turned 10° from south to the east (azimuth rotation −10°).
    const double apparent_deg = sun.elevation_deg + refraction_deg(sun.elevation_deg, 82000.0, {11.0});
    CHECK(apart_deg(sun, unit_of(90.0 - 50.11162 - (apparent_deg - sun.elevation_deg), 194.34024)) < 0.005);
    CHECK(90.0 - apparent_deg == Approx(50.11162).margin(0.005));
    CHECK(sun.azimuth_deg == Approx(194.34024).margin(0.005));
    const SunDirection lifted{0, 0, 0, apparent_deg, sun.azimuth_deg};
    const Unit u = unit_of(lifted.elevation_deg, lifted.azimuth_deg);
    CHECK(std::acos(incidence_cosine({u.east, u.north, u.up, 0, 0}, 30.0, 170.0)) * degrees ==
          Approx(25.18700).margin(0.005));
}

TEST_CASE("rise, transit and set of the same example") {
    // Printed: 13:12:43.46, 18:46:04.97 and 00:20:19.19 UT. A hundredth of a degree of hour angle is 2.4 s.
    const SunDay day = sun_day(nrel_date, nrel_place);
    CHECK(day.transit_h * 3600.0 == Approx(18 * 3600 + 46 * 60 + 4.97).margin(2.4));
    REQUIRE(day.rise_h);
    REQUIRE(day.set_h);
    CHECK(*day.rise_h * 3600.0 == Approx(13 * 3600 + 12 * 60 + 43.46).margin(5.0));
    // The printed set at 00:20 UT of the 17th ends the local 16th: a day's sun here is that around its own transit.
    const SunDay before = sun_day(civil_date(2003, 10, 16), nrel_place);
    REQUIRE(before.set_h);
    CHECK(*before.set_h * 3600.0 == Approx(24 * 3600 + 20 * 60 + 19.19).margin(5.0));
    CHECK(*day.set_h < *before.set_h);
}

TEST_CASE("an independent library sees the sun within a hundredth of a degree, 1950 to 2100, at all latitudes") {
    // tests/reference/sun_reference.py: python3-ephem 4.1.4.
    const CsvTable table(std::string(support::source_dir()) + "/tests/reference/sun_reference.csv");
    double worst = 0.0;
    for (const CsvRow& row : table.rows()) {
        const auto whole = [&](const char* name) { return static_cast<int>(row.number(name)); };
        const Moment moment = Moment::of(civil_date(whole("year"), whole("month"), whole("day")), row.number("ut_h"));
        const SunEphemeris sun = sun_ephemeris(moment);
        const Observer from{row.number("latitude_deg"), row.number("longitude_deg"), row.number("height_m")};
        const SunDirection seen = sun_direction(sun, from);
        const double off = apart_deg(seen, unit_of(row.number("elevation_deg"), row.number("azimuth_deg")));
        INFO(whole("year") << '-' << whole("month") << '-' << whole("day") << " at " << from.latitude_deg);
        CHECK(off < 0.01);
        // The ellipse alone, without Moon and planets, which move the Earth by some 1e-4 au: 0.03 % of the light.
        CHECK(sun.distance_au == Approx(row.number("distance_au")).margin(1.5e-4));
        worst = std::max(worst, off);
    }
    CHECK(table.rows().size() == 600);
    CHECK(worst < 0.006);  // what docs/sun.md promises
    CHECK(worst > 1e-4);   // the table was read
}

TEST_CASE("figures of four places agree to what the printed angles carry") {
    // Zenith without refraction and azimuth, computed by NREL's full algorithm in a general-purpose library.
    struct Row {
        CivilDate date;
        double ut_h, latitude_deg, longitude_deg, height_m, zenith_deg, azimuth_deg;
    };
    const Row rows[] = {
        {civil_date(2021, 4, 8), 9.0 + 20.0 / 60.0, 52.3, 4.9, 10, 53.5145, 134.1676},
        {civil_date(2019, 12, 21), 15.0 + 40.0 / 60.0, -33.4, -70.6, 520, 16.5690, 56.9256},
        {civil_date(2023, 6, 20), 19.0 + 10.0 / 60.0, 64.1, -21.9, 40, 66.9637, 276.5259},
        {civil_date(2022, 10, 2), 21.5, 39.7, -105.2, 1650, 56.9457, 229.9164},
    };
    for (const Row& r : rows) {
        const SunDirection sun = sun_at(r.date, r.ut_h, {r.latitude_deg, r.longitude_deg, r.height_m});
        CHECK(apart_deg(sun, unit_of(90.0 - r.zenith_deg, r.azimuth_deg)) < 0.006);
    }
}

TEST_CASE("the sun rises in the east and sets in the west, everywhere that it rises") {
    for (double latitude = -65.0; latitude <= 65.0; latitude += 5.0) {
        for (int day = 0; day < 365; day += 13) {
            const CivilDate date = date_of(day_number(civil_date(2025, 1, 1)) + day);
            const Observer at{latitude, 17.0, 0.0};
            const SunDay d = sun_day(date, at);
            INFO(latitude << " on day " << day);
            REQUIRE(d.rise_h);
            REQUIRE(d.set_h);
            CHECK(*d.rise_h < d.transit_h);
            CHECK(*d.set_h > d.transit_h);
            CHECK(sun_at(date, *d.rise_h, at).east_ratio > 0.0);
            CHECK(sun_at(date, *d.set_h, at).east_ratio < 0.0);
            CHECK(sun_at(date, *d.rise_h, at).elevation_deg == Approx(-0.8333).margin(0.01));
            // Through the day it climbs to the transit and falls after it.
            CHECK(sun_at(date, d.transit_h, at).elevation_deg >= sun_at(date, d.transit_h - 1.0, at).elevation_deg);
            CHECK(sun_at(date, d.transit_h, at).elevation_deg >= sun_at(date, d.transit_h + 1.0, at).elevation_deg);
        }
    }
}

TEST_CASE("inside the polar circles there are days without rise and set") {
    const Observer north{78.2, 15.6, 0.0};
    const SunDay winter = sun_day(civil_date(2025, 12, 21), north);
    CHECK((!winter.rise_h && !winter.set_h && !winter.up_all_day));
    CHECK(winter.transit_elevation_deg < 0.0);
    const SunDay summer = sun_day(civil_date(2025, 6, 21), north);
    CHECK((!summer.rise_h && !summer.set_h && summer.up_all_day));
    const SunDay pole = sun_day(civil_date(2025, 12, 21), {-90.0, 0.0, 2800.0});
    CHECK((!pole.rise_h && pole.up_all_day));
    CHECK(pole.transit_elevation_deg == Approx(23.44).margin(0.02));
}

TEST_CASE("a place on the other side of the date line sees the same sun") {
    const SunDirection a = sun_at(civil_date(2024, 2, 29), 3.25, {-17.0, 180.0, 0.0});
    const SunDirection b = sun_at(civil_date(2024, 2, 29), 3.25, {-17.0, -180.0, 0.0});
    CHECK(a.elevation_deg == Approx(b.elevation_deg));
    CHECK(a.azimuth_deg == Approx(b.azimuth_deg));
    // An hour on and fifteen degrees further west it stands nearly as high: only the year has moved.
    const SunDirection c = sun_at(civil_date(2024, 2, 29), 4.25, {-17.0, 165.0, 0.0});
    CHECK(c.elevation_deg == Approx(a.elevation_deg).margin(0.03));
}

TEST_CASE("the calendar of a leap year") {
    CHECK(day_number(civil_date(1970, 1, 1)) == 0);
    CHECK(day_of_year(civil_date(2024, 12, 31)) == 366);
    CHECK(day_of_year(civil_date(2023, 12, 31)) == 365);
    CHECK(day_number(civil_date(2024, 3, 1)) - day_number(civil_date(2024, 2, 28)) == 2);
    CHECK_FALSE(civil_date(2023, 2, 29).ok());
    CHECK(civil_date(2024, 2, 29).ok());
    CHECK(Moment::of(civil_date(2000, 1, 1), 12.0).j2000_days == 0.0);
}

TEST_CASE("an incidence angle by a textbook") {
    // Duffie & Beckman, Solar Engineering of Thermal Processes, example 1.6.1 [from memory]: 43° north, declination
    // −14°, 10:30 solar time, a surface tilted 45° and turned 15° west of south: cos θ = 0.817 (and 35.0°, rounded
    // from 35.2°).
    const SunEphemeris sun{-22.5, -14.0, 1e9};  // so far that there is no parallax
    CHECK(incidence_cosine(sun_direction(sun, {43.0, 0.0, 0.0}), 45.0, 195.0) == Approx(0.817).margin(0.0005));
}
