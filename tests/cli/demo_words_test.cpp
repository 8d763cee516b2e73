// The words of every report the demo can give: what must never be said, and what must always be.
#include "../support/report_text.hpp"
#include "memory_world.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cctype>
#include <regex>

using namespace plait;
using namespace plait::cli;
using Catch::Matchers::Contains;
using Json = nlohmann::json;

namespace {

std::string lower(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

std::string demo(const std::string& name) { return "docs/demo/" + name; }

/// "2s1p" of the set-up's first kind of panel.
std::string first_wiring(const std::string& name) { return name == "mixed.toml" ? "2s1p roof" : "2s1p"; }

/// An input that the demo's own wiring uses.
std::string used_input(const std::string& name) {
    return name == "mixed.toml" || name == "allotment-four-large.toml" ? "PV1"
           : name == "allotment.toml"                                  ? "PV2"
                                                                       : "PV";
}

struct Report {
    std::vector<std::string> arguments;
    CommandResult result;
};

/// Every command over every demo file, as text and as JSON, the dangerous wirings too.
std::vector<Report> all_reports() {
    std::vector<std::vector<std::string>> commands{{"--help"},
                                                   {"check", "--help"},
                                                   {"arrange", "--help"},
                                                   {"curve", "--help"},
                                                   {"panel", "--help"},
                                                   {"compare", "--help"},
                                                   {"parts", "--help"},
                                                   {"steps", "--help"},
                                                   {"expect", "--help"},
                                                   {"frob"},
                                                   {"check"}};
    for (const auto& path : support::toml_files("docs/demo")) {
        const std::string file = path.filename().string();
        for (const bool json : {false, true}) {
            const std::string form = json ? "--json" : "--colour=never";
            commands.push_back({"check", demo(file), form});
            for (const char* wiring : {"1s1p", "2s1p", "1s3p", "6s1p", "2s4p"}) {
                commands.push_back({"check", demo(file), form, "--wiring", wiring + first_wiring(file).substr(4)});
            }
            commands.push_back({"expect", demo(file), form});
            commands.push_back({"expect", demo(file), form, "--air", "31 °C", "--sun", "820"});
            const std::string input = used_input(file);
            commands.push_back({"expect", demo(file), form, "--cell", "47 °C", "--sun", "820", "--read",
                                input + " string 1 voc -20 V", "--read", input + " array isc 900 A"});
            commands.push_back({"arrange", demo(file), form});
            commands.push_back({"parts", demo(file), form});
            commands.push_back({"steps", demo(file), form});
            commands.push_back({"steps", demo(file), form, "--wiring", first_wiring(file)});
            commands.push_back({"arrange", demo(file), form, "--all"});
            commands.push_back({"curve", demo(file), form});
        }
    }
    for (const char* form : {"--json", "--csv", "--colour=never"}) {
        std::vector<std::string> all{"compare", "--as-wired", form};
        for (const auto& path : support::toml_files("docs/demo")) all.push_back(demo(path.filename().string()));
        commands.push_back(all);
        commands.push_back({"compare", form, demo("allotment.toml"), demo("allotment-one-input.toml")});
        commands.push_back({"compare", form, "--by", "year", demo("allotment.toml"), demo("allotment-one-input.toml")});
        for (const char* wiring : {"PV1=2s1p; PV2=4s1p", "PV1=unused; PV2=6s1p", "PV1=2s3p; PV2=unused"}) {
            commands.push_back({"harvest", demo("allotment.toml"), form, "--wiring", wiring});
            commands.push_back({"harvest", demo("allotment.toml"), form, "--wiring", wiring, "--day", "june"});
        }
    }
    for (const auto& path : support::toml_files("panels")) {
        commands.push_back({"panel", "panels/" + path.filename().string()});
        commands.push_back({"panel", "panels/" + path.filename().string(), "--json"});
    }
    std::vector<Report> reports;
    const World world = source_world();
    for (const auto& arguments : commands) reports.push_back({arguments, run(arguments, world)});
    return reports;
}

std::string joined(const std::vector<std::string>& words) {
    std::string out;
    for (const std::string& w : words) out += w + " ";
    return out;
}

bool has_caution(const Json& report, const std::string& id) {
    return std::any_of(report["cautions"].begin(), report["cautions"].end(),
                       [&](const Json& c) { return c["id"] == id; });
}

Json checked(const std::string& file, const std::string& wiring) {
    const CommandResult r = run({"check", demo(file), "--json", "--wiring", wiring}, source_world());
    REQUIRE(r.err.empty());
    return Json::parse(r.out);
}

}  // namespace

TEST_CASE("no report ever calls a wiring safe, and every one is whole") {
    const std::vector<Report> reports = all_reports();
    REQUIRE(reports.size() > 100);
    std::vector<std::string> refused;
    for (const Report& r : reports) {
        CAPTURE(joined(r.arguments), r.result.err);
        CHECK_THAT(lower(r.result.out), !Contains("safe"));
        CHECK_THAT(lower(r.result.err), !Contains("safe"));
        CHECK_THAT(r.result.out, !Contains("nan") && !Contains("-0.0 ") && !Contains("−0.0 "));
        CHECK(r.result.exit_code <= 2);
        CHECK(r.result.out.empty() == (r.result.exit_code == 2));
        CHECK(r.result.err.empty() == (r.result.exit_code != 2));
        if (r.result.exit_code == 2) refused.push_back(joined(r.arguments));
    }
    CHECK(refused == std::vector<std::string>{"frob ", "check "});
}

TEST_CASE("every check and every ranking carries its cautions and defers to those who may approve") {
    for (const auto& path : support::toml_files("docs/demo")) {
        const std::string file = path.filename().string();
        CAPTURE(file);
        const World world = source_world();
        const CommandResult check = run({"check", demo(file), "--wiring", first_wiring(file)}, world);
        CHECK_THAT(support::flat(check.out), Contains(" ! First measure polarity") && Contains("Be careful") &&
                                  Contains("local code, manual and licensed electrician decide"));
        // The gravest stands above the rules, not only at the foot.
        const CommandResult full = run({"check", demo(file), "--wiring", first_wiring(file), "--full"}, world);
        CHECK(full.out.find("\n! Up to ") < full.out.find("Source: "));
        const CommandResult arrange = run({"arrange", demo(file)}, world);
        CHECK_THAT(support::flat(arrange.out), Contains("'plait check'") && Contains("local code, manual and licensed electrician decide"));
    }
}

// Which assumed value, what it makes of the wiring, and where: all of it above the first blank line, however far below the list is.
TEST_CASE("an assumed value that could carry a wiring past a limit is named at the top with what it does") {
    const World world = source_world();
    const std::regex whole(R"(could carry it past a limit: .+ \[[0-9]+\], (EXCEEDS|MAY EXCEED|NOT KNOWN|NEEDS)[^.]* at [0-9])");
    int met = 0;
    for (const char* file : {"mixed.toml", "workshop.toml", "barn.toml", "hut.toml", "van.toml", "cabin-direct.toml"}) {
        CAPTURE(file);
        const Json check = Json::parse(run({"check", demo(file), "--json"}, world).out);
        const std::string text = run({"check", demo(file)}, world).out;
        const std::string top = support::flat(text.substr(0, text.find("\n\n")));
        CHECK(check["could_exceed"].get<bool>() == std::regex_search(top, whole));
        met += check["could_exceed"].get<bool>() ? 1 : 0;
        if (check["intake"] == "clipped") CHECK_THAT(top, Contains("of what reaches it is lost"));
    }
    CHECK(met >= 2);
}

// Cautions, conditions and cures never fold: the words are short enough that all of a demo of one input fits.
TEST_CASE("check says all of one input in forty lines of eighty columns") {
    const World world = source_world();
    int met = 0;
    for (const auto& path : support::toml_files("docs/demo")) {
        const std::string file = path.filename().string();
        const std::string text = run({"check", demo(file)}, world).out;
        const std::string readings = "\nWhat a meter should read on ";
        const std::size_t first = text.find(readings);
        if (first == std::string::npos || text.find(readings, first + 1) != std::string::npos) continue;
        CAPTURE(file, text);
        ++met;
        CHECK(std::count(text.begin(), text.end(), '\n') <= 40);
    }
    CHECK(met >= 7);
}

// A wiring within every limit of its input can still burn a panel: that must not be found only below.
TEST_CASE("each hot spot has its line above the first blank one, and then nobody is sent shopping") {
    const World world = source_world();
    std::size_t met = 0;
    for (const auto& path : support::toml_files("docs/demo")) {
        const std::string file = path.filename().string();
        CAPTURE(file);
        const Json spots = Json::parse(run({"check", demo(file), "--json"}, world).out)["hot_spots"];
        const std::string text = run({"check", demo(file)}, world).out;
        const std::string top = text.substr(0, text.find("\n\n"));
        std::size_t lines = 0;
        for (std::size_t at = top.find("! Hot spot, "); at != std::string::npos; at = top.find("! Hot spot, ", at + 1)) ++lines;
        CHECK(lines == spots.size());
        if (spots.empty()) continue;
        met += spots.size();
        CHECK_THAT(text, Contains("Next: ") && !Contains("Next: 'plait parts'"));
    }
    CHECK(met >= 2);
}

// 120 V DC: upper limit of extra-low voltage, IEC 61140 [from memory]. By hand: 6 × 27.4 V = 165 V; 1 × 27.4 V.
TEST_CASE("cautions are scaled: hazardous to life only where it is") {
    CHECK(has_caution(checked("allotment.toml", "PV2=6s1p"), "hazardous-live"));
    CHECK(has_caution(checked("allotment.toml", "PV2=5s1p"), "hazardous-live"));
    const Json one = checked("allotment.toml", "PV1=1s1p");
    CHECK_FALSE(has_caution(one, "hazardous-live"));
    CHECK_FALSE(has_caution(one, "fuse-each-string"));
    CHECK_FALSE(has_caution(one, "equal-strings"));
    CHECK(has_caution(one, "live-when-lit"));
    CHECK(one["cautions"].back()["id"] == "defer");
    // The highest of the inputs counts.
    CHECK(has_caution(checked("allotment.toml", "PV1=1s1p; PV2=5s1p"), "hazardous-live"));
    CHECK(has_caution(checked("cabin-direct.toml", "1s3p"), "fuse-each-string"));
    CHECK(has_caution(checked("cabin-direct.toml", "1s3p"), "battery-first"));
    CHECK_FALSE(has_caution(one, "battery-first"));
}

// The demo's own notes work these out by hand.
TEST_CASE("the demo's stories come true") {
    const World world = source_world();
    const CommandResult trap = run({"check", demo("allotment.toml")}, world);
    CHECK(trap.exit_code == 1);
    CHECK_THAT(trap.out, Contains("164.70 V") && Contains("at most 5 panels in series"));
    CHECK(run({"check", demo("allotment.toml"), "--wiring", "PV1=2s1p; PV2=4s1p"}, world).exit_code == 0);
    CHECK(run({"check", demo("allotment.toml"), "--wiring", "PV1=3s1p"}, world).exit_code == 1);
    CHECK(run({"check", demo("van.toml")}, world).exit_code == 0);
    CHECK(run({"check", demo("van.toml"), "--wiring", "4s1p"}, world).exit_code == 1);
    CHECK(run({"check", demo("van.toml"), "--wiring", "1s4p"}, world).exit_code == 1);
    CHECK(run({"check", demo("cabin-direct.toml"), "--wiring", "2s1p"}, world).exit_code == 1);
}

TEST_CASE("the complete example of docs/input.md may be connected as it is, and works") {
    const World source = source_world();
    const auto page = source.read_file("docs/input.md");
    REQUIRE(page);
    const std::size_t from = page->find("```toml\n") + 8;
    World world = source;
    world.read_file = [&](const std::string& path) -> Result<std::string, std::string> {
        if (path == "example.toml") return page->substr(from, page->find("```", from) - from);
        return source.read_file(path);
    };
    const CommandResult r = run({"check", "example.toml"}, world);
    CAPTURE(r.out, r.err);
    CHECK(r.exit_code == 0);
}

TEST_CASE("every command about one wiring ends alike, and says why it is not to be connected yet") {
    World world = source_world();
    const World source = world;
    // Two panels of 23.4 V on 63 V: within, but what they may be wired up to and how cold it gets nobody stated.
    world.read_file = [&](const std::string& path) -> Result<std::string, std::string> {
        if (path != "newcomer.toml") return source.read_file(path);
        return std::string("[[panel]]\nid = \"a\"\ncount = 2\npmax = \"150 W\"\nvmp = \"19.2 V\"\nimp = \"7.81 A\"\n"
                           "voc = \"23.4 V\"\nisc = \"8.3 A\"\n[controller]\ntype = \"wide-range\"\n"
                           "[[controller.input]]\nname = \"PV\"\nmax_voltage = \"63 V\"\nstart_voltage = \"13 V\"\n"
                           "max_current = \"12 A\"\n[wiring]\nPV = \"2s1p\"\n");
    };
    std::vector<std::string> files{"newcomer.toml"};
    for (const auto& path : support::toml_files("docs/demo")) files.push_back(demo(path.filename().string()));
    for (const std::string& file : files) {
        const CommandResult check = run({"check", file, "--json"}, world);
        const Json j = Json::parse(check.out);
        std::vector<std::vector<std::string>> commands{
            {"parts", file}, {"steps", file}, {"expect", file}, {"compare", "--as-wired", file, file}};
        if (!j["clear_days"].is_null()) commands.push_back({"harvest", file});  // its place is known
        for (const std::vector<std::string>& words : commands) {
            const CommandResult r = run(words, world);
            CAPTURE(joined(words), r.err);
            CHECK(r.exit_code == check.exit_code);
            if (j["could_exceed"] == true) CHECK_THAT(r.out, Contains("assumed value could carry it past a"));
        }
        if (file == "newcomer.toml") CHECK(j["could_exceed"] == true);
    }
}
