// A host program may have chosen a language that writes 1,5 and 1.000: the library's answers are the same to the byte.
#include <catch2/catch.hpp>

#include <clocale>
#include <cstdio>
#include <locale>
#include <sstream>
#include <string>
#include <vector>

#include "memory_world.hpp"

namespace plait::cli {
namespace {

class CommaAndPoint : public std::numpunct<char> {
protected:
    char do_decimal_point() const override { return ','; }
    char do_thousands_sep() const override { return '.'; }
    std::string do_grouping() const override { return "\3"; }
};

/// The locales of this program, put back at the end.
class LocalesKept {
public:
    LocalesKept() : c_(std::setlocale(LC_ALL, nullptr)) {}
    ~LocalesKept() {
        std::locale::global(cpp_);
        std::setlocale(LC_ALL, c_.c_str());
    }
    LocalesKept(const LocalesKept&) = delete;
    LocalesKept& operator=(const LocalesKept&) = delete;

private:
    std::locale cpp_;
    std::string c_;
};

const std::vector<std::vector<std::string>> commands{
    {"check", "docs/demo/allotment.toml", "--full"},
    {"check", "docs/demo/van.toml", "--json"},
    {"check", "docs/demo/van.toml", "--page", "a.html", "--svg", "a.svg"},
    {"arrange", "docs/demo/van.toml", "--all"},
    {"curve", "docs/demo/shaded.toml", "--csv"},
    {"curve", "docs/demo/van.toml", "--netlist"},
    {"curve", "docs/demo/van.toml", "--sun", "812.5", "--cell", "47.5 °C"},
    {"expect", "docs/demo/van.toml", "--air", "31.5 °C", "--sun", "820.5", "--read", "string 1 voc 43.5 V"},
    {"panel", "panels/rigid-200w-perc-half-cut.toml"},
    {"parts", "docs/demo/barn.toml", "--csv"},
    {"steps", "docs/demo/barn.toml"},
    {"compare", "docs/demo/allotment.toml", "docs/demo/allotment-one-input.toml", "--csv"},
    {"explain", "docs/demo/van.toml", "docs/demo/van-log.csv", "--wiring", "1s4p", "--csv"},
    {"learn", "docs/demo/workshop-sweep.csv", "--against", "docs/demo/workshop.toml", "--json"},
    {"learn", "docs/demo/workshop-sweep.csv", "--out", "learned.toml", "--accuracy", "0.5 %"},
    {"charge", "docs/demo/hut.toml", "--from", "20.5 %", "--json"},
    {"harvest", "docs/demo/allotment.toml", "--day", "12-21", "--csv"},
    {"match", "docs/demo/inputs/small-station.toml", "--json"},
    {"check", "panels/folding-60w-mono.toml"},
    {"arrange", "docs/demo/van.toml", "--seconds", "0,5"},
    {"arrange", "docs/demo/van.toml", "--seconds", "0.5"},
};

/// All that a command gives.
std::string all_of(const std::vector<std::string>& arguments) {
    const CommandResult r = run(arguments, source_world());
    std::string all = std::to_string(r.exit_code) + "\n" + r.out + r.err;
    for (const CommandResult::File& f : r.files) all += f.path + "\n" + f.text;
    return all;
}

void check_all_alike(const std::vector<std::string>& before) {
    for (std::size_t i = 0; i < commands.size(); ++i) {
        CAPTURE(commands[i]);
        CHECK(all_of(commands[i]) == before[i]);
    }
}

std::vector<std::string> answers() {
    std::vector<std::string> all;
    for (const auto& command : commands) all.push_back(all_of(command));
    return all;
}

}  // namespace

TEST_CASE("std::locale::global with decimal commas changes no byte") {
    const LocalesKept keep;
    const std::vector<std::string> before = answers();
    std::locale::global(std::locale(std::locale::classic(), new CommaAndPoint));
    std::ostringstream proof;
    proof << 1234.5;
    REQUIRE(proof.str() == "1.234,5");
    check_all_alike(before);
}

// Run by locale.sh, which makes the locale; the C library reads LOCPATH for it.
TEST_CASE("std::setlocale with decimal commas changes no byte", "[.locale]") {
    const LocalesKept keep;
    const std::vector<std::string> before = answers();
    REQUIRE(std::setlocale(LC_ALL, "de_DE.UTF-8") != nullptr);
    char proof[16];
    std::snprintf(proof, sizeof proof, "%.1f", 0.5);
    REQUIRE(std::string(proof) == "0,5");
    check_all_alike(before);
    std::locale::global(std::locale("de_DE.UTF-8"));
    check_all_alike(before);
}

}  // namespace plait::cli
