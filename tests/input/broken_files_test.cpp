// Every file in tests/input/broken is wrong in its own way. Its last lines say what must be complained of and where:
//   # read: panel | controller | set-up
//   # expect: line:column: part of the message
// Each line must be found, and nothing else may be complained of.
#include "reading.hpp"

#include <filesystem>

namespace plait::input::test {
namespace {

Diagnostics complaints_of(const std::string& text, const std::string& path, const std::string& kind) {
    if (kind == "panel") {
        auto r = read_panel(text, path);
        return r ? Diagnostics{} : r.error();
    }
    if (kind == "controller") {
        auto r = read_controller(text, path);
        return r ? Diagnostics{} : r.error();
    }
    REQUIRE(kind == "set-up");
    auto r = read_setup(text, path, from_disk);
    return r ? Diagnostics{} : r.error();
}

bool matches(const Diagnostic& d, const std::string& path, const std::string& expected) {
    const std::string place = std::to_string(d.line) + ":" + std::to_string(d.column) + ": ";
    return d.file == path && expected.compare(0, place.size(), place) == 0 &&
           has(d.message, expected.substr(place.size()));
}

TEST_CASE("every broken file is refused with the complaints it names, at their places, and no other") {
    std::vector<std::string> paths;
    for (const auto& entry : std::filesystem::directory_iterator(source_dir + "/tests/input/broken")) {
        if (entry.path().extension() == ".toml") paths.push_back(entry.path().string());
    }
    REQUIRE(paths.size() >= 60);
    std::sort(paths.begin(), paths.end());
    for (const std::string& path : paths) {
        const auto text = from_disk(path);
        REQUIRE(text);
        const auto kinds = tagged_lines(*text, "read");
        REQUIRE(kinds.size() == 1);
        const auto expected = tagged_lines(*text, "expect");
        Diagnostics left = complaints_of(*text, path, kinds.front());
        INFO(path << "\n" << listed(left));
        CHECK_FALSE(expected.empty());
        CHECK(left.size() == expected.size());
        for (const std::string& line : expected) {
            INFO("expected " << line);
            const auto found =
                std::find_if(left.begin(), left.end(), [&](const Diagnostic& d) { return matches(d, path, line); });
            CHECK(found != left.end());
            if (found != left.end()) left.erase(found);
        }
    }
}

TEST_CASE("complaints are sentences on one line that say what to do") {
    for (const auto& entry : std::filesystem::directory_iterator(source_dir + "/tests/input/broken")) {
        const auto text = from_disk(entry.path().string());
        REQUIRE(text);
        const auto kinds = tagged_lines(*text, "read");
        if (kinds.size() != 1) continue;
        for (const Diagnostic& d : complaints_of(*text, "x.toml", kinds.front())) {
            INFO(d.message);
            CHECK((d.message.back() == '.' || d.message.back() == '?'));
            CHECK(d.message.size() > 30);
            CHECK(d.message.size() < 500);
            const auto control = [](char c) { return static_cast<unsigned char>(c) < 0x20U || c == '\x7F'; };
            CHECK(std::none_of(d.message.begin(), d.message.end(), control));
        }
    }
}

}  // namespace
}  // namespace plait::input::test
