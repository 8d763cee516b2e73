// plait expect as a whole: card, readings, exit codes, complaints.
#include "../support/report_text.hpp"
#include "memory_world.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <sstream>

using namespace plait;
using namespace plait::cli;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Json = nlohmann::json;

namespace {

std::vector<std::string> expect_two(std::vector<std::string> more) {
    std::vector<std::string> all{"expect", "two.toml", "--cell", "45 °C", "--sun", "1000"};
    all.insert(all.end(), more.begin(), more.end());
    return all;
}

std::size_t widest_line(const std::string& text) {
    std::istringstream lines(text);
    std::size_t widest = 0;
    for (std::string line; std::getline(lines, line);) {
        const auto characters = std::count_if(line.begin(), line.end(),
                                              [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; });
        widest = std::max(widest, static_cast<std::size_t>(characters));
    }
    return widest;
}

}  // namespace

TEST_CASE("expect: the card warns first, then tells how, then what") {
    const CommandResult card = result(expect_two({}));
    CHECK(card.exit_code == 0);
    CHECK(card.err.empty());
    CHECK_THAT(card.out, StartsWith("Commissioning card: PV1 = 2s1p "));
    const std::size_t warn = card.out.find("Do not connect anything");
    const std::size_t how = card.out.find("How to measure, in this order");
    const std::size_t what = card.out.find("PV1: what to read");
    CHECK(warn < how);
    CHECK(how < what);
    CHECK(what < card.out.size());
    // 2·24·(1 − 0.3 %·20) = 45.12 V.
    CHECK_THAT(support::flat(card.out), Contains("string 1, open voltage") && Contains("45.12 V") &&
                                            Contains("60.00 V") && Contains("200 V range") &&
                                            Contains("local code, manual and licensed electrician decide"));
    CHECK(widest_line(card.out) <= 80);
}

TEST_CASE("expect: readings pass, lie outside, or forbid to connect; the verdict is the first word") {
    const CommandResult pass = result(expect_two({"--read", "string 1 voc 44.8 V"}));
    CHECK(pass.exit_code == 0);
    CHECK_THAT(pass.out, StartsWith("PASS  PV1 = 2s1p · Round numbers\n"));
    // The order of arguments does not matter, and one --read takes one reading.
    CHECK(result({"expect", "--read", "string 1 voc 44.8 V", "two.toml", "--cell", "45 °C", "--sun", "1000"}).out ==
          pass.out);
    const CommandResult dim = result(expect_two({"--read", "string 1 isc 3.1 A"}));
    CHECK(dim.exit_code == 1);
    CHECK_THAT(dim.out, StartsWith("OUTSIDE") && Contains("too low") && Contains("other light than given"));
    const CommandResult reversed = result(expect_two({"--read", "string 1 voc -45.1 V"}));
    CHECK(reversed.exit_code == 1);
    CHECK_THAT(support::flat(reversed.out), StartsWith("DO NOT CONNECT PV1 = 2s1p · Round numbers ! ") && Contains("has a minus"));
    const CommandResult half = result(expect_two({"--read", "string 1 voc 22.6 V"}));
    CHECK(half.exit_code == 1);
    CHECK_THAT(half.out, StartsWith("DO NOT CONNECT") && Contains("1. string 1 of PV1: one panel missing"));
    for (const CommandResult& r : {pass, dim, reversed, half}) CHECK(widest_line(r.out) <= 80);
}

TEST_CASE("expect: a wiring outside the limits is not to be connected, whatever is read") {
    const CommandResult card = result({"expect", "three.toml", "--cell", "45 °C", "--sun", "1000"});
    CHECK(card.exit_code == 1);
    CHECK_THAT(card.out, Contains("! before this is settled: EXCEEDS ?"));
    const CommandResult read = result({"expect", "three.toml", "--cell", "45 °C", "--sun", "1000", "--read", "array voc 67.7 V"});
    CHECK(read.exit_code == 1);
    CHECK_THAT(read.out, StartsWith("DO NOT CONNECT") && Contains("is more than PV1 may ever get"));
}

TEST_CASE("expect: what is not known is said, with what to give") {
    const CommandResult no_sun = result({"expect", "two.toml", "--cell", "45 °C"});
    CHECK(no_sun.exit_code == 0);
    CHECK_THAT(no_sun.out, Contains("add --sun 820") && !Contains("short-circuit current   "));
    const CommandResult nothing = result({"expect", "two.toml"});
    CHECK_THAT(support::flat(nothing.out), Contains("Add --air \"31 °C\"") && Contains("add it with --read"));
    const CommandResult cells = result({"expect", "two.toml", "--sun", "1000", "--read", "string 1 voc 45.12 V"});
    CHECK_THAT(cells.out, Contains("cells at 45 °C"));
    CHECK_THAT(result({"expect", "two.toml", "--cell", "45 °C", "--sun", "300"}).out, Contains("Too dull"));
    for (const CommandResult& r : {no_sun, nothing, cells}) CHECK(widest_line(r.out) <= 80);
}

TEST_CASE("expect: every complaint at once, on the error stream") {
    const CommandResult bad =
        result({"expect", "two.toml", "--cell", "hot", "--sun", "9", "--read", "string 7 voc 40 V", "--read", "x"});
    CHECK(bad.exit_code == 2);
    CHECK(bad.out.empty());
    CHECK_THAT(bad.err, Contains("--cell:1:1: ") && Contains("--sun:1:1: ") && Contains("--read:1:8: ") &&
                            Contains("--read:2:1: "));
    CHECK(result({"expect", "setup.toml"}).exit_code == 2);
    CHECK(result({"expect", "two.toml", "--wiring", "9x"}).exit_code == 2);
    CHECK(result({"expect", "setup.toml", "--wiring", "1s2p"}).exit_code == 0);
}

TEST_CASE("expect --json: the same, for programs") {
    const Json card = Json::parse(result(expect_two({"--json"})).out);
    CHECK(card["verdict"] == "card");
    CHECK(card["diagnosis"].is_null());
    CHECK(card["inputs"][0]["expected"][0]["value"].get<double>() == Approx(45.12).margin(0.005));
    const Json pass = Json::parse(result(expect_two({"--json", "--read", "string 1 voc 44.8 V"})).out);
    CHECK(pass["verdict"] == "pass");
    CHECK(pass["diagnosis"]["readings"][0]["within"] == true);
    const Json bad = Json::parse(result(expect_two({"--json", "--read", "string 1 voc -44.8 V"})).out);
    CHECK(bad["verdict"] == "do-not-connect");
    CHECK(bad["diagnosis"]["stops"][0]["reason"] == "reversed");
    CHECK(bad["diagnosis"]["suspects"][0]["fault"] == "string-reversed");
}
