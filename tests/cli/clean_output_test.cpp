// Whatever is in arguments, file names and files: what comes out is clean text, and a file that is none of ours is not
// read out.
#include <plait/input/clean_text.hpp>

#include <catch2/catch.hpp>

#include <nlohmann/json.hpp>

#include <array>
#include <random>

#include "memory_world.hpp"

namespace plait::cli {
namespace {

/// A judge of its own: strict UTF-8 by nlohmann-json, and none of the code points that move, hide or reorder text (Unicode
/// 15: categories Cc, Zl, Zp, and the Bidi_Control and zero-width characters).
std::string fault_of(const std::string& text) {
    try {
        (void)nlohmann::json(text).dump();
    } catch (const nlohmann::json::exception& e) {
        return e.what();
    }
    static const std::array<const char*, 13> forbidden{"\u061C", "\u200B", "\u200E", "\u200F", "\u2028", "\u2029", "\u202A",
                                                       "\u202B", "\u202D", "\u202E", "\u2066", "\uFEFF", "\u0085"};
    for (const char* one : forbidden) {
        if (text.find(one) != std::string::npos) return "a character that hides or reorders text";
    }
    for (const char c : text) {
        if ((static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\t') || c == '\x7F') return "a control character";
    }
    return "";
}

void check_clean(const std::vector<std::string>& arguments, const Files& files) {
    const CommandResult r = run(arguments, world_of(files));
    for (const std::string& a : arguments) UNSCOPED_INFO(a);
    CHECK(r.exit_code != Exit::bug);
    CHECK(fault_of(r.out).empty());
    CHECK(fault_of(r.err).empty());
    for (const CommandResult::File& f : r.files) CHECK(fault_of(f.text).empty());
    CHECK((!r.out.empty() || !r.err.empty()));
}

const std::vector<std::string> nasty{"\x1B[31mred", "\x1B]0;title\x07", "a\u202Eb", "zero\u200Bwidth", "\xFF\xFE", "cut\xE2\x82", "\xED\xA0\x80",
                                     "bell\x07", "line\u2028end", "tab\there", "ret\rurn", "\u0085", std::string("nul\0l", 5)};

std::string with(std::string text, const std::string& part, const std::string& by) {
    const std::size_t at = text.find(part);
    REQUIRE(at != std::string::npos);
    return text.replace(at, part.size(), by);
}

}  // namespace

TEST_CASE("arguments and file names come out clean from every command") {
    for (const std::string& bad : nasty) {
        Files files = usual_files();
        files[bad] = setup_toml;
        for (const char* command : {"check", "arrange", "curve", "compare", "panel", "parts", "steps", "expect", "learn", "explain", "harvest", "charge",
                                    "climate", "new"}) {
            check_clean({command, bad}, files);
            check_clean({command, bad, bad}, files);
            check_clean({command, "no-such-" + bad}, files);
        }
        check_clean({bad}, files);
        check_clean({"check", "two.toml", "--wiring", bad}, files);
        check_clean({"check", "two.toml", bad}, files);
        check_clean({"check", "two.toml", "--" + bad}, files);
        check_clean({"check", "two.toml", "--page", bad}, files);
        check_clean({"arrange", "setup.toml", "--why", bad}, files);
        check_clean({"curve", "two.toml", "--irradiance", bad}, files);
        check_clean({"expect", "two.toml", "--read", bad}, files);
        check_clean({"expect", "two.toml", "--read", "PV1.array.voltage=" + bad}, files);
        check_clean({"harvest", "two.toml", "--day", bad}, files);
        check_clean({"charge", "two.toml", "--from", bad}, files);
        check_clean({"check", bad, "--json"}, files);
    }
}

TEST_CASE("texts of files come out clean") {
    for (const std::string& bad : nasty) {
        Files files = usual_files();
        files["title.toml"] = with(with_wiring("2s1p"), "Round numbers", bad);
        files["name.toml"] = with(with_wiring("2s1p"), "\"Box\"", "\"" + bad + "\"");
        files["key.toml"] = bad + " = 1\n" + setup_toml;
        files["meadow.toml"] = meadow_toml;
        files["panel.toml"] = with(meadow_toml, "Meadow 100", bad);
        files["sweep.csv"] = "volts,amps," + bad + "\n20,1," + bad + "\n22,1.5,x\n24,2,x\n26,2,x\n";
        files["first.csv"] = bad + "\n20,1\n22,1.5\n24,2\n";
        files["log.csv"] = "time,watts,irradiance," + bad + "\n2026-06-01 10:00,150,800," + bad + "\n2026-06-01 10:05,150,800,x\n" + bad;
        for (const char* set_up : {"title.toml", "name.toml", "key.toml"}) {
            for (const char* command : {"check", "arrange", "parts", "steps", "expect", "curve"}) {
                check_clean({command, set_up}, files);
                check_clean({command, set_up, "--json"}, files);
            }
            check_clean({"check", set_up, "--page", "x.html"}, files);
        }
        check_clean({"panel", "panel.toml"}, files);
        for (const char* table : {"sweep.csv", "first.csv"}) {
            check_clean({"learn", table}, files);
            check_clean({"learn", table, "--out", "x.toml"}, files);
            check_clean({"learn", table, "--csv"}, files);
        }
        check_clean({"explain", "two.toml", "log.csv"}, files);
        check_clean({"explain", "two.toml", "log.csv", "--csv"}, files);
    }
}

TEST_CASE("garbled files come out clean") {
    std::mt19937 dice(20261128);
    const Files whole = usual_files();
    const std::string sweep = "volts,amps\n14,0\n15,2\n20,4\n25,5\n30,5\n40,5\n50,4\n55,0\n";
    for (int round = 0; round < 300; ++round) {
        Files files = whole;
        files["sweep.csv"] = sweep;
        for (auto& [name, text] : files) {
            for (int k = 0; k < 3; ++k) text[dice() % text.size()] = static_cast<char>(dice() % 256);
        }
        check_clean({"check", "two.toml"}, files);
        check_clean({"panel", "meadow.toml"}, files);
        check_clean({"learn", "sweep.csv"}, files);
    }
}

TEST_CASE("only a report that the program coloured keeps colours") {
    Files files = usual_files();
    files["always"] = "\x1B[31m = 1\n" + setup_toml;
    const CommandResult r = run({"check", "always"}, world_of(files));
    CHECK(fault_of(r.out + r.err).empty());
    files["\x1B[31mred.toml"] = with_wiring("2s1p");
    const CommandResult data = run({"check", "\x1B[31mred.toml", "--json", "--colour", "always"}, world_of(files));
    CHECK(fault_of(data.out).empty());
}

TEST_CASE("colour is the program's own or none") {
    CHECK(input::clean_text("\x1B[31mred\x1B[0m", {true, false}) == "\x1B[31mred\x1B[0m");
    CHECK(input::clean_text("\x1B[31mred") == "\\u001B[31mred");
    CHECK(input::clean_text("\x1B[2J\x1B[1;", {true, false}) == "\\u001B[2J\\u001B[1;");
    CHECK(input::clean_text("Ω \u202E°C\xFF−\n") == "Ω \\u202E°C\uFFFD−\n");
}

TEST_CASE("a file that a set-up names and that is no panel or controller is not read out") {
    const std::string secret = "hunter2-is-the-word";
    for (const std::string& content : {"token = \"" + secret + "\"\n", secret + ":x:0:0\n", "[login]\n" + secret + " = 1\n", "a = [\n" + secret,
                                       secret + "\nvoltage = 3\n", "{\"" + secret + "\": 1}\n", "# voc\n" + secret + "\n"}) {
        Files files = usual_files();
        files["meadow.toml"] = content;
        const CommandResult r = run({"check", "two.toml"}, world_of(files));
        INFO(content);
        CHECK(r.exit_code == Exit::bad_input);
        CHECK(r.err.find(secret) == std::string::npos);
        CHECK(r.err.find("meadow.toml") != std::string::npos);
        files = usual_files();
        files["box.toml"] = content;
        const std::size_t from = setup_toml.find("[controller]");
        const std::size_t to = setup_toml.find("[site]");
        files["named.toml"] = setup_toml.substr(0, from) + "[controller]\nfile = \"box.toml\"\n\n" + setup_toml.substr(to);
        const CommandResult c = run({"check", "named.toml", "--wiring", "2s1p"}, world_of(files));
        CHECK(c.exit_code == Exit::bad_input);
        CHECK(c.err.find(secret) == std::string::npos);
    }
}

}  // namespace plait::cli
