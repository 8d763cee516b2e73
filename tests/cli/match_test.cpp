#include "../support/report_text.hpp"
#include "memory_world.hpp"


#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <atomic>
#include <sstream>
#include <thread>

using namespace plait;
using namespace plait::cli;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Json = nlohmann::json;

namespace {

/// An input for 14 to 52 V, 11 A, 350 W.
const std::string small_toml = R"(name = "Small"
type = "wide-range"
[[input]]
name = "PV"
max_voltage = "52 V"
tracking_min = "14 V"
tracking_max = "52 V"
max_current = "11 A"
max_power = "350 W"
over_current = "clips"
)";

const std::string site_toml = "[site]\ncoldest_air = \"-10 °C\"\nhottest_air = \"35 °C\"\nmounting = \"open-rack\"\npeak_irradiance = \"1000 W/m²\"\n";

std::string with(std::string text, const std::string& what, const std::string& instead) {
    const std::size_t at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), instead);
}

/// panels/: meadow of 24 V, tall of 48 V (too high in the cold). boxes/: small, and large for 100 V.
Files files() {
    Files f = usual_files();
    f["panels/meadow.toml"] = meadow_toml;
    f["panels/tall.toml"] = with(with(with(meadow_toml, "36", "72"), "\"20 V\"", "\"40 V\""), "\"24 V\"", "\"48 V\"");
    f["panels/tall.toml"] = with(f["panels/tall.toml"], "\"100 W\"", "\"200 W\"");
    f["boxes/small.toml"] = small_toml;
    f["boxes/large.toml"] = with(with(with(small_toml, "\"52 V\"", "\"100 V\""), "tracking_max = \"52 V\"", "tracking_max = \"98 V\""), "350 W", "1000 W");
    f["site.toml"] = site_toml;
    f["prices.csv"] = "meadow, 80, EUR\ntall.toml, 150, EUR\nboxes/small.toml, 300, EUR\nlarge, 500, EUR\nother, 3, EUR\n";
    return f;
}

World match_world(const Files& f) {
    World world = world_of(f);
    world.files_of_folder = [f](const std::string& path) -> std::optional<std::vector<std::string>> {
        std::vector<std::string> inside;
        for (const auto& [name, text] : f) {
            if (name.rfind(path + "/", 0) == 0 && name.size() > 5 && name.substr(name.size() - 5) == ".toml") inside.push_back(name);
        }
        if (inside.empty() && path != "empty") return std::nullopt;
        return inside;
    };
    return world;
}

CommandResult matched(std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), "match");
    return run(arguments, match_world(files()));
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

void check_refused(const CommandResult& r, const std::string& complaint) {
    CHECK(r.exit_code == 2);
    CHECK(r.out.empty());
    CHECK_THAT(r.err, Contains(complaint));
}

}  // namespace

TEST_CASE("match: folders of panels and boxes, the best first") {
    const CommandResult r = matched({"panels", "boxes", "--site", "site.toml"});
    CHECK(r.err.empty());
    CHECK(r.exit_code == 1);  // four strings of the best pair need fuses
    const std::string text = support::flat(r.out);
    CHECK_THAT(text, Contains("2 kinds of panel on 2 controllers, up to 4 of each panel: 4 pairs.") && Contains("NEEDS 4 string fuses") &&
                         Contains("4 tall on large: PV 1s4p") && Contains("not an approval"));
    const Json j = Json::parse(matched({"panels", "boxes", "--site", "site.toml", "--json"}).out);
    CHECK(j["asked"]["pairs"] == 4);
    // 48 V × (1 + 0.003 × 35) = 53.04 V, by hand: over 52 V.
    CHECK(j["tally"]["no_string"] == 1);
    CHECK(j["best"].size() == 3);
    for (std::size_t i = 1; i < j["best"].size(); ++i) {
        CHECK(j["best"][i]["figures"]["harvest_w"].get<double>() <= j["best"][i - 1]["figures"]["harvest_w"].get<double>());
    }
    for (const Json& pair : j["best"]) CHECK(pair["answers"]["connection"] != "forbidden");
}

TEST_CASE("match: every pair of a small catalogue has the very report of arrange on the same set-up") {
    const Files f = files();
    const World world = match_world(f);
    for (const std::string panel : {"panels/meadow.toml", "panels/tall.toml"}) {
        for (const std::string box : {"boxes/small.toml", "boxes/large.toml"}) {
            CAPTURE(panel, box);
            Files one = f;
            one["both.toml"] = "[[panel]]\nfile = \"" + panel + "\"\ncount = 3\n[controller]\nfile = \"" + box + "\"\n" + site_toml;
            const Json arranged = Json::parse(run({"arrange", "both.toml", "--json"}, match_world(one)).out);
            const Json pairs = Json::parse(run({"match", panel, box, "--on-hand", "3", "--site", "site.toml", "--json", "--top", "1"}, world).out);
            if (arranged["advised"].is_null()) {
                CHECK(pairs["best"].empty());
                continue;
            }
            const Json& best = pairs["best"].at(0);
            CHECK(best["wiring"] == arranged["advised"]["wiring"]);
            Json verdict = arranged["advised"];
            verdict.erase("wiring");
            CHECK(best["verdict"] == verdict);
            const Json& plan = arranged["plans"].at(arranged["advised_rank"].get<std::size_t>() - 1);
            CHECK(best["figures"]["harvest_w"] == plan["harvest"]["european_w"]);
            CHECK(best["figures"]["cold_margin_v"] == plan["cold_margin_v"]);
        }
    }
}

TEST_CASE("match: all shipped panels on all shipped inputs, each as arrange has it") {
    World world = source_world();
    const input::ReadFile shipped = world.read_file;
    std::string both;
    world.read_file = [&](const std::string& path) -> Result<std::string, std::string> {
        if (path == "both.toml") return both;
        return shipped(path);
    };
    world.files_of_folder = [](const std::string& path) -> std::optional<std::vector<std::string>> {
        if (path != "panels" && path != "docs/demo/inputs") return std::nullopt;
        std::vector<std::string> inside;
        for (const auto& file : support::toml_files(path)) inside.push_back(path + "/" + file.filename().string());
        return inside;
    };
    const std::vector<std::string> lines =
        lines_of(run({"match", "panels", "docs/demo/inputs", "--on-hand", "3", "--site", "docs/demo/van.toml", "--every", "--lines"}, world).out);
    REQUIRE(lines.size() > 40);
    const std::string van = *shipped("docs/demo/van.toml");
    const std::size_t from = van.find("[site]");
    std::string site = van.substr(from, van.find("\n[", from + 1) - from);
    std::size_t usable = 0;
    for (std::size_t i = 1; i < lines.size(); ++i) {
        const Json pair = Json::parse(lines[i]);
        CAPTURE(lines[i]);
        both = "[[panel]]\nfile = " + pair["panel_file"].dump() + "\ncount = 3\n[controller]\nfile = " + pair["controller_file"].dump() + "\n" + site;
        const Json arranged = Json::parse(run({"arrange", "both.toml", "--json", "--top", "100"}, world).out);
        REQUIRE(arranged["advised"].is_null() == !pair["usable"].get<bool>());
        if (!pair["usable"].get<bool>()) continue;
        ++usable;
        CHECK(pair["wiring"] == arranged["advised"]["wiring"]);
        CHECK(pair["conditions"] == arranged["advised"]["conditions"]);
        CHECK(pair["answers"]["connection"] == arranged["advised"]["connection"]);
        CHECK(pair["answers"]["intake"] == arranged["advised"]["intake"]);
        const Json& plan = arranged["plans"].at(arranged["advised_rank"].get<std::size_t>() - 1);
        CHECK(pair["figures"]["harvest_w"] == plan["harvest"]["european_w"]);
    }
    CHECK(usable > 20);
}

TEST_CASE("match --lines and --csv: every pair in the order of the files, whoever does the work") {
    const std::vector<std::string> lines = lines_of(matched({"panels", "boxes", "--lines"}).out);
    REQUIRE(lines.size() == 5);
    CHECK(Json::parse(lines[0])["command"] == "match-lines");
    const char* const order[][2] = {{"meadow", "large"}, {"meadow", "small"}, {"tall", "large"}, {"tall", "small"}};
    for (std::size_t i = 0; i < 4; ++i) {
        const Json pair = Json::parse(lines[i + 1]);
        CHECK(pair["panel"] == order[i][0]);
        CHECK(pair["controller"] == order[i][1]);
    }
    CHECK(Json::parse(lines[4])["settled"] == "no-string");
    CHECK(Json::parse(lines[4])["figures"].is_null());

    World many = match_world(files());
    std::string put;
    many.put = [&](std::string_view text) {
        put += text;
        return true;
    };
    many.in_parallel = [](std::size_t n, const std::function<void(std::size_t)>& job) {
        std::atomic<std::size_t> next{0};
        const auto work = [&] {
            for (std::size_t i = next++; i < n; i = next++) job(i);
        };
        std::thread other(work);
        work();
        other.join();
    };
    const CommandResult r = run({"match", "panels", "boxes", "--lines"}, many);
    CHECK(r.out.empty());
    CHECK(lines_of(put) == lines);

    const std::vector<std::string> table = lines_of(matched({"panels", "boxes", "--csv"}).out);
    REQUIRE(table.size() == 6);
    CHECK_THAT(table[0], StartsWith("# plait match.") && Contains("not an approval") && !Contains(","));
    const auto commas = [](const std::string& line) {
        bool quoted = false;
        std::size_t n = 0;
        for (const char c : line) {
            if (c == '"') quoted = !quoted;
            if (c == ',' && !quoted) ++n;
        }
        return n;
    };
    for (std::size_t i = 2; i < table.size(); ++i) CHECK(commas(table[i]) == commas(table[1]));
}

TEST_CASE("match: a full disk and Ctrl-C") {
    World full = match_world(files());
    full.put = [](std::string_view) { return false; };
    const CommandResult r = run({"match", "panels", "boxes", "--lines"}, full);
    CHECK(r.exit_code == 3);
    CHECK_THAT(r.err, Contains("is the disk full?"));

    World stopped = match_world(files());
    bool ended = false;
    stopped.watch_run = [&](std::size_t steps) -> RunWatch {
        CHECK(steps == 4);
        return {[] { return false; }, [](std::size_t) {}, [&] { ended = true; }};
    };
    const CommandResult none = run({"match", "panels", "boxes"}, stopped);
    CHECK(ended);
    CHECK(none.exit_code == 1);
    CHECK_THAT(support::flat(none.out), Contains("Stopped after 0 of 4 pairs"));
}

TEST_CASE("match: money by the table of prices") {
    const Json j = Json::parse(matched({"panels", "boxes", "--site", "site.toml", "--by", "cost", "--prices", "prices.csv", "--json"}).out);
    CHECK(j["asked"]["currency"] == "EUR");
    CHECK_THAT(j["notes"].dump(), Contains("other"));
    double before = 1e9;
    for (const Json& pair : j["best"]) {
        const Json& figures = pair["figures"];
        const double panel = pair["panel"] == "meadow" ? 80.0 : 150.0;
        const double box = pair["controller"] == "small" ? 300.0 : 500.0;
        CHECK(figures["price"].get<double>() == Approx(panel * figures["candidates_used"].get<double>() + box));
        const double per_100 = figures["harvest_per_100_w"].get<double>();
        CHECK(per_100 == Approx(100.0 * figures["harvest_w"].get<double>() / figures["price"].get<double>()));
        CHECK(per_100 <= before);
        before = per_100;
    }
    check_refused(matched({"panels", "boxes", "--by", "cost"}), "no price of these files is known");
    // One box without a price is in every pair.
    Files f = files();
    f["prices.csv"] = "meadow, 80\ntall, 150\n";
    const std::string text = support::flat(run({"match", "panels", "boxes/large.toml", "--by", "cost", "--prices", "prices.csv"}, match_world(f)).out);
    CHECK_THAT(text, Contains("large has no price and counts as nothing"));
}

TEST_CASE("match: --only, --why and --keep") {
    CHECK_THAT(support::flat(matched({"panels/tall.toml", "boxes/small.toml"}).out), Contains("NO PAIR"));
    const std::string why = support::flat(matched({"panels", "boxes", "--site", "site.toml", "--why", "tall on small", "--why", "meadow on small"}).out);
    CHECK_THAT(why, Contains("Why not tall on small?") && Contains("No wiring of it is within the stated limits.") && Contains("53.04 V") &&
                        Contains("Of the usual classes of panel") && Contains("comes to"));
    check_refused(matched({"panels", "boxes", "--why", "tall on medium"}), "names no controller file");
    check_refused(matched({"panels", "boxes", "--why", "short on small"}), "names no panel file");
    check_refused(matched({"panels", "boxes", "--why", "tall"}), "write the names of both files");
    const Json fits = Json::parse(matched({"panels", "boxes", "--only", "fits", "--up-to", "1", "--site", "site.toml", "--json"}).out);
    for (const Json& pair : fits["best"]) CHECK(pair["answers"]["verdict"] == "fits");
    const Json kept = Json::parse(matched({"panels", "boxes/large.toml", "--keep", "meadow.toml=2", "--site", "site.toml", "--json"}).out);
    CHECK(kept["asked"]["kept"][0]["count"] == 2);
    for (const Json& pair : kept["best"]) CHECK(pair["figures"]["gained_w"].is_number());
    check_refused(matched({"panels", "boxes", "--keep", "meadow.toml"}), "no panel and number");
    check_refused(matched({"panels", "boxes", "--keep", "meadow.toml=0"}), "no panel and number");
    check_refused(matched({"panels", "boxes", "--keep", "meadow.toml=2", "--keep", "meadow.toml=3"}), "named twice");
}

TEST_CASE("match: a controller alone says what it wants") {
    const CommandResult r = matched({"boxes/small.toml", "--site", "site.toml"});
    CHECK(r.exit_code == 0);
    const std::string text = support::flat(r.out);
    // 52 V / (1 + 0.0033 × 35) / 1.03 = 45.26 V, by hand.
    CHECK_THAT(text, Contains("What it wants") && Contains("45.26 V") && Contains("36-cell") && Contains("not an approval"));
    const Json j = Json::parse(matched({"boxes/small.toml", "--site", "site.toml", "--json"}).out);
    CHECK(j["command"] == "match-input");
    CHECK(j["most_panels"] == 12);
    CHECK(j["inputs"].size() == 1);
    // Of a set-up the controller is taken.
    CHECK(matched({"setup.toml"}).exit_code == 0);
    check_refused(matched({"boxes"}), "there is no panel among these files");
    check_refused(matched({"panels"}), "there is no controller among these files");
    check_refused(matched({"boxes/small.toml", "--by", "fill"}), "name panel files too");
    check_refused(matched({"boxes/small.toml", "--csv"}), "name panel files too");
}

TEST_CASE("match: what is wrong with the files is said of all of them at once") {
    Files f = files();
    f["panels/odd.toml"] = "colour = \"blue\"\n";
    f["boxes/bad.toml"] = with(small_toml, "\"52 V\"", "\"52 A\"");
    const CommandResult r = run({"match", "panels", "boxes", "nowhere.toml", "--site", "meadow.toml"}, match_world(f));
    check_refused(r, "panels/odd.toml: is neither a panel");
    CHECK_THAT(r.err, Contains("boxes/bad.toml:5") && Contains("nowhere.toml: cannot be opened") && Contains("there is no [site]"));
    check_refused(run({"match", "empty"}, match_world(files())), "no .toml file");
    check_refused(matched({"panels", "boxes", "--up-to", "2", "--on-hand", "2"}), "--on-hand");
    check_refused(matched({"panels", "boxes", "--up-to", "61"}), "--up-to");
}

TEST_CASE("match: pages and pictures") {
    const CommandResult r = matched({"panels", "boxes", "--site", "site.toml", "--page", "out.html", "--svg", "out.svg"});
    REQUIRE(r.files.size() == 2);
    CHECK_THAT(r.files[0].text, Contains("<table") && Contains("drawn") && Contains("data-verdict"));
    CHECK_THAT(r.files[1].text, Contains("What input"));
    const CommandResult alone = matched({"boxes/small.toml", "--page", "out.html", "--svg", "out.svg"});
    REQUIRE(alone.files.size() == 2);
    CHECK_THAT(alone.files[1].text, Contains("What input PV wants") && Contains("label Voc of a string"));
    check_refused(matched({"panels/tall.toml", "boxes/small.toml", "--svg", "x.svg"}), "there is no pair to draw");
}
