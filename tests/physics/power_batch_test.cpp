#include <plait/physics/datasheet_fit.hpp>
#include <plait/physics/power_batch.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <random>

using namespace plait;
using namespace plait::physics;

namespace {

Panel panel_of(Technology technology, int cells, double pmax_w, double voc_v, double isc_a, double fill) {
    Panel p;
    p.technology = technology;
    p.cells_in_series = cells;
    p.voc_v = voc_v;
    p.isc_a = isc_a;
    p.vmp_v = voc_v * std::sqrt(fill) * 0.965;
    p.imp_a = fill * voc_v * isc_a / p.vmp_v;
    p.pmax_w = pmax_w;
    p.isc_coefficient_per_k = 0.0005;
    p.voc_coefficient_per_k = -0.0029;
    p.pmax_coefficient_per_k = -0.0038;
    return p;
}

/// Good and bad panels in all the light and cold there is, singly and as arrays; and curves no panel has.
CurveBatch all_sorts() {
    CurveBatch batch;
    std::mt19937 random(20240601);
    const auto between = [&](double low, double high) {
        return low + (high - low) * static_cast<double>(random() >> 4) / static_cast<double>(1u << 28);
    };
    const Panel panels[] = {panel_of(Technology::perc, 36, 100, 22.3, 5.7, 0.79),
                            panel_of(Technology::heterojunction, 66, 450, 50.1, 11.4, 0.80),
                            panel_of(Technology::amorphous_triple, 11, 21, 23.8, 1.59, 0.55),
                            panel_of(Technology::cdte, 154, 110, 87.6, 1.98, 0.66)};
    for (const Panel& panel : panels) {
        for (const CurveMethod method : {CurveMethod::prior_ideality, CurveMethod::de_soto}) {
            const auto fit = fit_datasheet(panel, method);
            REQUIRE(fit);
            for (int i = 0; i < 700; ++i) {
                const double g = i % 10 == 0 ? between(0.0, 3.0) : between(3.0, 1500.0);
                batch.add(fit->model.at({g, {between(-60.0, 110.0)}})
                              .scaled(1 + static_cast<int>(random() % 8), 1 + static_cast<int>(random() % 4)));
            }
        }
    }
    for (int i = 0; i < 1500; ++i) {
        DiodeCurve c;
        c.light_current_a = std::pow(10.0, between(-4.0, 2.0));
        c.saturation_current_a = c.light_current_a * std::pow(10.0, between(-30.0, -0.5));
        c.ideality_v = std::pow(10.0, between(-1.7, 1.3));
        const double open_v = c.ideality_v * std::log(c.light_current_a / c.saturation_current_a);
        c.series_resistance_ohm = open_v / c.light_current_a * between(0.0, 0.5);
        c.shunt_conductance_s = c.light_current_a / open_v * (i % 3 == 0 ? 0.0 : between(0.0, 0.6));
        batch.add(c);
    }
    batch.add({0.0, 1e-9, 1.7, 0.3, 0.004});  // dark
    return batch;
}

struct Points {
    std::vector<double> v, a;
};

Points points_of(const CurveBatch& batch, BatchForm form) {
    Points p{std::vector<double>(batch.size(), -1.0), std::vector<double>(batch.size(), -1.0)};
    maximum_power_points(batch, p.v, p.a, form);
    return p;
}

bool same_bits(const std::vector<double>& a, const std::vector<double>& b) {
    return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
}

}  // namespace

TEST_CASE("maximum-power points in a batch are those found one by one, to 1e-12") {
    const CurveBatch batch = all_sorts();
    const Points got = points_of(batch, best_batch_form());
    double worst = 0.0;
    for (std::size_t i = 0; i < batch.size(); ++i) {
        const DiodeCurve curve = batch.at(i);
        const PowerPoint one = curve.maximum_power();
        INFO(i << ": light " << curve.light_current_a << " I0 " << curve.saturation_current_a << " a "
               << curve.ideality_v << " Rs " << curve.series_resistance_ohm << " G " << curve.shunt_conductance_s);
        if (!(one.power_w() > 0.0)) {
            CHECK((got.v[i] == 0.0 && got.a[i] == 0.0));
            continue;
        }
        // Power to 1e-12 of itself. Its place is twice as badly known: to 1e-12 of Voc and Isc all the same.
        CHECK(std::abs(got.v[i] * got.a[i] - one.power_w()) <= 1e-12 * one.power_w());
        CHECK(std::abs(got.v[i] - one.voltage_v) <= 1e-12 * curve.open_circuit_v());
        CHECK(std::abs(got.a[i] - one.current_a) <= 1e-12 * curve.light_current_a);
        worst = std::max(worst, std::abs(got.v[i] / one.voltage_v - 1.0));
    }
    CHECK(worst > 0.0);  // they were not worked out by the same code
}

TEST_CASE("every form of the batch gives the same bits") {
    const CurveBatch batch = all_sorts();
    const Points plain = points_of(batch, BatchForm::plain);
    const Points wide = points_of(batch, BatchForm::wide);
    CHECK(same_bits(plain.v, wide.v));
    CHECK(same_bits(plain.a, wide.a));
    if (best_batch_form() == BatchForm::plain) WARN("this machine has the plain form only");
}

TEST_CASE("a curve's answer does not depend on what is beside it in the batch") {
    const CurveBatch batch = all_sorts();
    const Points all = points_of(batch, best_batch_form());
    std::mt19937 random(7);
    for (const std::size_t size :
         {std::size_t{1}, std::size_t{2}, std::size_t{63}, std::size_t{64}, std::size_t{65}, std::size_t{200}}) {
        CurveBatch some;
        std::vector<double> v, a;
        for (std::size_t k = 0; k < size; ++k) {
            const std::size_t i = random() % batch.size();
            some.add(batch.at(i));
            v.push_back(all.v[i]);
            a.push_back(all.a[i]);
        }
        const Points p = points_of(some, best_batch_form());
        CHECK(same_bits(p.v, v));
        CHECK(same_bits(p.a, a));
    }
    maximum_power_points(CurveBatch{}, {}, {});  // an empty one is allowed
}

TEST_CASE("a scaled batch is the batch of the scaled curves") {
    CurveBatch batch;
    const DiodeCurve one{9.0, 1e-9, 1.7, 0.3, 0.004};
    batch.add(one);
    DiodeCurve wired = one.scaled(3, 2);
    wired.series_resistance_ohm += 0.125;
    const DiodeCurve got = batch.scaled(3, 2, 0.125).at(0);
    CHECK(got.light_current_a == wired.light_current_a);
    CHECK(got.saturation_current_a == wired.saturation_current_a);
    CHECK(got.ideality_v == wired.ideality_v);
    CHECK(got.series_resistance_ohm == Approx(wired.series_resistance_ohm));
    CHECK(got.shunt_conductance_s == Approx(wired.shunt_conductance_s));
}

TEST_CASE("the batch's exponential is the exponential") {
    double worst = 0.0;
    for (double x = -700.0; x <= 700.0; x += 0.0137) {
        const long double truth = std::exp(static_cast<long double>(x));
        worst = std::max(worst, static_cast<double>(std::abs(batch_exponential_factor(x) / truth - 1.0L)));
    }
    CHECK(worst < 4e-16);
    CHECK(batch_exponential_factor(0.0) == 1.0);
    CHECK(batch_exponential_factor(1.0) == Approx(2.718281828459045).epsilon(1e-15));
}
