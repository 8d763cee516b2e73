// plait learn, from the command line.
#include "../support/report_text.hpp"
#include "memory_world.hpp"
#include "read_back.hpp"

#include <plait/output/data.hpp>

#include <catch2/catch.hpp>

namespace plait::cli {
namespace {

const std::string sweep_csv =
    "volts,amps\n10,0.01\n13,8.02\n16,7.98\n20,8.01\n24,7.99\n30,10\n40,10.02\n50,9.98\n58,10.01\n64,0\n";

CommandResult learned(const std::vector<std::string>& arguments, Files more = {}) {
    Files files = usual_files();
    files["sweep.csv"] = sweep_csv;
    for (const auto& [name, text] : more) files[name] = text;
    std::vector<std::string> all{"learn", "sweep.csv"};
    all.insert(all.end(), arguments.begin(), arguments.end());
    return run(all, world_of(files));
}

/// Wherever the line was broken.
bool has(const std::string& text, const std::string& part) {
    return support::flat(text).find(part) != std::string::npos;
}

TEST_CASE("a sweep is told in sentences, and nothing is invented beyond it") {
    const CommandResult r = learned({});
    INFO(r.out << r.err);
    CHECK(r.exit_code == 0);
    CHECK(has(r.out, "begins to take power between 10.00 V and 13.00 V"));
    CHECK(has(r.out, "From 13.00 V to 24.00 V it takes 8.00 A at most."));
    CHECK(has(r.out, "it trips between 58.00 V and"));
    CHECK_FALSE(has(r.out, "printed maximum of"));
    CHECK(r.files.empty());
}

TEST_CASE("what --out writes is a controller the other commands take, with the window in it") {
    const CommandResult r = learned({"--out", "new.toml"});
    REQUIRE(r.files.size() == 1);
    CHECK(r.files[0].path == "new.toml");
    CHECK(has(r.files[0].text, "No max_voltage: a bench shows what the input bore once"));
    const Controller c = read_back(r.files[0].text);
    REQUIRE(c.inputs.size() == 1);
    const Input& in = c.inputs[0];
    CHECK_FALSE(in.max_voltage_v);
    CHECK(in.tracking_max_v == 58.0);  // not 64: nothing was taken there
    CHECK(in.tracking_min_v == 13.0);
    CHECK(in.start_voltage_v == 13.0);
    REQUIRE(in.bands.size() == 2);
    CHECK(in.bands[0].limit_a == Approx(8.0));
    CHECK(in.bands[0].to_v == 30.0);
    CHECK(in.bands[1].limit_a == Approx(10.0));
    CHECK_FALSE(in.max_power_w);
    // The other commands: a set-up that names the file.
    std::string setup = setup_toml;
    const std::size_t begin = setup.find("[controller]");
    setup = setup.substr(0, begin) + "[controller]\nfile = \"new.toml\"\n\n" + setup.substr(setup.find("[site]"));
    const Files files{{"s.toml", setup}, {"meadow.toml", meadow_toml}, {"new.toml", r.files[0].text}};
    // Read, and never called within while nobody knows the maximum.
    for (const char* wiring : {"2s1p", "3s1p"}) {
        const CommandResult open = run({"check", "s.toml", "--wiring", wiring}, world_of(files));
        CHECK(open.exit_code != 2);
        CHECK(has(open.out, "nobody knows the input's absolute maximum"));
        CHECK(has(open.out, "Ask the maker"));
        CHECK(open.out.substr(0, open.out.find("  PV")).find("FITS") == std::string::npos);
    }
    // With the maker's figure written into it the file answers: 2 × 27.2 V and 3 × 27.2 V in the cold.
    const std::size_t at = r.files[0].text.find("tracking_min");
    const Files mended{{"s.toml", setup},
                       {"meadow.toml", meadow_toml},
                       {"new.toml", r.files[0].text.substr(0, at) + "max_voltage = \"60 V\"\n" + r.files[0].text.substr(at)}};
    CHECK(run({"check", "s.toml", "--wiring", "2s1p"}, world_of(mended)).exit_code == 0);
    CHECK(run({"check", "s.toml", "--wiring", "3s1p"}, world_of(mended)).exit_code == 1);
}

TEST_CASE("a trip above the printed maximum is no permission") {
    std::string high = sweep_csv;
    high.replace(high.find("64,0"), 4, "66,10\n70,0");
    const CommandResult r = learned({"--against", "two.toml", "--out", "new.toml"}, {{"sweep.csv", high}});
    INFO(r.out << r.err);
    CHECK(r.exit_code == 0);
    CHECK(has(r.out, "That is no permission"));
    REQUIRE(r.files.size() == 1);
    const Controller c = read_back(r.files[0].text);
    CHECK(c.inputs[0].max_voltage_v == 60.0);
    CHECK(*c.inputs[0].tracking_max_v <= 60.0);
    CHECK(c.inputs[0].bands.back().to_v <= 60.0);
    CHECK(c.inputs[0].max_short_circuit_a == 30.0);
    CHECK(c.inputs[0].over_current == OverCurrent::only_clips);
}

TEST_CASE("a current the maker forbids to exceed is not raised by a bench") {
    std::string printed = with_wiring("2s1p");
    printed.replace(printed.find("\"20 A\""), 6, "\"9 A\"");
    printed.replace(printed.find("\"clips\""), 7, "\"do-not-exceed\"");
    const CommandResult r = learned({"--against", "p.toml", "--out", "new.toml"}, {{"p.toml", printed}});
    REQUIRE(r.files.size() == 1);
    const Controller c = read_back(r.files[0].text);
    for (const CurrentBand& b : c.inputs[0].bands) CHECK(b.limit_a <= 9.0);
}

TEST_CASE("a file that is there is not written over without --force") {
    const Files there{{"new.toml", "precious"}};
    const CommandResult refused_it = learned({"--out", "new.toml"}, there);
    CHECK(refused_it.exit_code == 2);
    CHECK(has(refused_it.err, "add --force"));
    CHECK(refused_it.files.empty());
    const CommandResult forced = learned({"--out", "new.toml", "--force"}, there);
    REQUIRE(forced.files.size() == 1);
    CHECK(forced.files[0].mark.empty());
    CHECK(learned({"--force"}).exit_code == 2);
}

TEST_CASE("bad sweeps and bad requests are refused with what to do") {
    CHECK(has(learned({}, {{"sweep.csv", "volts,amps\n12,x\n"}}).err, "sweep.csv:2:4: \"x\" is not a current"));
    CHECK(has(learned({}, {{"sweep.csv", "volts,amps\n12,1\n"}}).err, "fewer than four readings"));
    CHECK(learned({"--against", "nowhere.toml"}).exit_code == 2);
    CHECK(has(learned({"--against", "two.toml", "--input", "PV9"}).err, "'PV9' is no input"));
    CHECK(learned({"--input", "PV1"}).exit_code == 2);
    CHECK(learned({"--json", "--csv"}).exit_code == 2);
    CHECK(run({"learn", "none.csv"}, world_of(usual_files())).exit_code == 2);
}

TEST_CASE("readings at the supply's limit are told apart, from a column or from the command line") {
    const CommandResult r = learned({"--supply-limit", "10"});
    CHECK(has(r.out, "it takes at least 10."));
    CHECK(has(r.out, "the supply was the limit"));
    CHECK(has(learned({"--csv", "--supply-limit", "10"}).out, "supply-was-the-limit"));
    const std::string watts =
        "volts,watts,supply limit\n10,0,20\n20,200,20\n25,250,20\n30,300,20\n40,800,20\n50,1000,20\n";
    CHECK(has(learned({}, {{"sweep.csv", watts}}).out, "it takes at least 20.00 A"));
    CHECK(has(learned({"--supply-limit", "10000 mA"}).out, "it takes at least 10."));
    CHECK(has(learned({"--supply-limit", "10 W"}).err, "--supply-limit:1:1: \"10 W\" is a power, but a current is wanted"));
    CHECK(has(learned({"--accuracy", "0.01"}).err, "--accuracy:1:1: \"0.01\" could be 0.01 % or 1 %"));
    CHECK(learned({"--json", "--accuracy", "1"}).out == learned({"--json", "--accuracy", "1 %"}).out);
}

}  // namespace
}  // namespace plait::cli
