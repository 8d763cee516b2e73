// plait new: the file it writes is taken by every command about a set-up, as it is and without its optional lines.
#include "memory_world.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <sstream>

namespace plait::cli {
namespace {

using Catch::Matchers::Contains;
using Json = nlohmann::json;

std::string new_file() {
    const CommandResult r = run({"new", "mine.toml"}, world_of(usual_files()));
    REQUIRE(r.exit_code == 0);
    REQUIRE(r.files.size() == 1);
    REQUIRE(r.files[0].path == "mine.toml");
    return r.files[0].text;
}

CommandResult with_file(std::vector<std::string> words, const std::string& text) {
    Files files = usual_files();
    files["mine.toml"] = text;
    words.insert(words.begin() + 1, "mine.toml");
    return run(words, world_of(files));
}

}  // namespace

TEST_CASE("new: every command about a set-up takes what it writes, and nothing of it is assumed") {
    const std::string text = new_file();
    for (const char* command : {"check", "arrange", "parts", "steps", "curve", "expect"}) {
        const CommandResult r = with_file({command}, text);
        CAPTURE(command, r.err);
        CHECK(r.exit_code == 0);
        CHECK(r.err.empty());
    }
    const Json j = Json::parse(with_file({"check", "--json"}, text).out);
    CHECK(j["verdict"] == "fits");
    CHECK(j["proven"] == true);
    CHECK(j["assumptions"].empty());
    CHECK(j["doubts"].empty());
}

TEST_CASE("new: what the papers do not say may be deleted, a line at a time") {
    std::istringstream lines(new_file());
    std::vector<std::string> all;
    for (std::string line; std::getline(lines, line);) all.push_back(line);
    std::size_t read = 0;
    for (std::size_t out = 0; out < all.size(); ++out) {
        if (all[out].find(" = ") == std::string::npos || all[out][0] == '#') continue;
        std::string text;
        for (std::size_t i = 0; i < all.size(); ++i) text += i == out ? "" : all[i] + "\n";
        const CommandResult r = with_file({"check"}, text);
        CAPTURE(all[out], r.err);
        if (r.exit_code != 2) {
            ++read;
        } else {
            CHECK_THAT(r.err, Contains("mine.toml"));  // a line that must be there says so
        }
    }
    CHECK(read > 30);
}

TEST_CASE("new: a file that is there is left as it is") {
    const CommandResult r = run({"new", "setup.toml"}, world_of(usual_files()));
    CHECK(r.exit_code == 2);
    CHECK(r.files.empty());
    CHECK_THAT(r.err, Contains("left as it is"));
}

}  // namespace plait::cli
