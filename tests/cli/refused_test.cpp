// What a program reads where a command refuses: JSON with --json, the error stream and the exit code as ever.
#include <plait/base/complaint.hpp>

#include <catch2/catch.hpp>

#include <nlohmann/json.hpp>

#include <set>
#include <stdexcept>

#include "memory_world.hpp"
#include "../support/source_dir.hpp"

namespace plait::cli {
namespace {

using Json = nlohmann::json;

struct Trial {
    Complaint kind;
    std::vector<std::string> arguments;
    Files files;  ///< beside the usual ones
};

std::string changed(const std::string& from, const std::string& to) {
    std::string text = with_wiring("2s1p");
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

std::string many_wrong_keys() {
    std::string text;
    for (int i = 0; i < 300; ++i) text += "wrong" + std::to_string(i) + " = 1\n";
    return text + with_wiring("2s1p");
}

Trial broken(Complaint kind, const std::string& from, const std::string& to) {
    return {kind, {"check", "x.toml"}, {{"x.toml", changed(from, to)}}};
}

/// At least one way to every kind.
std::vector<Trial> trials() {
    const std::string log = "time,V,A\n2026-06-21 12:00,40,5\n";
    return {
        {Complaint::unreadable, {"check", "none.toml"}, {}},
        {Complaint::wrong_file, {"check", "meadow.toml"}, {}},
        broken(Complaint::no_text, "Round numbers", "Round \xFF numbers"),
        broken(Complaint::grammar, "[controller]", "[controller"),
        {Complaint::missing, {"charge", "two.toml"}, {}},
        broken(Complaint::unknown_key, "start_voltage", "start_volts"),
        broken(Complaint::unknown_word, "wide-range", "wide"),
        broken(Complaint::wrong_type, "title = \"Round numbers\"", "title = 3"),
        broken(Complaint::no_number, "\"60 V\"", "\"sixty V\""),
        broken(Complaint::unit, "\"60 V\"", "\"60 A\""),
        {Complaint::ambiguous,
         {"climate", "s.csv"},
         {{"s.csv", "STATION,DATE,TMIN,TMAX\nA,2020-01-01,10,20\nB,2020-01-01,10,20\n"}}},
        broken(Complaint::outside_range, "\"60 V\"", "\"-60 V\""),
        broken(Complaint::disagreement, "\"58 V\"", "\"10 V\""),
        {Complaint::twice, {"check", "two.toml", "--wiring", "PV1=2s1p; PV1=2s1p"}, {}},
        broken(Complaint::how_many, "Round numbers", std::string(400, 'n')),
        broken(Complaint::without_effect, "coldest_basis = \"record\"\n",
               "coldest_basis = \"record\"\nflat_factor = 1.2\n"),
        {Complaint::no_rows, {"learn", "s.csv"}, {{"s.csv", "V,A\n"}}},
        {Complaint::time, {"explain", "two.toml", "log.csv"}, {{"log.csv", log + "yesterday,41,5\n"}}},
        {Complaint::wiring, {"check", "setup.toml"}, {}},
        {Complaint::no_answer, {"explain", "two.toml", "log.csv"}, {{"log.csv", log}}},
        {Complaint::option, {"check", "two.toml", "--no-such-option"}, {}},
        {Complaint::in_the_way, {"new", "two.toml"}, {}},
        {Complaint::left_out, {"check", "x.toml"}, {{"x.toml", many_wrong_keys()}}},
    };
}

CommandResult run_with(const Trial& trial, bool json) {
    Files files = usual_files();
    for (const auto& [name, text] : trial.files) files[name] = text;
    std::vector<std::string> arguments = trial.arguments;
    if (json) arguments.emplace_back("--json");
    return run(arguments, world_of(files));
}

bool has_code(const Json& document, Complaint kind) {
    for (const Json& c : document.at("complaints")) {
        if (c.at("code") == std::string(name_in(complaint_codes, kind))) return true;
    }
    return false;
}

/// What the error stream says of a document's complaints.
std::string lines_of(const Json& document) {
    std::string all;
    for (const Json& c : document.at("complaints")) {
        all += c.at("file").get<std::string>();
        if (!c.at("line").is_null()) {
            const int column = c.at("column").is_null() ? 0 : c.at("column").get<int>();
            all += ":" + std::to_string(c.at("line").get<int>()) + ":" + std::to_string(column);
        }
        all += ": " + c.at("message").get<std::string>() + "\n";
    }
    return all;
}

}  // namespace

TEST_CASE("the wiring that a message suggests is one that this set-up takes") {
    // An input of another name, with a blank in it; two kinds of panels, of which there may be one alone.
    for (const std::string name : {"PV1", "PV", "Roof, left"}) {
        for (const bool two_kinds : {false, true}) {
            for (const std::string count : {"1", "4"}) {
                std::string text = setup_toml;
                const auto put = [&](const std::string& from, const std::string& to) {
                    const std::size_t at = text.find(from);
                    REQUIRE(at != std::string::npos);
                    text.replace(at, from.size(), to);
                };
                put("name = \"PV1\"", "name = \"" + name + "\"");
                put("count = 4", "count = " + count);
                if (two_kinds) put("[controller]", "[[panel]]\nid = \"other\"\nfile = \"meadow.toml\"\ncount = 2\n\n[controller]");
                Files files = usual_files();
                files["x.toml"] = text;
                const std::string bare = run({"check", "x.toml"}, world_of(files)).err;
                CAPTURE(text, bare);
                const auto between = [&](const std::string& from, const std::string& to) {
                    const std::size_t begin = bare.find(from);
                    REQUIRE(begin != std::string::npos);
                    const std::size_t end = bare.find(to, begin + from.size());
                    REQUIRE(end != std::string::npos);
                    return bare.substr(begin + from.size(), end - begin - from.size());
                };
                const CommandResult by_option = run({"check", "x.toml", "--wiring", between("--wiring \"", "\", or")}, world_of(files));
                CHECK(by_option.err.empty());
                files["x.toml"] = text + "\n[wiring]\n" + between("such as [wiring] ", ", or say") + "\n";
                const CommandResult by_file = run({"check", "x.toml"}, world_of(files));
                CHECK(by_file.err.empty());
                CHECK(by_file.exit_code != Exit::bad_input);
                CHECK(by_file.exit_code == by_option.exit_code);
                files["x.toml"] = text;
                CHECK_THAT(run({"compare", "x.toml", "two.toml", "--as-wired"}, world_of(files)).err,
                           Catch::Matchers::Contains("[wiring] " + between("such as [wiring] ", ", or say")));
            }
        }
    }
}

TEST_CASE("every kind of complaint can be met, and comes as JSON where that is asked for") {
    std::set<Complaint> met;
    for (const Trial& trial : trials()) {
        CAPTURE(name_in(complaint_codes, trial.kind), trial.arguments);
        const CommandResult text = run_with(trial, false);
        // `new` writes a set-up and knows no --json.
        const bool has_json = trial.arguments.front() != "new";
        const CommandResult r = run_with(trial, has_json);
        CHECK(r.exit_code == Exit::bad_input);
        CHECK(r.exit_code == text.exit_code);
        CHECK(r.err == text.err);
        CHECK(text.out.empty());
        if (has_json) {
            const Json document = Json::parse(r.out);
            CHECK(document.at("command") == "refused");
            CHECK(document.at("asked") == trial.arguments.front());
            CHECK(document.at("exit_code") == r.exit_code);
            CHECK(has_code(document, trial.kind));
            CHECK(lines_of(document) == r.err);
        } else {
            REQUIRE_FALSE(r.complaints.empty());
            CHECK(r.complaints.front().kind == trial.kind);
        }
        met.insert(trial.kind);
    }
    World world = world_of(usual_files());
    world.read_file = [](const std::string&) -> Result<std::string, std::string> { throw std::runtime_error("a bug"); };
    const CommandResult bug = run({"check", "two.toml", "--json"}, world);
    CHECK(bug.exit_code == Exit::bug);
    CHECK(has_code(Json::parse(bug.out), Complaint::internal));
    met.insert(Complaint::internal);
    for (const auto& row : complaint_codes) {
        INFO(row.text);
        CHECK(met.count(row.value) == 1);
    }
}

TEST_CASE("every command refuses in JSON") {
    for (const char* command : {"check", "arrange", "curve", "parts", "steps", "expect", "harvest", "charge", "panel",
                                "learn", "climate", "match"}) {
        INFO(command);
        const CommandResult r = run({command, "none.toml", "--json"}, world_of(usual_files()));
        CHECK(r.exit_code == Exit::bad_input);
        CHECK(has_code(Json::parse(r.out), Complaint::unreadable));
    }
    for (const std::vector<std::string>& more :
         {std::vector<std::string>{"compare", "none.toml", "two.toml", "--json"},
          {"explain", "two.toml", "none.csv", "--json"},
          {"match", "none.toml", "--lines"},
          {"harvest", "two.toml", "--weather", "none.csv", "--json"},
          {"match", "meadow.toml", "two.toml", "--prices", "none.csv", "--json"}}) {
        CAPTURE(more);
        const CommandResult r = run(more, world_of(usual_files()));
        CHECK(r.exit_code == Exit::bad_input);
        CHECK(has_code(Json::parse(r.out), Complaint::unreadable));
    }
}

TEST_CASE("a command line that cannot be read refuses in JSON too") {
    for (const std::vector<std::string>& typed : {std::vector<std::string>{"check", "--json"},
                                                  {"chekc", "two.toml", "--json"},
                                                  {"--json", "check", "two.toml"},
                                                  {"compare", "two.toml", "--json"},
                                                  {"check", "two.toml", "--json", "--colour", "mauve"},
                                                  {"curve", "two.toml", "--json", "--csv"}}) {
        CAPTURE(typed);
        const CommandResult r = run(typed, world_of(usual_files()));
        CHECK(r.exit_code == Exit::bad_input);
        const Json document = Json::parse(r.out);
        CHECK(has_code(document, Complaint::option));
        CHECK(document.at("asked").is_null() == (typed.front() == "chekc" || typed.front() == "--json"));
        CHECK(lines_of(document) == r.err);
    }
}

TEST_CASE("line and column of a complaint in JSON are those of the error stream") {
    const Files files{{"x.toml", changed("\"60 V\"", "\"60 A\"")}};
    const CommandResult r = run_with({Complaint::unit, {"check", "x.toml"}, {files}}, true);
    const Json complaint = Json::parse(r.out).at("complaints").at(0);
    CHECK(complaint.at("file") == "x.toml");
    CHECK(complaint.at("line") == 14);
    CHECK(complaint.at("column") == 15);
}

TEST_CASE("a file that must not be written is refused in JSON where that was asked for") {
    const CommandResult answer = run({"check", "two.toml", "--json", "--page", "two.toml"}, world_of(usual_files()));
    const CommandResult r = refused_output(answer, "two.toml", "is a file that this command reads");
    CHECK(r.exit_code == Exit::bad_input);
    CHECK(r.files.empty());
    CHECK(r.err == "two.toml: is a file that this command reads\n");
    CHECK(has_code(Json::parse(r.out), Complaint::in_the_way));
    const CommandResult text = run({"check", "two.toml", "--page", "two.toml"}, world_of(usual_files()));
    CHECK(refused_output(text, "two.toml", "is read").out.empty());
}

TEST_CASE("the page about complaints and the schema have every code, and no other") {
    const std::string page = support::text_of(std::filesystem::path(support::source_dir()) / "docs/complaints.md");
    for (const auto& row : complaint_codes) {
        INFO(row.text);
        const std::string begins = "| `" + std::string(row.text) + "` | ";
        const std::size_t at = page.find(begins);
        REQUIRE(at != std::string::npos);
        const std::string line = page.substr(at, page.find('\n', at) - at);
        CHECK(line.find("| " + std::string(name_in(complaint_advice, row.value)) + " |") != std::string::npos);
    }
    std::size_t count = 0;
    for (std::size_t at = page.find("\n| `"); at != std::string::npos; at = page.find("\n| `", at + 1)) ++count;
    CHECK(count == complaint_codes.size());
    const Json schema =
        Json::parse(support::text_of(std::filesystem::path(support::source_dir()) / "docs/report.schema.json"));
    Json codes = Json::array();
    for (const auto& row : complaint_codes) codes.push_back(std::string(row.text));
    CHECK(schema.at("$defs").at("complaint").at("properties").at("code").at("enum") == codes);
}

}  // namespace plait::cli
