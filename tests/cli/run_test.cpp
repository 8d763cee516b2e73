#include "memory_world.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>

using namespace plait;
using namespace plait::cli;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Json = nlohmann::json;

namespace {

constexpr const char* escape = "\x1b[";

/// Exit code 2, a complaint, and not a byte where a program would look for a report.
void check_refused(const CommandResult& r, const std::string& complaint) {
    CHECK(r.exit_code == 2);
    CHECK((r.out.empty() || r.json));
    CHECK_THAT(r.err, Contains(complaint));
}

/// Exit code as given, a report and no complaint.
void check_reported(const CommandResult& r, int exit_code) {
    CHECK(r.exit_code == exit_code);
    CHECK(r.err.empty());
    CHECK_FALSE(r.out.empty());
}

std::size_t lines_with(const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++n;
    return n;
}

}  // namespace

TEST_CASE("check: 0 within the limits, 1 outside; the verdict is the first word") {
    const CommandResult within = result({"check", "two.toml"});
    check_reported(within, 0);
    CHECK_THAT(within.out, StartsWith("FITS ?  PV1 = 2s1p · Round numbers\n"));
    const CommandResult over = result({"check", "three.toml"});
    check_reported(over, 1);
    CHECK_THAT(over.out, StartsWith("EXCEEDS ?  PV1 = 3s1p · Round numbers\n"));
    // 3 × 24 V × (1 + 0.3 % × 45)
    CHECK_THAT(over.out, Contains("81.72 V") && Contains("60.00 V"));
}

TEST_CASE("check: a wiring that only clips is no failure, one that falls short is") {
    Files files = usual_files();
    files["setup.toml"].replace(files["setup.toml"].find("20 A"), 4, " 8 A");
    const CommandResult clips = run({"check", "setup.toml", "--wiring", "2s2p"}, world_of(files));
    check_reported(clips, 0);
    CHECK_THAT(clips.out, StartsWith("CLIPS"));
    files["setup.toml"].replace(files["setup.toml"].find("\"14 V\""), 6, "\"40 V\"");
    const CommandResult low = run({"check", "setup.toml", "--wiring", "1s1p"}, world_of(files));
    check_reported(low, 1);
    CHECK_THAT(low.out, StartsWith("FALLS SHORT"));
}

TEST_CASE("check --wiring: instead of the file's, or where the file has none") {
    CHECK(result({"check", "three.toml", "--wiring", "2s2p"}).exit_code == 0);
    CHECK(result({"check", "two.toml", "--wiring", "PV1=4s1p"}).exit_code == 1);
    CHECK_THAT(result({"check", "setup.toml", "--wiring", "1s1p"}).out, StartsWith("FITS ?  PV1 = 1s1p"));
    // The order of arguments does not matter.
    CHECK(result({"check", "--wiring", "1s1p", "setup.toml"}).out == result({"check", "setup.toml", "--wiring=1s1p"}).out);
    check_refused(result({"check", "setup.toml"}), "plait arrange");
    check_refused(result({"check", "two.toml", "--wiring", "2x1"}), "--wiring:1:");
    check_refused(result({"check", "two.toml", "--wiring", "PV7=2s1p"}), "PV7");
    check_refused(result({"check", "two.toml", "--wiring", "unused"}), "uses no input");
}

TEST_CASE("check: more panels than on hand are said, not refused") {
    const CommandResult r = result({"check", "setup.toml", "--wiring", "2s3p"});
    CHECK(r.exit_code == 1);  // it cannot be built yet
    CHECK_THAT(r.out, StartsWith("NEEDS 2 more panels") && Contains("Get 2 more"));
}

TEST_CASE("arrange: 0 when some wiring is within the limits, 1 when none is") {
    const CommandResult r = result({"arrange", "setup.toml"});
    check_reported(r, 0);
    CHECK_THAT(r.out, Contains("Do not connect"));
    Files files = usual_files();
    files["setup.toml"].replace(files["setup.toml"].find("\"60 V\""), 6, "\"20 V\"");
    files["setup.toml"].replace(files["setup.toml"].find("\"58 V\""), 6, "\"20 V\"");
    const CommandResult none = run({"arrange", "setup.toml"}, world_of(files));
    check_reported(none, 1);
    CHECK_THAT(none.out, StartsWith("NO WIRING  of these panels on these inputs ") && Contains("No wiring of these panels is within"));
}

TEST_CASE("arrange --top and --all choose how much is shown") {
    // Four panels: 8 wirings (4 + 2 + 1 + 1). One or two in series are within, 3s1p and 4s1p are not.
    CHECK(Json::parse(result({"arrange", "setup.toml", "--json"}).out)["plans"].size() == 8);
    CHECK(Json::parse(result({"arrange", "setup.toml", "--json", "--top", "3"}).out)["plans"].size() == 3);
    CHECK(Json::parse(result({"arrange", "setup.toml", "--json", "--top", "3"}).out)["count"] == 8);
    CHECK(Json::parse(result({"arrange", "setup.toml", "--json", "--top", "3", "--all"}).out)["plans"].size() == 8);
    const std::string two = result({"arrange", "setup.toml", "--top", "2"}).out;
    CHECK(lines_with(two, "\n  1. PV1") == 1);
    CHECK(lines_with(two, "\n  2. PV1") == 1);
    CHECK(lines_with(two, "\n  3. PV1") == 0);
    CHECK_THAT(two, Contains("4 more can be used"));
    const std::string all = result({"arrange", "setup.toml", "--all"}).out;
    // A wiring is called by its place in the whole list, the dangerous ones last.
    CHECK(lines_with(all, "\n  6. PV1") == 1);
    CHECK(lines_with(all, "\n  8. PV1") == 1);
    CHECK(lines_with(all, "\n  9. ") == 0);
    CHECK(all.rfind("EXCEEDS") > all.rfind("\n  6. PV1"));
    for (const char* bad : {"0", "-1", "many", "1.5"}) {
        CAPTURE(bad);
        check_refused(result({"arrange", "setup.toml", "--top", bad}), "--top");
    }
}

TEST_CASE("arrange: nothing is listed twice when no wiring can be used") {
    Files files = usual_files();
    files["setup.toml"].replace(files["setup.toml"].find("\"60 V\""), 6, "\"20 V\"");
    files["setup.toml"].replace(files["setup.toml"].find("\"58 V\""), 6, "\"20 V\"");
    const std::string out = run({"arrange", "setup.toml"}, world_of(files)).out;
    CHECK_THAT(out, Contains("Do not connect: 8 wirings"));
    CHECK(lines_with(out, "\n  1. PV1") == 2);  // in the list and among the warnings
}

TEST_CASE("panel: what a datasheet becomes") {
    const CommandResult r = result({"panel", "meadow.toml"});
    check_reported(r, 0);
    CHECK_THAT(r.out, StartsWith("Meadow 100\n") && Contains("Pmax 100.0 W, Vmp 20.00 V, Imp 5.00 A, Voc 24.00 V"));
    // The straight line at −40 °C: 24 V × (1 + 0.3 % × 65)
    CHECK_THAT(r.out, Contains("28.68 V"));
    check_refused(result({"panel", "setup.toml"}), "setup.toml:");
}

TEST_CASE("JSON: one document, the same verdict as the text") {
    const CommandResult over = result({"check", "three.toml", "--json"});
    check_reported(over, 1);
    const Json j = Json::parse(over.out);
    CHECK(j["schema"] == "plait-report");
    CHECK(j["schema_version"] == 2);
    CHECK(j["command"] == "check");
    CHECK(j["verdict"] == "exceeds");
    CHECK(j["inputs"][0]["wiring"] == "3s1p");
    CHECK(j["inputs"][0]["rules"][0]["value"].get<double>() == Approx(81.72).epsilon(1e-12));
    CHECK(j["inputs"][0]["help"]["longest_string"] == 2);
    CHECK(Json::parse(result({"arrange", "setup.toml", "--json"}).out)["plans"][0]["rank"] == 1);
    CHECK(Json::parse(result({"panel", "meadow.toml", "--json"}).out)["panel"]["voc_v"] == 24.0);
    CHECK(over.out.back() == '\n');
}

TEST_CASE("what a person wrote is written as JSON wants it") {
    Files files = usual_files();
    files["two.toml"].replace(0, files["two.toml"].find('\n'), R"(title = "a \"quoted\" shed, 40 °C\\roof")");
    const CommandResult r = run({"check", "two.toml", "--json"}, world_of(files));
    CHECK(r.exit_code == 0);
    CHECK(Json::parse(r.out)["title"] == "a \"quoted\" shed, 40 °C\\roof");
}

TEST_CASE("all complaints at once, each with its place; nothing on stdout") {
    Files files = usual_files();
    std::string& setup = files["two.toml"];
    setup.replace(setup.find("\"60 V\""), 6, "\"60 A\"");
    setup.replace(setup.find("\"open-rack\""), 11, "\"on-the-moon\"");
    setup.replace(setup.find("count = 4"), 9, "count = 0");
    std::string& panel = files["meadow.toml"];
    panel.replace(panel.find("\"24 V\""), 6, "\"19 V\"");
    for (const char* command : {"check", "arrange"}) {
        const CommandResult r = run({command, "two.toml"}, world_of(files));
        CAPTURE(r.err);
        check_refused(r, "two.toml:14:");
        CHECK_THAT(r.err, Contains("two.toml:6:") && Contains("on-the-moon") && Contains("meadow.toml:"));
        CHECK(std::count(r.err.begin(), r.err.end(), '\n') >= 4);
    }
}

TEST_CASE("a file that is not there, and a panel file that is not there") {
    check_refused(result({"check", "nowhere.toml"}), "nowhere.toml: cannot be opened; check the path");
    check_refused(result({"panel", "nowhere.toml"}), "nowhere.toml");
    Files files = usual_files();
    files.erase("meadow.toml");
    check_refused(run({"arrange", "setup.toml"}, world_of(files)), "meadow.toml");
}

TEST_CASE("bad usage: what was wrong, and where to look") {
    check_refused(result({"chekc", "two.toml"}), "'chekc' is not a command; write one of new, check, arrange, compare, ");
    check_refused(result({"check"}), "FILE");
    check_refused(result({"check", "two.toml", "three.toml"}), "three.toml");
    check_refused(result({"check", "two.toml", "--frob"}), "--frob");
    check_refused(result({"arrange", "setup.toml", "--wiring", "2s1p"}), "--wiring");
    check_refused(result({"check", "two.toml", "--all"}), "--all");
    check_refused(result({"check", "two.toml", "--colour", "pink"}), "pink");
    check_refused(result({"--frob"}), "'--frob' comes where a command is expected; write the command first");
    check_refused(result({"--json", "check", "two.toml"}), "'--json' comes where a command is expected");
    check_refused(result({"check", "two.toml", "--frob"}), "plait check --help says what is allowed");
}

TEST_CASE("plait alone says what to do first") {
    const CommandResult r = result({});
    check_reported(r, 0);
    CHECK_THAT(r.out, Contains("Three steps") && Contains("plait new mine.toml") && Contains("plait check mine.toml"));
}

TEST_CASE("help and version are reports, not complaints") {
    const CommandResult help = result({"--help"});
    check_reported(help, 0);
    CHECK_THAT(help.out, Contains("check") && Contains("arrange") && Contains("panel") && Contains("Exit codes"));
    for (const char* command : {"check", "arrange", "compare", "curve", "panel", "parts", "steps"}) {
        const CommandResult one = result({command, "--help"});
        check_reported(one, 0);
        CHECK_THAT(one.out, Contains("FILE") && Contains("--json"));
    }
    CHECK_THAT(result({"check", "--help"}).out, Contains("--wiring"));
    CHECK_THAT(result({"arrange", "--help"}).out, Contains("--top") && Contains("--all"));
    const CommandResult version = result({"--version"});
    check_reported(version, 0);
    CHECK_THAT(version.out, StartsWith("plait "));
}

TEST_CASE("colour only when it is wanted") {
    for (const std::vector<std::string>& command :
         std::vector<std::vector<std::string>>{{"check", "three.toml"},
                                               {"arrange", "setup.toml"},
                                               {"compare", "two.toml", "three.toml"},
                                               {"curve", "three.toml"},
                                               {"panel", "meadow.toml"},
                                               {"parts", "two.toml"},
                                               {"steps", "two.toml"}}) {
        const auto with = [&](std::vector<std::string> more, bool terminal) {
            more.insert(more.begin(), command.begin(), command.end());
            return result(more, terminal).out;
        };
        CAPTURE(command.front());
        const std::string plain = with({}, false);
        CHECK_THAT(plain, !Contains(escape));
        CHECK_THAT(with({}, true), Contains(escape));
        CHECK(with({"--colour", "never"}, true) == plain);
        CHECK(with({"--colour", "always"}, false) == with({}, true));
        CHECK(with({"--color", "always"}, false) == with({}, true));
        CHECK_THAT(with({"--json"}, true), !Contains(escape));
        CHECK_THAT(with({"--json", "--colour", "always"}, true), !Contains(escape));
        // Colour adds to the text and changes nothing of it.
        std::string stripped = with({}, true);
        for (std::size_t at = stripped.find(escape); at != std::string::npos; at = stripped.find(escape, at)) {
            stripped.erase(at, stripped.find('m', at) - at + 1);
        }
        CHECK(stripped == plain);
    }
}

TEST_CASE("the same question has the same answer") {
    CHECK(result({"arrange", "setup.toml", "--all"}).out == result({"arrange", "setup.toml", "--all"}).out);
}

TEST_CASE("arrange: --why says in a line why a wiring is not the first, or is never built") {
    const CommandResult over = result({"arrange", "two.toml", "--why", "3s1p"});
    CHECK_THAT(over.out, Contains("Why not PV1 3s1p?") && Contains("EXCEEDS") && Contains("(cold-voltage)"));
    CHECK_THAT(over.out, Contains("A search never builds it"));
    const CommandResult less = result({"arrange", "two.toml", "--why", "1s1p", "--why", "2s1p"});
    CHECK(lines_with(less.out, "Why not ") == 2);
    CHECK_THAT(less.out, Contains("more are left in panels it does not use"));
    check_refused(result({"arrange", "two.toml", "--why", "2x2"}), "--why:1:");
    check_refused(result({"arrange", "two.toml", "--why", "unused"}), "uses no input");

    const Json j = Json::parse(result({"arrange", "two.toml", "--json", "--why", "1s1p"}).out);
    REQUIRE(j["why"].size() == 1);
    CHECK(j["why"][0]["harvest"]["european_w"].get<double>() < j["plans"][0]["harvest"]["european_w"].get<double>());
    CHECK(j["why"][0]["reasons"].size() >= 2);
}

TEST_CASE("arrange: --trade-offs and --seconds") {
    CHECK(lines_with(result({"arrange", "two.toml"}).out, "Yours to decide") == 0);
    CHECK(lines_with(result({"arrange", "two.toml", "--trade-offs"}).out, "Yours to decide") == 1);
    for (const char* bad : {"nan", "inf", "-1", "1e9", "soon", ""}) {
        CAPTURE(bad);
        check_refused(result({"arrange", "two.toml", "--seconds", bad}), "--seconds");
    }
}

TEST_CASE("arrange: a search stopped early shows the best so far and what may still be out there") {
    Files files = usual_files();
    // Strings of unlike lengths may do better than equal ones only where something is lost; limits see to that.
    files["setup.toml"].replace(files["setup.toml"].find("20 A"), 4, " 8 A");
    World world = world_of(files);
    double asked_for = -1.0;
    world.watch = [&asked_for](double most_seconds) -> search::KeepGoing {
        asked_for = most_seconds;
        return [](const search::SearchProgress&) { return false; };
    };
    const CommandResult stopped = run({"arrange", "setup.toml", "--seconds", "3", "--trade-offs"}, world);
    CHECK(asked_for == 3.0);
    CHECK(stopped.exit_code == 0);
    CHECK_THAT(stopped.out, Contains("The search was stopped before it had seen all"));
    const Json j = Json::parse(run({"arrange", "setup.toml", "--json", "--trade-offs"}, world).out);
    CHECK(j["search"]["complete"] == false);
    CHECK(j["search"]["bound_w"].get<double>() >= j["plans"][0]["harvest"]["european_w"].get<double>());
}
