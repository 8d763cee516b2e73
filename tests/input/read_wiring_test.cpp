#include <plait/input/read_wiring.hpp>

#include "reading.hpp"

namespace plait::input::test {
namespace {

Setup with_kinds(const std::vector<std::string>& ids) {
    Setup setup;
    for (const std::string& id : ids) {
        PanelKind kind;
        kind.id = id;
        kind.panel.bypass_diodes = 2;
        kind.count = 6;
        setup.kinds.push_back(kind);
    }
    for (const char* name : {"PV1", "PV2", "rear roof"}) {
        Input input;
        input.name = name;
        setup.controller.inputs.push_back(input);
    }
    return setup;
}

const Setup one_kind = with_kinds({"meadow"});
const Setup two_kinds = with_kinds({"meadow", "dune"});

std::string in_words(const ArrayPlan& plan, const Setup& setup) {
    std::vector<std::string> ids;
    for (const PanelKind& kind : setup.kinds) ids.push_back(kind.id);
    std::string text;
    for (const InputWiring& wiring : plan) text += (text.empty() ? "" : "; ") + label(wiring, ids);
    return text;
}

std::string read(const std::string& text, const Setup& setup) {
    const auto plan = read_wiring(text, "--wiring", setup);
    INFO(text << "\n" << (plan ? "" : listed(plan.error())));
    REQUIRE(plan);
    return in_words(*plan, setup);
}

std::string refused(const std::string& text, const Setup& setup) {
    const auto plan = read_wiring(text, "--wiring", setup);
    INFO(text);
    REQUIRE_FALSE(plan);
    REQUIRE_FALSE(plan.error().empty());
    return listed(plan.error());
}

TEST_CASE("a bare wiring is the first input's") {
    CHECK(read("3s2p", one_kind) == "3s2p; unused; unused");
    CHECK(read("3S2P", one_kind) == "3s2p; unused; unused");
    CHECK(read(" 3s 2p ", one_kind) == "3s2p; unused; unused");
    CHECK(read("3s2p meadow", one_kind) == "3s2p; unused; unused");
    CHECK(read("unused", one_kind) == "unused; unused; unused");
    CHECK(read("meadow", one_kind) == "1s1p; unused; unused");
    CHECK(read("2 meadow | 2 meadow", one_kind) == "2s2p; unused; unused");
    CHECK(read("3s2p dune", two_kinds) == "3s2p dune; unused; unused");
    CHECK(read("2 meadow + dune | 3 dune", two_kinds) == "2 meadow + dune | 3 dune; unused; unused");
    CHECK(read("2meadow+dune|3dune", two_kinds) == "2 meadow + dune | 3 dune; unused; unused");
}

TEST_CASE("several inputs on one line; one that is not named gets nothing") {
    CHECK(read("PV1=3s2p; PV2=2s1p meadow", one_kind) == "3s2p; 2s1p; unused");
    CHECK(read("PV2 = unused ; rear roof = 4s1p;", one_kind) == "unused; unused; 4s1p");
    CHECK(read("PV2=dune | meadow + dune", two_kinds) == "unused; dune | meadow + dune; unused");
}

TEST_CASE("every label can be read back") {
    for (const char* text : {"3s2p meadow", "1s1p dune", "2 meadow + dune | 3 dune", "meadow + dune + meadow", "unused",
                             "dune | meadow | dune"}) {
        const std::string once = read(text, two_kinds);
        const std::string first = once.substr(0, once.find(';'));
        CHECK(read(first, two_kinds) == once);
    }
}

TEST_CASE("more panels than on hand are no complaint here, absurd numbers are") {
    CHECK(read("25s20p", one_kind) == "25s20p; unused; unused");  // 500
    CHECK(has(refused("167s3p", one_kind), "more than 500"));     // 501
    CHECK(has(refused("99999999999999999999s1p", one_kind), "more than 500"));
    CHECK(has(refused("400 meadow + 101 dune", two_kinds), "more than 500"));
    CHECK(has(refused("18446744073709551617 meadow", one_kind), "more than 500"));
}

TEST_CASE("what is wrong is said at its column, with what to write") {
    CHECK(has(refused("", one_kind), "--wiring:1:1: the wiring is empty"));
    CHECK(has(refused(" ; ", one_kind), "the wiring is empty"));
    CHECK(has(refused("PV1=", one_kind), "--wiring:1:5: the wiring is empty"));
    CHECK(has(refused("3s2p", two_kinds), "--wiring:1:1: \"3s2p\" does not say of which panel. Write 3s2p meadow"));
    CHECK(has(refused("3s2p medow", two_kinds), "--wiring:1:6: no panel has the id \"medow\". Did you mean 'meadow'?"));
    CHECK(has(refused("2 meadow + brook", two_kinds),
              "--wiring:1:12: no panel has the id \"brook\". Panels: meadow or dune."));
    CHECK(has(refused("PV1=3s2p; PW2=2s1p", one_kind), "--wiring:1:11: no input is called 'PW2'. Did you mean"));
    CHECK(has(refused("PV1=3s2p; PV1=2s1p", one_kind), "--wiring:1:11: 'PV1' is given twice"));
    CHECK(has(refused("PV1=3s2p; 2s1p", one_kind), "does not say for which input. Write \"PV1=2s1p\""));
    CHECK(has(refused("3s", one_kind), "3s1p"));
    CHECK(has(refused("2p", one_kind), "1s2p"));
    CHECK(has(refused("3s2", one_kind), "lacks its p. Write it as 3s2p"));
    CHECK(has(refused("0s2p", one_kind), "a nought"));
    CHECK(has(refused("3s0p", one_kind), "a nought"));
    CHECK(has(refused("0 meadow", one_kind), "none at all"));
    CHECK(has(refused("3", one_kind), "3 of what? Write the id of a panel behind the number, such as 3 meadow"));
    CHECK(has(refused("meadow +", one_kind), "a panel is missing here"));
    CHECK(has(refused("| meadow", one_kind), "--wiring:1:1: a panel is missing here"));
    CHECK(has(refused("meadow | unused", one_kind), "\"unused\" stands alone"));
    CHECK(has(refused("3s2p | meadow", one_kind), "mixes two forms"));
    CHECK(has(refused("3x2", one_kind), "no panel has the id \"x2\""));
    CHECK(has(refused("-3s2p", one_kind), "no panel has the id"));
    CHECK(has(refused("möve + medow", one_kind),
              "--wiring:1:8: no panel has the id \"medow\""));  // columns are characters
}

TEST_CASE("all that is wrong is said at once") {
    const std::string said = refused("PV3=medow; PV1=2 brook; 3s2p", one_kind);
    CHECK(std::count(said.begin(), said.end(), '\n') == 4);
}

TEST_CASE("texts that are none are refused, not read") {
    CHECK(has(refused("3s2p\xFF", one_kind), "0xFF is not UTF-8"));
    CHECK(has(refused(std::string("3s\0002p", 5), one_kind), "NUL byte"));
    CHECK(has(refused(std::string(20000, '|'), one_kind), "20000 bytes long"));
    CHECK(has(refused("\x1b[31m", one_kind), "\\u001B[31m"));
}

}  // namespace
}  // namespace plait::input::test
