// The light of some cells of a bypass group, as a wiring writes it.
#include "reading.hpp"

namespace plait::input::test {
namespace {

std::string setup_with(const std::string& light, const std::string& panel = "bypass_diodes = 2\ncells_in_series = 36\n") {
    return "[[panel]]\nid = \"meadow\"\ncount = 4\npmax = 100\nvmp = 18\n" + panel +
           "[controller]\ntype = \"wide-range\"\n[[controller.input]]\nname = \"PV\"\nmax_voltage = 60\ntracking_min = "
           "12\nmax_current = 15\n[[wiring.PV.string]]\npanels = [{ panel = \"meadow\", light = " +
           light + ", warmer = \"3 K\" }]\n";
}

std::vector<GroupState> groups_of(const std::string& text) {
    const Setup s = setup_of(text);
    REQUIRE(s.wiring);
    return (*s.wiring)[0].strings[0].panels[0].groups;
}

TEST_CASE("some cells of a bypass group may get less light than the others") {
    using Groups = std::vector<GroupState>;
    CHECK((groups_of(setup_with("[1, { cells = 3, light = 0.2 }]")) == Groups{{1.0, 3.0}, {1.0, 3.0, 3, 0.2}}));
    CHECK((groups_of(setup_with("[{ cells = 1, light = \"10 %\", others = \"80 %\" }, 0.5]")) ==
           Groups{{0.8, 3.0, 1, 0.1 / 0.8}, {0.5, 3.0}}));
    // Equal light, and no light at all, are nothing in part.
    CHECK((groups_of(setup_with("[{ cells = 4, light = 0.6, others = 0.6 }, { cells = 4, light = 0, others = 0 }]")) ==
           Groups{{0.6, 3.0}, {0.0, 3.0}}));
    // A panel of one group needs no list.
    CHECK((groups_of(setup_with("{ cells = 5, light = 0 }", "bypass_diodes = 1\ncells_in_series = 36\n")) ==
           Groups{{1.0, 3.0, 5, 0.0}}));
}

TEST_CASE("half cells are counted as they lie in the group") {
    const std::string halves = "bypass_diodes = 2\ncells_in_series = 36\nhalf_cut = true\n";
    CHECK(groups_of(setup_with("[{ cells = 36, light = 0.1 }, 1]", halves))[0].shaded_cells == 36);
    CHECK_THAT(complaints_about_setup(setup_with("[{ cells = 37, light = 0.1 }, 1]", halves)),
               Catch::Matchers::Contains("has 36 cells, not 37"));
}

TEST_CASE("what cannot be meant of shaded cells is refused, with what to write") {
    using Catch::Matchers::Contains;
    CHECK_THAT(complaints_about_setup(setup_with("[1, { cells = 19, light = 0.2 }]")),
               Contains("has 18 cells, not 19") && Contains("up to 18"));
    CHECK_THAT(complaints_about_setup(setup_with("[1, { cells = 2, light = 0.9, others = 0.5 }]")),
               Contains("more light than the others") && Contains("Count the darker cells"));
    CHECK_THAT(complaints_about_setup(setup_with("{ cells = 2, light = 0.1 }")),
               Contains("has 2 bypass groups") && Contains("light = [{ cells = 3, light = 0.2 }, 1]"));
    CHECK_THAT(complaints_about_setup(setup_with("[{ cells = 2, light = 0.1 }]")), Contains("lists 1 values"));
    CHECK_THAT(complaints_about_setup(setup_with("[1, { cells = 2 }]")), Contains("light"));
    CHECK_THAT(complaints_about_setup(setup_with("[1, { light = 0.2 }]")), Contains("cells"));
    CHECK_THAT(complaints_about_setup(setup_with("[1, { cells = 2, light = 0.1, shade = 1 }]")), Contains("shade"));
    CHECK_THAT(complaints_about_setup(setup_with("[1, { cells = 0, light = 0.1 }]")), Contains("cells"));
    CHECK_THAT(complaints_about_setup(
                   setup_with("{ cells = 2, light = 0.1 }", "bypass_diodes = 1\ntechnology = \"cigs\"\nvoc = 23\n")),
               Contains("crystalline silicon"));
}

}  // namespace
}  // namespace plait::input::test
