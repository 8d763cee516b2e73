#include <plait/physics/conductor.hpp>

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <map>

using namespace plait;
using namespace plait::physics;

namespace {

CableSize metric(double mm2) { return {mm2, std::nullopt}; }
CableSize american(int awg) {
    for (const CableSize& s : american_sizes()) {
        if (s.awg == awg) return s;
    }
    FAIL("no such size: " << awg << " AWG");
    return {};
}
double ohm_per_kft(int awg, ConductorKind kind) { return table_resistance_ohm_per_m(american(awg), kind) * 304.8; }
double ohm_per_km(double mm2, ConductorKind kind) { return table_resistance_ohm_per_m(metric(mm2), kind) * 1000.0; }

Cable cable_of(CableSize size, double length_m) {
    Cable c;
    c.size = size;
    c.length_m = length_m;
    c.kind = ConductorKind::plain;
    return c;
}

Approx about(double value) { return Approx(value).epsilon(1e-12); }

}  // namespace

// IEC 60228:2004/2023 table 3, class 5, read in public reprints; 50 mm² from memory.
TEST_CASE("IEC 60228 class 5 resistances, ohms a kilometre at 20 °C") {
    const std::map<double, std::array<double, 2>> printed{
        {1.5, {13.3, 13.7}}, {2.5, {7.98, 8.21}},  {4, {4.95, 5.09}},    {6, {3.30, 3.39}},   {10, {1.91, 1.95}},
        {16, {1.21, 1.24}},  {25, {0.780, 0.795}}, {35, {0.554, 0.565}}, {50, {0.386, 0.393}}};
    CHECK(metric_sizes().size() == printed.size());
    for (const auto& [mm2, ohm] : printed) {
        CAPTURE(mm2);
        CHECK(ohm_per_km(mm2, ConductorKind::plain) == about(ohm[0]));
        CHECK(ohm_per_km(mm2, ConductorKind::tinned) == about(ohm[1]));
        CHECK(table_temperature(metric(mm2)).degc == 20.0);
    }
}

// NEC chapter 9 table 8, stranded, uncoated and coated, read in public reprints; ohms a kilometre as that table prints
// them, to its three digits.
TEST_CASE("NEC chapter 9 table 8, stranded copper at 75 °C") {
    const std::map<int, std::array<double, 3>> printed{
        {18, {7.95, 8.45, 26.1}},   {16, {4.99, 5.29, 16.4}},  {14, {3.14, 3.26, 10.3}},  {12, {1.98, 2.05, 6.50}},
        {10, {1.24, 1.29, 4.07}},   {8, {0.778, 0.809, 2.55}}, {6, {0.491, 0.510, 1.61}}, {4, {0.308, 0.321, 1.01}},
        {3, {0.245, 0.254, 0.804}}, {2, {0.194, 0.201, 0.636}}};
    CHECK(american_sizes().size() == printed.size());
    for (const auto& [awg, ohm] : printed) {
        CAPTURE(awg);
        CHECK(ohm_per_kft(awg, ConductorKind::plain) == about(ohm[0]));
        CHECK(ohm_per_kft(awg, ConductorKind::tinned) == about(ohm[1]));
        CHECK(table_resistance_ohm_per_m(american(awg), ConductorKind::plain) * 1000.0 ==
              Approx(ohm[2]).epsilon(0.006));
    }
}

// α(20 °C) = 0.00393/K: factor 1.216 at 75 °C, 1.275 at 90 °C [computed from the constant].
TEST_CASE("resistance rises with temperature by each table's own law") {
    const double r20 = table_resistance_ohm_per_m(metric(4), ConductorKind::plain);
    CHECK(resistance_ohm_per_m(metric(4), ConductorKind::plain, {20.0}) == about(r20));
    CHECK(resistance_ohm_per_m(metric(4), ConductorKind::plain, {75.0}) / r20 == Approx(1.216).epsilon(5e-4));
    CHECK(resistance_ohm_per_m(metric(4), ConductorKind::plain, {90.0}) / r20 == Approx(1.275).epsilon(5e-4));
    const double r75 = table_resistance_ohm_per_m(american(12), ConductorKind::plain);
    CHECK(resistance_ohm_per_m(american(12), ConductorKind::plain, {75.0}) == about(r75));
    CHECK(resistance_ohm_per_m(american(12), ConductorKind::plain, {50.0}) == about(r75 * (1.0 - 0.00323 * 25.0)));
}

// A French forum on NF C 15-100: 2.5 mm², 11 m one way, 34 A, 230 V; hot copper 0.023 Ω·mm²/m gives 6.88 V, 2.99 %.
TEST_CASE("by a rule-of-thumb resistivity") {
    Cable c = cable_of(metric(2.5), 11.0);
    c.resistance_ohm_per_m = 0.023 / 2.5;
    const double drop_v = 34.0 * loop_resistance_ohm(c);
    CHECK(drop_v == Approx(6.88).margin(0.005));
    CHECK(100.0 * drop_v / 230.0 == Approx(2.99).margin(0.005));
}

// A wire seller's table: 12 AWG taken as 1.60 Ω/kft, 5 A: 0.16 V at 10 ft, 0.32 V at 20 ft, 0.48 V at 30 ft one way;
// 4.00 % at 12 V for the last.
TEST_CASE("a maker's resistance in place of the table") {
    for (const int tens : {1, 2, 3}) {
        Cable c = cable_of(american(12), tens * 3.048);
        c.resistance_ohm_per_m = 1.60 / 304.8;
        c.conductor = Celsius{20.0};  // the maker's figure stands at any temperature
        CHECK(5.0 * loop_resistance_ohm(c) == about(0.16 * tens));
    }
    Cable c = cable_of(american(12), 9.144);
    c.resistance_ohm_per_m = 1.60 / 304.8;
    CHECK(100.0 * 5.0 * loop_resistance_ohm(c) / 12.0 == about(4.0));
}

// An installer page asks for 4 AWG: 10 A, 100 ft one way, 24 V, 2 %. By table 8: 2·100·0.308/1000·10 = 0.616 V, 2.57 %
// at 75 °C [computed]: its row is a size too thin.
TEST_CASE("4 AWG over a hundred feet") {
    const double drop_v = 10.0 * loop_resistance_ohm(cable_of(american(4), 30.48));
    CHECK(drop_v == about(0.616));
    CHECK(100.0 * drop_v / 24.0 == Approx(2.57).margin(0.005));
}

// NEC table 310.16 (2020/2023), copper, in public reprints; 18 and 16 AWG (90 °C only) from memory.
TEST_CASE("NEC table 310.16") {
    const std::map<int, std::array<double, 3>> printed{{14, {15, 20, 25}},  {12, {20, 25, 30}}, {10, {30, 35, 40}},
                                                       {8, {40, 50, 55}},   {6, {55, 65, 75}},  {4, {70, 85, 95}},
                                                       {3, {85, 100, 110}}, {2, {95, 115, 130}}};
    for (const auto& [awg, amps] : printed) {
        CAPTURE(awg);
        CHECK(nec_ampacity_a(awg, {60.0}) == amps[0]);
        CHECK(nec_ampacity_a(awg, {75.0}) == amps[1]);
        CHECK(nec_ampacity_a(awg, {90.0}) == amps[2]);
    }
    CHECK(nec_ampacity_a(18, {90.0}) == 14.0);
    CHECK(nec_ampacity_a(16, {90.0}) == 18.0);
    CHECK_FALSE(nec_ampacity_a(16, {75.0}));
    CHECK_FALSE(nec_ampacity_a(1, {75.0}));  // beyond the sizes held here
    // 240.4(D), in public reprints.
    CHECK(nec_small_conductor_cap_a(14) == 15.0);
    CHECK(nec_small_conductor_cap_a(12) == 20.0);
    CHECK(nec_small_conductor_cap_a(10) == 30.0);
    CHECK_FALSE(nec_small_conductor_cap_a(8));
}

// NEC 310.15(B)(1), base 30 °C: in public reprints to 60 °C, from memory above.
TEST_CASE("NEC ambient factors: a row holds to its upper end, the next begins above it") {
    const std::map<double, std::array<double, 3>> printed{
        {10, {1.29, 1.20, 1.15}}, {15, {1.22, 1.15, 1.12}}, {20, {1.15, 1.11, 1.08}}, {25, {1.08, 1.05, 1.04}},
        {30, {1.00, 1.00, 1.00}}, {35, {.91, .94, .96}},    {40, {.82, .88, .91}},    {45, {.71, .82, .87}},
        {50, {.58, .75, .82}},    {55, {.41, .67, .76}},    {60, {0, .58, .71}},      {65, {0, .47, .65}},
        {70, {0, .33, .58}},      {75, {0, 0, .50}},        {80, {0, 0, .41}}};
    for (const auto& [degc, factor] : printed) {
        CAPTURE(degc);
        const std::array columns{60.0, 75.0, 90.0};
        for (std::size_t i = 0; i < columns.size(); ++i) {
            CHECK(nec_ambient_factor({columns[i]}, {degc}).value_or(0.0) == factor[i]);
        }
    }
    CHECK(nec_ambient_factor({90.0}, {-40.0}) == 1.15);
    CHECK(nec_ambient_factor({90.0}, {30.1}) == 0.96);
    CHECK_FALSE(nec_ambient_factor({90.0}, {80.1}));
    // More than three loaded conductors: 4–6 → 0.80, 7–9 → 0.70 in public reprints.
    CHECK(nec_bundle_factor(3) == 1.0);
    CHECK(nec_bundle_factor(4) == 0.80);
    CHECK(nec_bundle_factor(6) == 0.80);
    CHECK(nec_bundle_factor(7) == 0.70);
    CHECK(nec_bundle_factor(9) == 0.70);
}

// EN 50618:2014 tables A.3 and A.4 [from memory].
TEST_CASE("EN 50618 ampacities and ambient factors") {
    const std::map<double, std::array<double, 3>> printed{
        {1.5, {30, 29, 24}},   {2.5, {41, 39, 33}},   {4, {55, 52, 44}},     {6, {70, 67, 57}},    {10, {98, 93, 79}},
        {16, {132, 125, 107}}, {25, {176, 167, 142}}, {35, {218, 207, 176}}, {50, {276, 262, 221}}};
    for (const auto& [mm2, amps] : printed) {
        CAPTURE(mm2);
        CHECK(en_ampacity_a(metric(mm2), Laying::free_air) == amps[0]);
        CHECK(en_ampacity_a(metric(mm2), Laying::surface) == amps[1]);
        CHECK(en_ampacity_a(metric(mm2), Laying::bundled) == amps[2]);
    }
    CHECK(en_ambient_factor({20.0}) == 1.0);
    CHECK(en_ambient_factor({60.0}) == 1.0);
    CHECK(en_ambient_factor({60.1}) == 0.92);
    CHECK(en_ambient_factor({70.0}) == 0.92);
    CHECK(en_ambient_factor({80.0}) == 0.84);
    CHECK(en_ambient_factor({90.0}) == 0.75);
    CHECK_FALSE(en_ambient_factor({90.1}));
}

// IEC 60364-5-52 tables B.52.2, B.52.3, B.52.10, B.52.12 and B.52.14 [from memory].
TEST_CASE("building ampacities and ambient factors") {
    const std::map<double, std::array<double, 4>> printed{
        {1.5, {19.5, 22, 24, 26}},  {2.5, {27, 30, 33, 36}},    {4, {36, 40, 45, 49}},
        {6, {46, 51, 58, 63}},      {10, {63, 70, 80, 86}},     {16, {85, 94, 107, 115}},
        {25, {112, 119, 138, 149}}, {35, {138, 148, 171, 185}}, {50, {168, 180, 209, 225}}};
    for (const auto& [mm2, amps] : printed) {
        CAPTURE(mm2);
        for (const Laying laying : {Laying::surface, Laying::bundled}) {
            CHECK(building_ampacity_a(metric(mm2), {75.0}, laying) == amps[0]);
            CHECK(building_ampacity_a(metric(mm2), {90.0}, laying) == amps[2]);
        }
        CHECK(building_ampacity_a(metric(mm2), {70.0}, Laying::free_air) == amps[1]);
        CHECK(building_ampacity_a(metric(mm2), {90.0}, Laying::free_air) == amps[3]);
        CHECK_FALSE(building_ampacity_a(metric(mm2), {60.0}, Laying::free_air));
    }
    // The heat that a conductor may give off grows with its rise above the air: I ∝ √(limit − ambient).
    for (const double insulation : {70.0, 90.0}) {
        for (double ambient = 10.0; ambient < insulation - 8.0; ambient += 5.0) {
            CAPTURE(insulation, ambient);
            const std::optional<double> factor = building_ambient_factor({insulation}, {ambient});
            REQUIRE(factor);
            CHECK(*factor == Approx(std::sqrt((insulation - ambient) / (insulation - 30.0))).margin(0.011));
        }
    }
    CHECK(building_ambient_factor({90.0}, {30.1}) == 0.96);
    CHECK_FALSE(building_ambient_factor({70.0}, {60.1}));
}

TEST_CASE("PV cable goes by EN 50618, a battery cable by IEC 60364-5-52") {
    Cable c = cable_of(metric(16), 2.0);
    c.ambient = Celsius{30.0};
    c.laying = Laying::surface;
    c.run = CableRun::trunk;
    CHECK(iec_ampacity(c)->corrected_a == 125.0);
    c.run = CableRun::battery;
    CHECK(iec_ampacity(c)->corrected_a == 107.0);
    c.insulation = Celsius{75.0};
    CHECK(iec_ampacity(c)->corrected_a == 85.0);
    c.insulation = Celsius{60.0};
    CHECK_FALSE(iec_ampacity(c)->corrected_a);
}

TEST_CASE("a size is taken as the next thinner one of the other code's table") {
    CHECK(as_american(metric(4)) == american(12));  // 4 mm² over 3.31 mm²
    CHECK(as_american(metric(6)) == american(10));
    CHECK(as_american(metric(1.5)) == american(16));
    CHECK(as_american(metric(50)) == american(2));
    CHECK(as_metric(american(12)) == metric(2.5));
    CHECK(as_metric(american(2)) == metric(25));
    CHECK_FALSE(as_metric(american(16)));
    CHECK(as_metric(metric(4)) == metric(4));
}

TEST_CASE("what a cable may carry is its column times the factors, and its terminals' column besides") {
    Cable c = cable_of(american(10), 5.0);
    c.ambient = Celsius{45.0};
    c.circuits = 2;
    const auto nec = nec_ampacity(c);
    REQUIRE(nec);
    CHECK(nec->terminal_a == 30.0);                        // 60 °C column
    CHECK(nec->corrected_a == about(40.0 * 0.87 * 0.80));  // 90 °C column, 45 °C, four conductors
    c.insulation = Celsius{60.0};
    c.ambient = Celsius{60.0};
    REQUIRE(nec_ampacity(c));
    CHECK_FALSE(nec_ampacity(c)->corrected_a);  // 60 °C wire in 60 °C air carries nothing
    Cable m = cable_of(metric(4), 5.0);
    m.ambient = Celsius{65.0};
    m.circuits = 3;
    REQUIRE(iec_ampacity(m));
    CHECK(iec_ampacity(m)->corrected_a == about(44.0 * 0.92 * 0.70));
    CHECK_FALSE(iec_ampacity(cable_of(american(18), 1.0)));
}

TEST_CASE("law: thicker never has more resistance and never carries less") {
    for (const auto sizes : {metric_sizes(), american_sizes()}) {
        for (std::size_t i = 1; i < sizes.size(); ++i) {
            CAPTURE(sizes[i].area_mm2);
            CHECK(sizes[i].area_mm2 > sizes[i - 1].area_mm2);
            for (const ConductorKind kind : {ConductorKind::plain, ConductorKind::tinned}) {
                CHECK(table_resistance_ohm_per_m(sizes[i], kind) < table_resistance_ohm_per_m(sizes[i - 1], kind));
                CHECK(table_resistance_ohm_per_m(sizes[i], ConductorKind::tinned) >
                      table_resistance_ohm_per_m(sizes[i], ConductorKind::plain));
            }
            Cable thin = cable_of(sizes[i - 1], 10.0);
            Cable thick = cable_of(sizes[i], 10.0);
            CHECK(loop_resistance_ohm(thick) < loop_resistance_ohm(thin));
            const auto amps = [](const auto& a) { return a && a->corrected_a ? *a->corrected_a : 0.0; };
            CHECK(amps(nec_ampacity(thick)) >= amps(nec_ampacity(thin)));
            CHECK(amps(iec_ampacity(thick)) >= amps(iec_ampacity(thin)));
        }
    }
}
