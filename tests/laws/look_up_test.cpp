// What to look up first, from the file a newcomer writes to the file with one figure more.
#include "shipped_setups.hpp"

#include <plait/study/look_up.hpp>

#include <algorithm>
#include <set>

using namespace plait;
using namespace plait::study;

namespace {

/// Two folding panels of which only the leaflet is known, on a power station of which only the print is; `site` and
/// `panel` are further lines.
std::string newcomer(const std::string& panel, const std::string& input, const std::string& site) {
    return R"(
[[panel]]
id = "fold"
name = "Fold 90"
count = 4
pmax = "90 W"
voc = "23.5 V"
)" + panel +
           R"(
[controller]
name = "Box"
type = "wide-range"

[[controller.input]]
name = "DC"
max_voltage = "58 V"
start_voltage = "13 V"
)" + input +
           R"(
[site]
)" + site;
}

struct Looked {
    Setup setup;
    Judgement judgement;
    LookUpList list;
};

Looked looked(const std::string& text) {
    auto setup = input::read_setup(text, "newcomer.toml", [](const std::string&) -> Result<std::string, std::string> {
        return Failure{std::string("there is no such file")};
    });
    REQUIRE(setup);
    Looked out{std::move(*setup), {}, {}};
    const SystemModel system(out.setup);
    const ArrayPlan plan{written_out({0, 2, 1})};
    out.judgement = judge(system, plan);
    out.list = look_up(system, plan, out.judgement);
    return out;
}

const LookUp& about(const Looked& l, Quantity quantity, Figure figure = Figure::only) {
    for (const LookUp& one : l.list.first) {
        const Assumption& a = l.judgement.assumptions[one.assumption];
        if (a.quantity == quantity && a.figure == figure) return one;
    }
    FAIL("not worth looking up: " << static_cast<int>(quantity));
    return l.list.first.front();
}

/// A figure that is looked up is assumed no more, and nothing else is that was not. Only a limit that begins to be there
/// brings the question what an array above it does to the input.
void check_one_less(const Looked& after, const Looked& before, Quantity quantity) {
    const auto count = [](const Looked& l, Quantity q) {
        return std::count_if(l.judgement.assumptions.begin(), l.judgement.assumptions.end(),
                             [&](const Assumption& a) { return a.quantity == q; });
    };
    CHECK(count(after, quantity) + 1 == count(before, quantity));
    for (const Assumption& a : after.judgement.assumptions) {
        if (a.quantity == Quantity::input_over_limit) continue;
        CHECK(count(after, a.quantity) <= count(before, a.quantity));
    }
}

bool same_words(const Answers& a, const Answers& b) { return a.connection == b.connection && a.intake == b.intake; }

void report(const Looked& l) {
    for (const LookUp& one : l.list.first) {
        const Assumption& a = l.judgement.assumptions[one.assumption];
        UNSCOPED_INFO(a.what << ": " << one.range.low_words << " " << name_of(one.at_low.connection) << ", "
                             << one.range.high_words << " " << name_of(one.at_high.connection));
    }
}

}  // namespace

TEST_CASE("a newcomer's file: the figures that matter are few, and what they would do is what they do") {
    const Looked before = looked(newcomer("", "", ""));
    report(before);
    CHECK(before.judgement.assumptions.size() >= 20);
    CHECK(before.list.first.size() + before.list.others == before.judgement.assumptions.size());
    CHECK(before.list.others > before.list.first.size());

    struct Line {
        Quantity quantity;
        std::string low;
        std::string high;
        int where;  // of `newcomer`
    };
    // The lines a reader would add, with the ends of the ranges that the list gives.
    for (const Line& line : {Line{Quantity::site_coldest_air, "coldest_air = \"-40 °C\"", "coldest_air = \"5 °C\"", 2},
                             Line{Quantity::panel_voc_coefficient, "voc_coefficient = \"-0.46 %/K\"",
                                  "voc_coefficient = \"-0.20 %/K\"", 0},
                             Line{Quantity::input_current_limit, "max_current = \"8 A\"", "", 1}}) {
        CAPTURE(line.low);
        const auto place = [&](const std::string& text, int here) { return line.where == here ? text : std::string(); };
        const auto with = [&](const std::string& text) {
            return looked(newcomer(place(text, 0), place(text, 1), place(text, 2)));
        };
        const auto at = std::find_if(before.list.first.begin(), before.list.first.end(), [&](const LookUp& one) {
            return before.judgement.assumptions[one.assumption].quantity == line.quantity;
        });
        const Looked low = with(line.low);
        check_one_less(low, before, line.quantity);
        const Answers now = before.judgement.verdict;
        CHECK(same_words(low.judgement.verdict, at == before.list.first.end() ? now : at->at_low));
        if (line.high.empty()) continue;
        const Looked high = with(line.high);
        check_one_less(high, before, line.quantity);
        CHECK(same_words(high.judgement.verdict, at == before.list.first.end() ? now : at->at_high));
    }
    // Two of 23.5 V against 58 V: the cold decides, and nothing is graver.
    CHECK(about(before, Quantity::site_coldest_air).gravest.connection == Connection::forbidden);
}

TEST_CASE("every figure that a reader fills in can be looked up") {
    // Everything a file may leave out, of every type of controller, with cables and a battery.
    std::vector<Setup> setups;
    for (test::ShippedSetup& one : test::shipped_setups()) setups.push_back(std::move(one.setup));
    for (const char* type : {"step-down", "direct-connect", "step-up"}) {
        const std::string text =
            std::string("[[panel]]\nid = \"a\"\ncount = 4\npmax = \"100 W\"\nisc = \"6 A\"\n") +
            "[controller]\ntype = \"" + type +
            "\"\n[controller.battery]\nmin_voltage = \"20 V\"\nmax_voltage = \"29 V\"\n"
            "[[controller.input]]\nname = \"PV\"\nmax_voltage = \"95 V\"\nstart_voltage = \"12 V\"\n"
            "[[cable]]\nrun = \"trunk\"\nlength = \"9 m\"\nsize = \"4 mm²\"\n"
            "[[cable]]\nrun = \"battery\"\nlength = \"1 m\"\nsize = \"16 mm²\"\n";
        auto setup = input::read_setup(text, "a.toml", [](const std::string&) -> Result<std::string, std::string> {
            return Failure{std::string("none")};
        });
        INFO(text);
        REQUIRE(setup);
        setups.push_back(std::move(*setup));
    }
    std::set<Quantity> seen;
    for (const Setup& setup : setups) {
        const SystemModel system(setup);
        for (const Assumption& a : all_assumptions(system)) {
            CAPTURE(a.subject, a.what, a.value);
            seen.insert(a.quantity);
            const PlausibleRange range = plausible_range(setup, a);
            CHECK(range.low < range.high);
            for (const double end : {range.low, range.high}) {
                const Setup moved = looked_up(setup, a, end);
                const std::size_t fewer = a.quantity == Quantity::panel_weak_light ? 0 : 1;
                CHECK(moved.assumptions.size() + fewer == setup.assumptions.size());
                const SystemModel moved_system(moved);  // a curve can be made of every panel
                CHECK(all_assumptions(moved_system).size() + 1 == all_assumptions(system).size());
            }
        }
    }
    CHECK(seen.size() >= 25);
}

TEST_CASE("of every demo the list is short, and its first turn the gravest") {
    for (const test::ShippedSetup& one : test::shipped_setups()) {
        const SystemModel system(one.setup);
        for (const ArrayPlan& plan : test::usual_plans(one.setup)) {
            const Judgement judgement = judge(system, plan);
            const LookUpList list = look_up(system, plan, judgement);
            CAPTURE(one.file);
            CHECK(same_words(list.now, judgement.verdict));
            CHECK(list.first.size() + list.others == judgement.assumptions.size());
            for (const LookUp& l : list.first) {
                CHECK_FALSE(l.settles.empty());
                CHECK(l.turn <= list.first.front().turn);
            }
        }
    }
}
