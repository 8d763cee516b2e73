#include <plait/physics/clear_sky.hpp>
#include <plait/physics/incidence.hpp>
#include <plait/physics/sun_position.hpp>
#include <plait/physics/tilted_light.hpp>
#include <plait/physics/wind_warming.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace plait;
using namespace plait::physics;

namespace {

constexpr double degrees = 180.0 / std::numbers::pi;

SunDirection direction(double zenith_deg, double azimuth_deg) {
    const double z = zenith_deg / degrees;
    const double a = azimuth_deg / degrees;
    return {std::sin(z) * std::sin(a), std::sin(z) * std::cos(a), std::cos(z), 90.0 - zenith_deg, azimuth_deg};
}

// Computed with a general-purpose open library of PV physics, sun by NREL's full algorithm; E0 by Spencer with 1361
// W/m², air of 1013.25 hPa at sea level and 12 °C for the apparent zenith, turbidity 3. Then from the GHI given.
struct Place {
    CivilDate date;
    double height_m, zenith_deg, azimuth_deg, e0, mass, clear_ghi, clear_dni, clear_dhi;
    double ghi, kt, dhi, dni, tilt_deg, facing_deg, theta_deg, isotropic, hay_davies, perez, albedo, ground;
};
const Place places[] = {
    {civil_date(2021, 4, 8),
     10,
     53.5145,
     134.1676,
     1357.301,
     1.67777,
     576.845,
     830.400,
     82.809,
     420,
     0.52040,
     258.6688,
     271.3184,
     35,
     160,
     25.5564,
     235.2789,
     266.6976,
     297.6679,
     0.2,
     7.5956},
    {civil_date(2019, 12, 21),
     520,
     16.5690,
     56.9256,
     1407.435,
     1.04287,
     1058.800,
     988.541,
     111.282,
     950,
     0.70423,
     225.6522,
     755.7278,
     15,
     10,
     12.5190,
     221.8077,
     226.1155,
     238.0032,
     0.25,
     4.0463},
    {civil_date(2023, 6, 20),
     40,
     66.9637,
     276.5259,
     1316.867,
     2.53828,
     333.244,
     691.815,
     62.094,
     130,
     0.25228,
     126.4554,
     9.0582,
     60,
     330,
     47.9329,
     94.8416,
     95.6785,
     95.0557,
     0.2,
     6.5000},
    {civil_date(2022, 10, 2),
     1650,
     56.9457,
     229.9164,
     1358.629,
     1.82817,
     572.455,
     895.907,
     83.520,
     610,
     0.82317,
     100.6500,
     933.8447,
     90,
     250,
     38.0765,
     50.3250,
     115.5790,
     120.8046,
     0.6,
     183.0000},
};

SkyMoment moment_of(const Place& p) {
    SkyMoment now;
    now.sun = direction(p.zenith_deg, p.azimuth_deg);
    now.extraterrestrial_w_per_m2 = extraterrestrial_of_day_w_per_m2(day_of_year(p.date));
    now.apparent_elevation_deg =
        90.0 - p.zenith_deg + refraction_deg(90.0 - p.zenith_deg, 101325.0 * std::exp(-p.height_m / 8434.5), {12.0});
    now.light = split_global(p.ghi, 90.0 - p.zenith_deg, now.extraterrestrial_w_per_m2);
    return now;
}

Plane plane_of(double tilt_deg, double azimuth_deg, double albedo = 0.2) {
    Plane p;
    p.tilt_deg = tilt_deg;
    p.azimuth_deg = azimuth_deg;
    p.albedo_ratio = albedo;
    return p;
}

}  // namespace

TEST_CASE("extraterrestrial light, air mass and clear sky meet computed figures") {
    for (const Place& p : places) {
        const SkyMoment now = moment_of(p);
        INFO("zenith " << p.zenith_deg);
        CHECK(now.extraterrestrial_w_per_m2 == Approx(p.e0).margin(0.001));
        CHECK(extraterrestrial_w_per_m2(sun_ephemeris(Moment::of(p.date, 12.0)).distance_au) ==
              Approx(p.e0).epsilon(0.0015));
        CHECK(air_mass_ratio(now.apparent_elevation_deg) == Approx(p.mass).margin(0.00005));
        const SkyLight clear = clear_sky(now.apparent_elevation_deg, p.e0, {3.0, p.height_m});
        CHECK(clear.global_w_per_m2 == Approx(p.clear_ghi).margin(0.05));
        CHECK(clear.direct_normal_w_per_m2 == Approx(p.clear_dni).margin(0.05));
        CHECK(clear.diffuse_w_per_m2 == Approx(p.clear_dhi).margin(0.05));
    }
}

TEST_CASE("global light is split as computed figures have it") {
    for (const Place& p : places) {
        const SkyMoment now = moment_of(p);
        INFO("zenith " << p.zenith_deg);
        CHECK(p.ghi / (p.e0 * now.sun.up_ratio) == Approx(p.kt).margin(0.00001));
        CHECK(now.light.diffuse_w_per_m2 == Approx(p.dhi).margin(0.001));
        CHECK(now.light.direct_normal_w_per_m2 == Approx(p.dni).margin(0.002));
    }
}

TEST_CASE("light on a plane by three skies meets computed figures") {
    for (const Place& p : places) {
        const SkyMoment now = moment_of(p);
        const TiltedPlane plane(plane_of(p.tilt_deg, p.facing_deg, p.albedo));
        INFO("zenith " << p.zenith_deg);
        CHECK(std::acos(plane.incidence_cosine(now.sun)) * degrees == Approx(p.theta_deg).margin(0.0002));
        const PlaneLight even = plane.light(now, SkyModel::isotropic);
        CHECK(even.diffuse_w_per_m2() == Approx(p.isotropic).margin(0.001));
        CHECK(even.ground_w_per_m2 == Approx(p.ground).margin(0.0001));
        CHECK(even.beam_w_per_m2 == Approx(p.dni * std::cos(p.theta_deg / degrees)).margin(0.005));
        CHECK(plane.light(now, SkyModel::hay_davies).diffuse_w_per_m2() == Approx(p.hay_davies).margin(0.002));
        CHECK(plane.light(now, SkyModel::perez).diffuse_w_per_m2() == Approx(p.perez).margin(0.01));
    }
}

TEST_CASE("split light is the global light again, whatever it was split from") {
    for (double elevation = -2.0; elevation <= 90.0; elevation += 1.0) {
        for (double ghi = 0.0; ghi <= 1400.0; ghi += 35.0) {
            const SkyLight light = split_global(ghi, elevation, 1361.0);
            INFO(elevation << "° " << ghi << " W/m²");
            CHECK(light.diffuse_w_per_m2 >= 0.0);
            CHECK(light.direct_normal_w_per_m2 >= 0.0);
            CHECK(light.direct_normal_w_per_m2 <= 1361.0);
            CHECK(light.diffuse_w_per_m2 + light.direct_normal_w_per_m2 * std::sin(elevation / degrees) ==
                  Approx(ghi).margin(1e-9));
        }
    }
    CHECK(split_global(-3.0, 20.0, 1361.0).global_w_per_m2 == 0.0);
}

TEST_CASE("a flat plane gives back the global light under every sky") {
    for (const Place& p : places) {
        const SkyMoment now = moment_of(p);
        for (const SkyModel model : sky_models) {
            const PlaneLight light = TiltedPlane(plane_of(0.0, 123.0, 0.9)).light(now, model);
            INFO(name_of(model));
            CHECK(light.total_w_per_m2() == Approx(p.ghi).epsilon(1e-6));
            CHECK(light.ground_w_per_m2 == 0.0);
        }
    }
}

TEST_CASE("under an even sky the parts of a plane and of its opposite make up sky and ground") {
    const SkyMoment now = moment_of(places[0]);
    for (const double tilt : {10.0, 45.0, 90.0}) {
        const double up = TiltedPlane(plane_of(tilt, 40.0)).light(now, SkyModel::isotropic).sky_w_per_m2;
        CHECK(up == Approx(now.light.diffuse_w_per_m2 * 0.5 * (1.0 + std::cos(tilt / degrees))));
    }
}

TEST_CASE("the parts of a plane's light are never negative, wherever the sun") {
    for (const SkyModel model : sky_models) {
        for (double zenith = 1.0; zenith < 110.0; zenith += 6.0) {
            for (double azimuth = 0.0; azimuth < 360.0; azimuth += 45.0) {
                for (const double tilt : {0.0, 30.0, 60.0, 90.0}) {
                    for (const double ghi : {0.0, 5.0, 100.0, 500.0, 1000.0}) {
                        SkyMoment now;
                        now.sun = direction(zenith, azimuth);
                        now.apparent_elevation_deg = 90.0 - zenith;
                        now.extraterrestrial_w_per_m2 = 1361.0;
                        now.light = split_global(ghi, 90.0 - zenith, 1361.0);
                        const PlaneLight l = TiltedPlane(plane_of(tilt, 100.0)).light(now, model);
                        CHECK(l.beam_w_per_m2 >= 0.0);
                        CHECK(l.circumsolar_w_per_m2 >= 0.0);
                        CHECK(l.sky_w_per_m2 >= 0.0);
                        CHECK(l.ground_w_per_m2 >= 0.0);
                        CHECK(std::isfinite(l.total_w_per_m2()));
                    }
                }
            }
        }
    }
}

TEST_CASE("a horizon hides the sun below it and the sky behind it") {
    Plane plane = plane_of(35.0, 180.0);
    const SkyMoment now = moment_of(places[0]);  // the sun at 36.5°, azimuth 134°
    const PlaneLight open = TiltedPlane(plane).light(now, SkyModel::hay_davies);
    // A ring of 30° all round: of a flat plane's even sky it leaves cos² 30° (Johnson & Watson 1984 [from memory]; by
    // hand: ∫ sin h cos h from 30° to 90°, twice).
    Plane flat = plane_of(0.0, 0.0);
    flat.horizon = {{0.0, 30.0}, {180.0, 30.0}};
    CHECK(TiltedPlane(flat).sky_view_ratio() == Approx(0.75).epsilon(1e-9));
    plane.horizon = {{0.0, 0.0}, {120.0, 0.0}, {125.0, 50.0}, {140.0, 50.0}, {145.0, 0.0}};
    const TiltedPlane hidden(plane);
    CHECK(hidden.hides(now.sun));
    const PlaneLight behind = hidden.light(now, SkyModel::hay_davies);
    CHECK(behind.sun_hidden);
    CHECK(behind.beam_w_per_m2 == 0.0);
    CHECK(behind.circumsolar_w_per_m2 == 0.0);
    CHECK(behind.sky_w_per_m2 < open.sky_w_per_m2);
    CHECK(behind.sky_w_per_m2 > 0.8 * open.sky_w_per_m2);
    // A higher horizon never lets more light in.
    double last = 1.0;
    for (double h = 0.0; h <= 90.0; h += 5.0) {
        Plane ringed = plane_of(35.0, 180.0);
        ringed.horizon = {{0.0, h}, {90.0, h}};
        const double view = TiltedPlane(ringed).sky_view_ratio();
        CHECK(view <= last + 1e-12);
        last = view;
    }
    CHECK(last == Approx(0.0).margin(1e-9));
    // A horizon that hides nothing changes nothing.
    Plane level = plane_of(35.0, 180.0);
    level.horizon = {{10.0, 0.0}, {200.0, 0.0}};
    CHECK(TiltedPlane(level).light(now, SkyModel::perez).total_w_per_m2() ==
          Approx(TiltedPlane(plane_of(35.0, 180.0)).light(now, SkyModel::perez).total_w_per_m2()).epsilon(1e-12));
}

TEST_CASE("a horizon runs straight between its points, over north too") {
    const std::vector<HorizonPoint> points{{20.0, 10.0}, {100.0, 0.0}, {340.0, 30.0}};
    CHECK(horizon_elevation_deg(points, 60.0) == Approx(5.0));
    CHECK(horizon_elevation_deg(points, 340.0) == Approx(30.0));
    CHECK(horizon_elevation_deg(points, 0.0) == Approx(20.0));
    CHECK(horizon_elevation_deg(points, 350.0) == Approx(25.0));
    CHECK(horizon_elevation_deg(points, 10.0) == Approx(15.0));
    CHECK(horizon_elevation_deg({{77.0, 12.0}}, 300.0) == Approx(12.0));
    CHECK(horizon_elevation_deg({}, 300.0) == 0.0);
}

TEST_CASE("the clock at a place goes ahead in summer, in both hemispheres") {
    Location north{52.0, 5.0, 0.0, 1.0, SummerTime{3, 30, 10, 26, 1.0}, 3.0};
    CHECK(clock_ahead_h(north, 3, 29) == 1.0);
    CHECK(clock_ahead_h(north, 3, 30) == 2.0);
    CHECK(clock_ahead_h(north, 10, 25) == 2.0);
    CHECK(clock_ahead_h(north, 10, 26) == 1.0);
    Location south{-34.0, 150.0, 0.0, 10.0, SummerTime{10, 6, 4, 6, 1.0}, 3.0};
    CHECK(clock_ahead_h(south, 1, 1) == 11.0);
    CHECK(clock_ahead_h(south, 6, 1) == 10.0);
    CHECK(clock_ahead_h(south, 10, 6) == 11.0);
    south.summer_time.reset();
    CHECK(clock_ahead_h(south, 1, 1) == 10.0);
}

TEST_CASE("clear sky: dusk, heights and turbidities in order") {
    CHECK(clear_sky(0.0, 1361.0, {}).global_w_per_m2 == 0.0);
    CHECK(clear_sky(-5.0, 1361.0, {}).direct_normal_w_per_m2 == 0.0);
    for (double e = 0.25; e <= 90.0; e += 0.75) {
        for (const double height : {0.0, 1000.0, 4000.0}) {
            double last_dni = 2000.0;
            for (const double turbidity : {1.5, 2.0, 3.0, 5.0, 7.0}) {
                const SkyLight l = clear_sky(e, 1361.0, {turbidity, height});
                INFO(e << "° " << height << " m, turbidity " << turbidity);
                CHECK(l.diffuse_w_per_m2 >= 0.0);
                CHECK(l.direct_normal_w_per_m2 <= last_dni);
                last_dni = l.direct_normal_w_per_m2;
            }
        }
    }
    // Haurwitz is the same sky to a tenth where the sun is well up, at sea level and usual turbidity.
    for (double e = 25.0; e <= 90.0; e += 5.0) {
        CHECK(clear_global_by_haurwitz_w_per_m2(e) == Approx(clear_sky(e, 1361.0, {}).global_w_per_m2).epsilon(0.10));
    }
    // By hand: 1098·exp(−0.057) with the sun overhead.
    CHECK(clear_global_by_haurwitz_w_per_m2(90.0) == Approx(1037.16).margin(0.01));
    CHECK(clear_global_by_haurwitz_w_per_m2(-1.0) == 0.0);
}

TEST_CASE("what the glass lets in meets computed figures") {
    struct Beam {
        double theta_deg, ashrae, physical, martin_ruiz;
    };
    for (const Beam& b : {Beam{30, 0.992265, 0.997887, 0.997466}, Beam{60, 0.950000, 0.946003, 0.957912},
                          Beam{75, 0.856815, 0.774061, 0.803180}}) {
        const double cosine = std::cos(b.theta_deg / degrees);
        CHECK(beam_incidence_ratio(IncidenceModel::ashrae, cosine) == Approx(b.ashrae).margin(1e-6));
        CHECK(beam_incidence_ratio(IncidenceModel::physical, cosine) == Approx(b.physical).margin(1e-6));
        CHECK(beam_incidence_ratio(IncidenceModel::martin_ruiz, cosine) == Approx(b.martin_ruiz).margin(1e-6));
    }
    struct Diffuse {
        double tilt_deg, sky, ground;
    };
    for (const Diffuse& d :
         {Diffuse{20, 0.953406, 0.673630}, Diffuse{45, 0.956858, 0.882989}, Diffuse{90, 0.951460, 0.951460}}) {
        CHECK(sky_incidence_ratio(IncidenceModel::martin_ruiz, d.tilt_deg) == Approx(d.sky).margin(1e-6));
        CHECK(ground_incidence_ratio(IncidenceModel::martin_ruiz, d.tilt_deg) == Approx(d.ground).margin(1e-6));
    }
}

TEST_CASE("every incidence model is one ahead, nothing from the side, and falls between") {
    for (const IncidenceModel m : incidence_models) {
        INFO(name_of(m));
        CHECK(beam_incidence_ratio(m, 1.0) == Approx(1.0).epsilon(1e-14));
        if (m == IncidenceModel::none) continue;
        CHECK(beam_incidence_ratio(m, 0.0) == 0.0);
        CHECK(beam_incidence_ratio(m, -0.3) == 0.0);
        double last = 1.0 + 1e-12;
        for (double theta = 0.0; theta <= 90.0; theta += 0.5) {
            const double r = beam_incidence_ratio(m, std::cos(theta / degrees));
            CHECK((r >= 0.0 && r <= last));
            last = r;
        }
    }
}

TEST_CASE("the ratio for an even sky is the beam's ratio summed over that sky") {
    // The closed forms are fits: Martin & Ruiz keep within 1 %, one angle for all within 3 %.
    for (const IncidenceModel m : incidence_models) {
        for (const double tilt : {0.0, 20.0, 45.0, 70.0, 90.0}) {
            double sum = 0.0;
            double all = 0.0;
            for (double e = 0.5; e < 90.0; e += 1.0) {
                for (double a = 0.5; a < 360.0; a += 1.0) {
                    const double c = incidence_cosine(direction(90.0 - e, a), tilt, 180.0);
                    if (c <= 0.0) continue;
                    const double w = c * std::cos(e / degrees);
                    sum += w * beam_incidence_ratio(m, c);
                    all += w;
                }
            }
            INFO(name_of(m) << " at " << tilt);
            CHECK(sky_incidence_ratio(m, tilt) ==
                  Approx(sum / all).epsilon(m == IncidenceModel::martin_ruiz ? 0.01 : 0.03));
        }
    }
}

TEST_CASE("light without loss enters whole, and no model lets in more") {
    const SkyMoment now = moment_of(places[3]);
    const PlaneLight light = TiltedPlane(plane_of(40.0, 200.0)).light(now, SkyModel::perez);
    CHECK(IncidenceLoss(IncidenceModel::none, 40.0).entering_w_per_m2(light) == Approx(light.total_w_per_m2()));
    for (const IncidenceModel m : incidence_models) {
        CHECK(IncidenceLoss(m, 40.0).entering_w_per_m2(light) <= light.total_w_per_m2() * (1.0 + 1e-12));
    }
}

TEST_CASE("cells in wind: the published rises") {
    Panel panel;
    const auto rise = [&](WarmingModel m, Mounting mounting, double g, double v) {
        return rise_above_air_in_wind_k(panel, mounting, m, g, v);
    };
    // By hand of Faiman's formula at a wind that is 0 at any height: 1000/25. At 2 m a wind of 1 m/s is one of
    // 5^(1/7) = 1.2585 m/s at 10 m.
    CHECK(rise(WarmingModel::faiman, Mounting::open_rack, 1000.0, 0.0) == Approx(40.0));
    const double higher = std::pow(5.0, 1.0 / 7.0);
    CHECK(rise(WarmingModel::faiman, Mounting::open_rack, 1000.0, 1.0 * higher) == Approx(31.4).margin(0.05));
    CHECK(rise(WarmingModel::faiman, Mounting::open_rack, 1000.0, 2.0 * higher) == Approx(25.9).margin(0.05));
    CHECK(rise(WarmingModel::faiman, Mounting::open_rack, 1000.0, 3.0 * higher) == Approx(22.0).margin(0.05));
    CHECK(rise(WarmingModel::faiman, Mounting::open_rack, 800.0, 1.0 * higher) == Approx(25.1).margin(0.05));
    // SAND2004-3535, computed at 1000 W/m² and 1 m/s for module and, with ΔT, cell: 29.4, 32.3, 49.5, 57.5 K.
    CHECK(rise(WarmingModel::exponential, Mounting::open_rack, 1000.0, 1.0) == Approx(29.4).margin(0.05));
    CHECK(rise(WarmingModel::exponential, Mounting::propped_up, 1000.0, 1.0) == Approx(32.3).margin(0.05));
    CHECK(rise(WarmingModel::exponential, Mounting::close_to_roof, 1000.0, 1.0) == Approx(49.5).margin(0.05));
    CHECK(rise(WarmingModel::exponential, Mounting::flat_on_ground, 1000.0, 1.0) == Approx(57.5).margin(0.05));
    // Without wind in the model: NOCT 47 °C at 800 W/m².
    CHECK(rise(WarmingModel::nominal, Mounting::open_rack, 800.0, 9.0) == Approx(27.0));
    for (const WarmingModel m : warming_models) {
        for (const Mounting mounting :
             {Mounting::open_rack, Mounting::close_to_roof, Mounting::propped_up, Mounting::flat_on_ground}) {
            CHECK(rise(m, mounting, 0.0, 3.0) == 0.0);
            CHECK(rise(m, mounting, 700.0, -1.0) == rise(m, mounting, 700.0, 0.0));
            CHECK(rise(m, mounting, 700.0, 5.0) <= rise(m, mounting, 700.0, 1.0));
            CHECK(rise(m, mounting, 900.0, 1.0) > rise(m, mounting, 700.0, 1.0));
        }
    }
}
