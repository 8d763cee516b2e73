#include "situation.hpp"

#include <plait/rules/fuse_figures.hpp>

#include <algorithm>

using namespace plait;
using namespace plait::rules;

namespace {

/// By the label and 1.25 times that, where nobody states stronger light.
OwnCurrent in_stc_light(double isc_a) { return {isc_a, 1.25 * isc_a}; }

}  // namespace

// NEC 240.6(A) and the stock list of gPV fuses [from memory].
TEST_CASE("the standard sizes") {
    const std::vector<double> nec{1,  3,  6,  10, 15, 20,  25,  30,  35,  40,  45,
                                  50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200};
    const std::vector<double> gpv{1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20, 25, 30, 32};
    CHECK(std::equal(nec.begin(), nec.end(), nec_fuse_sizes().begin(), nec_fuse_sizes().end()));
    CHECK(std::equal(gpv.begin(), gpv.end(), gpv_fuse_sizes().begin(), gpv_fuse_sizes().end()));
    CHECK(next_nec_size_a(15.0) == 15.0);
    CHECK(next_nec_size_a(15.1) == 20.0);
    CHECK_FALSE(next_nec_size_a(200.1));
}

// A combiner box's manual: a 15 A fuse suits modules of up to 15/1.56 = 9.62 A; with the exact 1.5625 it is 9.60 A.
TEST_CASE("a 15 A fuse") {
    const auto suits = [](double isc_a) {
        const std::vector<double> sizes = nec_fuse_window(in_stc_light(isc_a), 15.0).sizes;
        return std::find(sizes.begin(), sizes.end(), 15.0) != sizes.end();
    };
    CHECK(suits(9.60));
    CHECK_FALSE(suits(9.61));
}

TEST_CASE("fuse windows by hand: Isc 10 A, rating 20 A") {
    const FuseWindow nec = nec_fuse_window(in_stc_light(10.0), 20.0);
    CHECK(nec.least_a == exactly(15.625));
    CHECK(nec.most_a == 20.0);
    CHECK(nec.sizes == std::vector<double>{20});
    const FuseWindow iec = iec_fuse_window(in_stc_light(10.0), 20.0);
    CHECK(iec.least_a == exactly(15.0));
    CHECK(iec.most_a == 20.0);
    CHECK(iec.sizes == std::vector<double>{16, 20});                        // 15 is not more than 1.5 × 10
    CHECK(iec_fuse_window(in_stc_light(5.0), 20.0).sizes == std::vector<double>{8, 10});  // 12 is not less than 2.4 × 5
    CHECK(iec_fuse_window(in_stc_light(5.0), 20.0).most_a == exactly(12.0));
    CHECK(nec_fuse_window(in_stc_light(10.0), 15.0).sizes.empty());
}

TEST_CASE("law: a fuse inside a window never exceeds the panels' rating, and always carries its string") {
    for (double isc_a = 0.5; isc_a < 22.0; isc_a += 0.37) {
        for (const double rating_a : {5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0}) {
            for (const double size : nec_fuse_window(in_stc_light(isc_a), rating_a).sizes) {
                CHECK(size <= rating_a);
                CHECK(size >= 1.5625 * isc_a * (1.0 - 1e-12));
            }
            for (const double size : iec_fuse_window(in_stc_light(isc_a), rating_a).sizes) {
                CHECK(size <= rating_a);
                CHECK(size > 1.5 * isc_a);
                CHECK(size < 2.4 * isc_a);
            }
        }
    }
}

// Two strings: a training blog after IS/IEC 62548; three: a forum after an NMSU Code Corner article; four [computed].
TEST_CASE("whether fuses are asked for") {
    const auto figures = [](int strings, double isc_a, double rating_a) {
        Trial t;
        t.panel().isc_a = isc_a;
        t.panel().max_series_fuse_a = rating_a;
        t.wire(2, strings);
        const auto all = t.with_situation([](const Situation& s) { return string_fuse_figures(s); });
        REQUIRE(all.size() == 1);
        CHECK(all[0].strings.size() == static_cast<std::size_t>(strings));
        return all[0];
    };
    const StringFuse f1 = figures(2, 12.28, 20.0);
    CHECK(f1.others_a == exactly(12.28));
    CHECK_FALSE(f1.needed(Code::both));
    const StringFuse f3 = figures(3, 5.0, 15.0);
    CHECK(1.25 * f3.others_a == exactly(12.5));
    CHECK_FALSE(f3.needed(Code::both));
    const StringFuse f3b = figures(4, 5.0, 15.0);
    CHECK(f3b.needed_by_nec);
    CHECK_FALSE(f3b.needed_by_iec);
    CHECK(f3b.needed(Code::both));
    CHECK_FALSE(f3b.needed(Code::iec));
}

TEST_CASE("unlike strings face the sum of the others, each its own window") {
    Trial t;
    Panel small = round_panel();
    small.isc_a = 2.0;
    small.max_series_fuse_a = 5.0;
    const std::size_t kind = t.add_kind("small", small);
    t.wire(2, 2);
    t.plan[0].strings.push_back(string_of({kind, kind}));
    const auto all = t.with_situation([](const Situation& s) { return string_fuse_figures(s); });
    REQUIRE(all.size() == 2);
    CHECK(all[0].strings.size() == 2);
    CHECK(all[0].others_a == exactly(8.0));
    CHECK(all[1].others_a == exactly(12.0));
    CHECK(all[1].strings == std::vector<std::size_t>{2});
    CHECK(all[1].needed(Code::both));
    CHECK_FALSE(all[0].needed(Code::both));
    CHECK(all[1].iec.sizes == std::vector<double>{4});  // 3 to 4.8 A
    CHECK(all[1].nec.sizes.empty());                    // from 3.125 A the next is 6 A, above 5 A
}
