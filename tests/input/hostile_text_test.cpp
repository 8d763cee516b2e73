// Texts nobody means: huge, deep, garbled. They must be refused with a place and a reason, and never stop the program.
#include <plait/input/read_wiring.hpp>

#include "reading.hpp"

#include <filesystem>
#include <random>

namespace plait::input::test {
namespace {

std::string only_complaint(const std::string& text) {
    const auto setup = read_setup(text, "x.toml", no_files);
    REQUIRE_FALSE(setup);
    REQUIRE(setup.error().size() == 1);
    return listed(setup.error());
}

std::string repeated(const std::string& part, int times) {
    std::string text;
    for (int i = 0; i < times; ++i) text += part;
    return text;
}

TEST_CASE("a file of more than a mebibyte is not read") {
    CHECK(has(only_complaint("# " + std::string(1 << 20, 'x')), "x.toml:0:0: the file has 1048578 bytes"));
    const std::string just_fits = "# " + std::string((1 << 20) - 2, 'x');
    CHECK(has(complaints_about_setup(just_fits), "'panel' is missing"));
}

TEST_CASE("bytes that are no text are named with their place") {
    CHECK(has(only_complaint(std::string("title = \"a\0b\"\n", 14)), "x.toml:1:11: a NUL byte"));
    CHECK(has(only_complaint(std::string("\0", 1)), "x.toml:1:1: a NUL byte"));
    CHECK(has(only_complaint("\n# °C \xFF\n"), "x.toml:2:6: byte 0xFF is not UTF-8"));
    CHECK(has(only_complaint("title = \"\xC3\"\n"), "x.toml:1:10: byte 0xC3"));
    CHECK(has(only_complaint("# \xC0\xAF\n"), "byte 0xC0"));          // overlong
    CHECK(has(only_complaint("# \xED\xA0\x80\n"), "byte 0xED"));      // a surrogate
    CHECK(has(only_complaint("# \xF4\x90\x80\x80\n"), "byte 0xF4"));  // above U+10FFFF
    CHECK(has(only_complaint("# \xE2\x82"), "byte 0xE2"));            // cut short
    CHECK(has(only_complaint("\xFF\xFE"
                             "t\0i\0"),
              "UTF-16"));
}

TEST_CASE("a byte order mark and line ends of every system are taken") {
    const auto unix_text = from_disk(source_dir + "/tests/input/good/panel_plain.toml");
    REQUIRE(unix_text);
    std::string windows_text = "\xEF\xBB\xBF";
    for (const char c : *unix_text) windows_text += c == '\n' ? "\r\n" : std::string(1, c);
    CHECK(panel_of(windows_text).panel.voc_v == 21.6);
    // Columns are counted without the mark.
    CHECK(has(complaints_about_panel("\xEF\xBB\xBFvoc = true\r\n"), "panel.toml:1:7: 'voc' is true"));
}

TEST_CASE("deep nesting stops before the parser would") {
    for (const int depth : {33, 257, 5000, 200000}) {
        INFO(depth);
        CHECK(has(only_complaint("a = " + repeated("[", depth)), "nested more than 32 deep"));
        CHECK(has(only_complaint("a = " + repeated("{a=", depth)), "nested more than 32 deep"));
        CHECK(has(only_complaint("[a" + repeated(".a", depth) + "]\n"), "more than 32 parts"));
        CHECK(has(only_complaint("a" + repeated(".a", depth) + " = 1\n"), "more than 32 parts"));
        CHECK(has(only_complaint("a = {a" + repeated(".a", depth) + " = 1}\n"), "more than 32 parts"));
        CHECK(has(only_complaint("[\"a\"" + repeated(". 'a'", depth) + "]\n"), "more than 32 parts"));
    }
    // As deep as is allowed, in every way at once.
    const std::string key = "a" + repeated(".a", 31);
    const std::string deep = "[" + key + "]\n" + key + " = " + repeated("[", 32) + repeated("]", 32) + "\n";
    CHECK(has(complaints_about_setup(deep), "'a' is not a key of a set-up"));
}

TEST_CASE("malformed keys are refused cleanly") {
    for (const char* text : {"[é]",
                             "[.a]",
                             "[&",
                             "[",
                             "[[",
                             "[]",
                             "[[]]",
                             "[a.]",
                             "[a",
                             "[[a]",
                             "[a]]",
                             "[ ",
                             "[\"",
                             "[a b]",
                             "a.",
                             ".",
                             "a. = 1",
                             "a..b = 1",
                             "= 1",
                             "\"",
                             "'",
                             "\"\"\"",
                             "'''",
                             "a = \"\\",
                             "a = '''''",
                             "{",
                             "}",
                             "]",
                             "a = {,}",
                             "a = [,]",
                             "a = {é=1}",
                             "a = {.a=1}",
                             "a = {&=1}",
                             "a.& = 1",
                             "\xEF\xBB\xBF[",
                             "é=1",
                             "voc = 1 °",
                             "a = 1__0",
                             "a = 0x",
                             "a = 1e",
                             "a = +",
                             "a = 12:00",
                             "a = 2024-13-01"}) {
        INFO(text);
        const auto setup = read_setup(text, "x.toml", no_files);
        REQUIRE_FALSE(setup);
        CHECK_FALSE(setup.error().empty());
        CHECK(setup.error().front().line >= 1);
    }
}

TEST_CASE("nothing unprintable reaches a message") {
    const std::string twice = only_complaint("\"a\\u001b[31m\" = 1\n\"a\\u001b[31m\" = 2\n");
    CHECK(has(twice, "may stand only once"));
    CHECK_FALSE(has(twice, "\x1b"));
    CHECK_FALSE(has(only_complaint("voc = 2\t1\n"), "\t"));
    CHECK_FALSE(has(complaints_about_setup("\"a\\u001b\" = 1\n[\"b\\u0007\"]\n"), "\x1b"));
}

TEST_CASE("strings hide what looks like structure") {
    // Brackets, dots and letters in strings and comments are none of the guard's business.
    const std::string text = "title = \"" + repeated("[", 60) + "°\"  # " + repeated("{.", 100) + "é\n";
    const std::string said = complaints_about_setup(text);
    CHECK(has(said, "'panel' is missing"));
    CHECK_FALSE(has(said, "nested"));
    CHECK(has(complaints_about_setup("title = \"\"\"\nx\"\"\"\n"), "'panel' is missing"));
    CHECK(has(complaints_about_setup("title = \"a\\\"[[[\\\\\"\n"), "'panel' is missing"));
}

TEST_CASE("endless lists are counted, not read") {
    CHECK(has(complaints_about_setup(repeated("[[panel]]\n", 60000)), "60000 kinds of panel are listed; 1 to 50"));
    CHECK(has(complaints_about_setup("[[panel]]\ncount = 1\npmax = 9\nvoc = 20\n[controller]\ntype = \"wide-range\"\n" +
                                     repeated("[[controller.input]]\n", 20000)),
              "20000 inputs are listed"));
    std::string keys;
    for (int i = 0; i < 5000; ++i) keys += "k" + std::to_string(i) + " = 1\n";
    const std::string said = complaints_about_setup(keys);
    CHECK(std::count(said.begin(), said.end(), '\n') == 201);
    CHECK(has(said, "more complaints are left out"));
}

// Random damage to sound files, from a fixed seed. Nothing may crash, a refusal has a reason, and what is read is
// sound.
TEST_CASE("damaged files are read or refused") {
    std::vector<std::string> sound;
    for (const char* folder : {"/tests/input/good", "/panels", "/docs/demo", "/tests/input/broken"}) {
        if (!std::filesystem::exists(source_dir + folder)) continue;
        std::vector<std::string> paths;
        for (const auto& entry : std::filesystem::directory_iterator(source_dir + folder))
            paths.push_back(entry.path().string());
        std::sort(paths.begin(), paths.end());
        for (const std::string& path : paths) {
            const auto text = from_disk(path);
            if (text) sound.push_back(*text);
        }
    }
    REQUIRE(sound.size() > 60);
    const std::vector<std::string> pieces{"[",   "]",     "{",      "}",     "\"",       "'",
                                          "=",   ".",     ",",      "\n",    "#",        "-",
                                          "e",   "9",     "\\",     "°",     "\xFF",     std::string(1, '\0'),
                                          "nan", "inf",   "\"\"\"", "[[",    "]]",       "%/K",
                                          " V",  "1e999", "true",   "panel", "voc = 5\n"};
    std::mt19937 random(20240501);  // the engine's sequence is fixed by the standard
    const auto below = [&](std::size_t n) { return static_cast<std::size_t>(random() % n); };
    const auto check = [](bool read, const Diagnostics* complaints) {
        if (read) return;
        REQUIRE_FALSE(complaints->empty());
        for (const Diagnostic& d : *complaints) REQUIRE_FALSE(d.message.empty());
    };
    for (int round = 0; round < 4000; ++round) {
        std::string text = sound[below(sound.size())];
        const std::size_t slips = 1 + below(4);
        for (std::size_t s = 0; s < slips && !text.empty(); ++s) {
            const std::size_t at = below(text.size());
            switch (below(4)) {
                case 0:
                    text[at] = static_cast<char>(below(256));
                    break;
                case 1:
                    text.erase(at, 1 + below(8));
                    break;
                case 2:
                    text.insert(at, pieces[below(pieces.size())]);
                    break;
                default:
                    text.replace(at, 1, pieces[below(pieces.size())]);
                    break;
            }
        }
        INFO(text);
        const auto setup = read_setup(text, "x.toml", no_files);
        check(setup.has_value(), setup ? nullptr : &setup.error());
        const auto panel = read_panel(text, "x.toml");
        check(panel.has_value(), panel ? nullptr : &panel.error());
        if (panel) {
            REQUIRE(panel->panel.vmp_v < panel->panel.voc_v);
            REQUIRE(panel->panel.cells_in_series > 0);
            REQUIRE(panel->panel.voc_coefficient_per_k < 0.0);
        }
        const auto controller = read_controller(text, "x.toml");
        check(controller.has_value(), controller ? nullptr : &controller.error());
        if (controller) REQUIRE_FALSE(controller->controller.inputs.empty());
    }
}

TEST_CASE("damaged wirings are read or refused") {
    Setup setup;
    setup.kinds.resize(2);
    setup.kinds[0].id = "meadow";
    setup.kinds[1].id = "s";
    setup.controller.inputs.resize(2);
    setup.controller.inputs[0].name = "PV1";
    setup.controller.inputs[1].name = "PV2";
    const std::vector<std::string> pieces{"3", "s",      "p",      "2",   "+",   "|", ";", "=",
                                          " ", "meadow", "unused", "PV1", "PV2", "0", "°", "99999999999"};
    std::mt19937 random(7);
    int read = 0;
    for (int round = 0; round < 20000; ++round) {
        std::string text;
        const std::size_t length = random() % 9;
        for (std::size_t i = 0; i < length; ++i) text += pieces[random() % pieces.size()];
        INFO(text);
        const auto plan = read_wiring(text, "--wiring", setup);
        if (!plan) {
            REQUIRE_FALSE(plan.error().empty());
            continue;
        }
        ++read;
        REQUIRE(plan->size() == 2);
        for (const InputWiring& wiring : *plan) {
            REQUIRE(wiring.panel_count() <= 500);
            for (const SeriesString& s : wiring.strings) REQUIRE_FALSE(s.panels.empty());
        }
    }
    CHECK(read > 100);
}

}  // namespace
}  // namespace plait::input::test
