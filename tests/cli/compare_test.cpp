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

void check_refused(const CommandResult& r, const std::string& complaint) {
    CHECK(r.exit_code == 2);
    CHECK((r.out.empty() || r.json));
    CHECK_THAT(r.err, Contains(complaint));
}

std::string with(std::string text, const std::string& what, const std::string& instead) {
    const std::size_t at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), instead);
}

/// The usual set-up with prices: 80 a panel, 300 the controller.
std::string priced(const std::string& currency) {
    return with(with("currency = \"" + currency + "\"\n" + setup_toml, "count = 4", "count = 4\nprice = 80"),
                "type = \"wide-range\"", "type = \"wide-range\"\nprice = 300");
}

/// two.toml: as wired 2s1p. three.toml: 3s1p, which exceeds. setup.toml: no [wiring]. Two with prices; one that takes
/// nothing at all.
Files files() {
    Files f = usual_files();
    f["euro.toml"] = priced("EUR");
    f["dollar.toml"] = priced("USD");
    f["part.toml"] = with(priced("EUR"), "price = 300\n", "");
    f["low.toml"] = with(with(setup_toml, "\"60 V\"", "\"20 V\""), "\"58 V\"", "\"20 V\"");
    return f;
}

CommandResult compared(std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), "compare");
    return run(arguments, world_of(files()));
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

/// The rows of both tables that begin with this letter.
std::vector<std::string> rows_of(const std::string& text, char letter) {
    std::vector<std::string> rows;
    const std::vector<std::string> lines = lines_of(text);
    auto at = std::find(lines.begin(), lines.end(), "Where the watts go");
    for (; at != lines.end() && !(at->rfind("on hand:", 0) == 0); ++at) {
        if (at->size() > 4 && (*at)[2] == letter && (*at)[3] == ' ') rows.push_back(at->substr(3));
    }
    return rows;
}

}  // namespace

TEST_CASE("compare: 0 when every set-up has a wiring within its limits, 1 otherwise") {
    const CommandResult good = compared({"two.toml", "three.toml"});
    CHECK(good.exit_code == 0);
    CHECK(good.err.empty());
    // The best wiring, whatever the files' own are: 2s2p, 2 × 27.24 V below 60 V.
    CHECK_THAT(good.out, Contains("A and B take most, within 1 % of each other: ") && Contains("PV1 2s2p") &&
                             Contains("5.52 V") && Contains("9.2 %") && !Contains("PV1 3s1p"));
    const CommandResult half = compared({"two.toml", "low.toml"});
    CHECK(half.exit_code == 1);
    CHECK_THAT(support::flat(half.out), Contains("- Only A ") && Contains("NO WIRING"));
    const CommandResult none = compared({"low.toml", "low.toml"});
    CHECK(none.exit_code == 1);
    CHECK_THAT(none.out, Contains("- None of these set-ups "));
}

TEST_CASE("compare --as-wired judges each file's own wiring") {
    const CommandResult r = compared({"--as-wired", "two.toml", "three.toml"});
    CHECK(r.exit_code == 1);
    CHECK_THAT(r.out, Contains("- Only A ") && Contains("EXCEEDS ?  PV1 3s1p") && Contains("81.72 V") &&
                          Contains("FITS ?     PV1 2s1p") && !Contains("searched to the end"));
    CHECK(compared({"--as-wired", "two.toml", "two.toml"}).exit_code == 0);
    // Every file without one is named.
    const CommandResult unwired = compared({"--as-wired", "setup.toml", "two.toml", "euro.toml"});
    check_refused(unwired, "setup.toml: there is no [wiring] to judge");
    CHECK_THAT(unwired.err, Contains("euro.toml: there is no [wiring] to judge") && !Contains("two.toml"));
    check_refused(compared({"--as-wired", "two.toml", "two.toml", "--seconds", "3"}), "--seconds");
}

TEST_CASE("compare: the complaints about every file at once, each once") {
    Files broken = files();
    broken["two.toml"] = with(broken["two.toml"], "\"60 V\"", "\"60 A\"");
    broken["three.toml"] = with(broken["three.toml"], "\"open-rack\"", "\"on-the-moon\"");
    const CommandResult r =
        run({"compare", "two.toml", "setup.toml", "nowhere.toml", "three.toml", "two.toml"}, world_of(broken));
    check_refused(r, "nowhere.toml: cannot be opened");
    CHECK_THAT(r.err, Contains("two.toml:14:") && Contains("on-the-moon"));
    CHECK(r.err.find("two.toml:14:") == r.err.rfind("two.toml:14:"));
}

TEST_CASE("compare: two to twenty files") {
    check_refused(compared({}), "FILES");
    check_refused(compared({"two.toml"}), "two to twenty");
    check_refused(compared(std::vector<std::string>(21, "two.toml")), "got 21");
    const CommandResult most = compared(std::vector<std::string>(20, "two.toml"));
    CHECK(most.exit_code == 0);
    CHECK(rows_of(most.out, 'T').size() == 2);
    check_refused(compared({"two.toml", "two.toml", "--json", "--csv"}), "--json");
}

TEST_CASE("compare: a set-up with itself gives equal rows; the order changes nothing but the order") {
    const std::string twice = compared({"euro.toml", "euro.toml"}).out;
    CHECK(rows_of(twice, 'A').size() == 2);
    CHECK(rows_of(twice, 'A') == rows_of(twice, 'B'));
    const Json j = Json::parse(compared({"euro.toml", "euro.toml", "--json"}).out);
    CHECK(j["setups"][0] == j["setups"][1]);
    CHECK(j["most_harvest"] == Json({0, 1}));

    const std::string one = compared({"euro.toml", "low.toml", "part.toml"}).out;
    const std::string other = compared({"part.toml", "euro.toml", "low.toml"}).out;
    CHECK(rows_of(one, 'A') == rows_of(other, 'B'));
    CHECK(rows_of(one, 'B') == rows_of(other, 'C'));
    CHECK(rows_of(one, 'C') == rows_of(other, 'A'));
}

TEST_CASE("compare: money only where there are prices, and never two currencies together") {
    const std::string none = compared({"two.toml", "setup.toml"}).out;
    CHECK_THAT(none, !Contains("cost") && !Contains("for 100") && !Contains("currenc"));
    CHECK_THAT(compared({"two.toml", "setup.toml", "--csv"}).out, !Contains("cost") && !Contains("currency"));

    // 4 × 80 + 300
    const Json j = Json::parse(compared({"euro.toml", "dollar.toml", "part.toml", "two.toml", "--json"}).out);
    const Json& cost = j["setups"][0]["plan"]["cost"];
    CHECK(cost["total"] == 620.0);
    const double harvest_w = j["setups"][0]["plan"]["harvest"]["european_w"].get<double>();
    CHECK(cost["harvest_per_100_w"].get<double>() == Approx(harvest_w / 6.2).epsilon(1e-12));
    CHECK(j["setups"][2]["plan"]["cost"].is_null());
    CHECK(j["setups"][2]["plan"]["unpriced"] == Json({"the controller"}));
    CHECK(j["setups"][3]["plan"]["unpriced"].empty());
    CHECK(j["least_money"].size() == 2);

    const std::string text = support::flat(compared({"euro.toml", "dollar.toml", "part.toml", "two.toml"}).out);
    CHECK_THAT(text, Contains("620 EUR") && Contains("620 USD") && Contains("are not compared with each other") &&
                         Contains("C (no price of the controller)") && Contains("D (no prices in the file)"));
    CHECK_THAT(text, !Contains("least for each watt"));
    CHECK_THAT(compared({"euro.toml", "euro.toml"}).out, Contains("A and B cost least for each watt"));
}

TEST_CASE("compare --csv: every line has the header's fields, and names are quoted") {
    Files f = files();
    f["euro.toml"] = with(f["euro.toml"], "\"Round numbers\"", "'Round, \"quoted\"'");
    const CommandResult r = run({"compare", "euro.toml", "low.toml", "part.toml", "--csv"}, world_of(f));
    CHECK(r.exit_code == 1);
    const std::vector<std::string> lines = lines_of(r.out);
    REQUIRE(lines.size() == 5);
    CHECK_THAT(lines[0], StartsWith("# plait compare.") && Contains("not an approval") && !Contains(","));
    CHECK_THAT(lines[2], StartsWith("euro.toml,\"Round, \"\"quoted\"\"\",4,PV1 2s2p,"));
    const auto commas = [](const std::string& line) {
        bool quoted = false;
        std::size_t n = 0;
        for (const char c : line) {
            if (c == '"') quoted = !quoted;
            if (c == ',' && !quoted) ++n;
        }
        return n;
    };
    for (std::size_t i = 2; i < lines.size(); ++i) CHECK(commas(lines[i]) == commas(lines[1]));
    CHECK_THAT(lines[2], Contains(",EUR,320,300,620,"));
}

TEST_CASE("compare: one search a set-up, each as long as asked for") {
    World world = world_of(files());
    std::vector<double> asked;
    world.watch = [&asked](double most_seconds) -> search::KeepGoing {
        asked.push_back(most_seconds);
        return [](const search::SearchProgress&) { return false; };
    };
    Files f = files();
    f["tight.toml"] = with(setup_toml, "20 A", " 8 A");
    World tight = world_of(f);
    tight.watch = world.watch;
    const CommandResult r = run({"compare", "tight.toml", "two.toml", "--seconds", "3"}, tight);
    CHECK(asked == std::vector<double>{3.0, 3.0});
    CHECK(r.exit_code == 0);
    CHECK_THAT(r.out, Contains("The search was stopped: another wiring may bring up to"));
    check_refused(compared({"two.toml", "two.toml", "--seconds", "soon"}), "--seconds");
}

TEST_CASE("compare: the demo fits 96 columns, and sites that differ are said to") {
    std::vector<std::string> all{"compare", "--as-wired"};
    for (const auto& path : support::toml_files("docs/demo")) all.push_back("docs/demo/" + path.filename().string());
    const std::string text = run(all, source_world()).out;
    REQUIRE_FALSE(text.empty());
    for (const std::string& line : lines_of(text)) {
        CAPTURE(line);
        CHECK(std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; }) <= 96);
    }
    CHECK_THAT(text, Contains("The sites differ"));
    CHECK_THAT(compared({"two.toml", "three.toml"}).out, !Contains("The sites differ"));
}

TEST_CASE("compare: what a set-up with cables loses adds up, in JSON, table and text") {
    const std::vector<std::string> arguments{"compare", "--as-wired", "docs/demo/barn.toml", "docs/demo/van.toml"};
    const auto with_flag = [&](const char* flag) {
        std::vector<std::string> all = arguments;
        all.emplace_back(flag);
        return run(all, source_world()).out;
    };
    const Json j = Json::parse(with_flag("--json"));
    std::vector<double> cables_w;
    for (const Json& setup : j["setups"]) {
        const Json& a = setup["plan"]["account"];
        double left_w = a["on_hand_w"];
        for (const char* loss : {"unused_w", "mismatch_w", "cables_w", "inputs_w", "shared_w"}) {
            left_w -= a[loss].get<double>();
        }
        CHECK(left_w == Approx(a["harvest_w"].get<double>()).epsilon(1e-9));
        cables_w.push_back(a["cables_w"]);
    }
    CHECK(cables_w[0] > 10.0);
    const std::vector<std::string> lines = lines_of(with_flag("--csv"));
    const auto fields = [](const std::string& line) {
        std::vector<std::string> out;
        std::istringstream in(line);
        for (std::string field; std::getline(in, field, ',');) out.push_back(field);
        return out;
    };
    const std::vector<std::string> head = fields(lines[1]);
    // The barn's names and wiring hold no commas.
    const std::vector<std::string> barn = fields(lines[2]);
    const auto at = static_cast<std::size_t>(std::find(head.begin(), head.end(), "cables_w") - head.begin());
    REQUIRE(at < head.size());
    CHECK(std::stod(barn.at(at)) == Approx(cables_w[0]));
    const std::vector<std::string> rows = rows_of(run(arguments, source_world()).out, 'A');
    CHECK_THAT(rows[0], Contains(std::to_string(cables_w[0]).substr(0, 3)));
}
