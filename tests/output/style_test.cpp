#include "data/csv_field.hpp"
#include "render/display_width.hpp"
#include "render/style.hpp"
#include "render/table_layout.hpp"
#include "render/tone.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace plait;
using namespace plait::output;

TEST_CASE("numbers: few digits, a true minus sign, and none before nothing") {
    CHECK(volts(27.444) == "27.44 V");
    CHECK(volts(-14.7) == "−14.70 V");
    CHECK(amps(-0.004) == "0.00 A");
    CHECK(watts(-1e-14) == "0.0 W");
    CHECK(watts(-0.06) == "−0.1 W");
    CHECK(watts(0.0) == "0.0 W");
    CHECK(degrees(Celsius{-18.0}) == "−18 °C");
    CHECK(degrees(Celsius{17.84}) == "17.8 °C");
    CHECK(in_unit(3.0, rules::Unit::panel) == "3 panels");
    CHECK(in_unit(-1.0, rules::Unit::panel) == "−1 panel");
    CHECK(in_unit(2.0, rules::Unit::string) == "2 strings");
    CHECK(signed_number(-0.35, 2) == "−0.35");
    CHECK(signed_number(0.35, 2) == "+0.35");
    CHECK(signed_number(-1e-14, 2) == "+0.00");
    CHECK(in_unit(3.0, rules::Unit::ampere) == "3.00 A");
}

TEST_CASE("columns are those a terminal shows, not bytes") {
    CHECK(display_width("°C → Ω") == 6);
    CHECK(display_width("太陽") == 4);  // two columns each, as fmt pads them
    CHECK(display_width("") == 0);
    CHECK(display_width(std::string(5000, 'x')) == 5000);
    CHECK(padded("Ω", 3) == "Ω  ");
    CHECK(padded("太", 3) == "太 ");
    CHECK(padded_left("Ω", 3) == "  Ω");
    CHECK(padded("wide", 2) == "wide");
}

TEST_CASE("breaking keeps every word, and stays within the width") {
    std::string text;
    for (int i = 0; i < 60; ++i) text += (i > 0 ? " " : "") + std::string("wörd") + std::to_string(i);
    for (const std::size_t width : {std::size_t{20}, std::size_t{47}, std::size_t{80}}) {
        std::string back;
        for (const std::string& line : broken(text, width)) {
            CHECK(display_width(line) <= width);
            back += (back.empty() ? "" : " ") + line;
        }
        CHECK(back == text);
    }
    CHECK(broken("", 4).empty());
    const std::string long_word(200, 'x');
    CHECK(broken(long_word, 80) == std::vector<std::string>{long_word});
}

TEST_CASE("a number and its unit stay on one line, wherever the line ends") {
    for (std::size_t width = 12; width < 60; ++width) {
        std::string all;
        for (const std::string& line : broken("about (−12.50 V, 3 %; 1000 W/m² at 25 °C) 5 volts", width)) all += line + "\n";
        CAPTURE(all);
        for (const char* kept : {"−12.50 V,", "3 %;", "1000 W/m²", "25 °C)"}) CHECK(all.find(kept) != std::string::npos);
    }
    // A word that is no unit parts from the number as any other.
    CHECK(broken("xx 5 volts", 4) == std::vector<std::string>{"xx 5", "volts"});
}

TEST_CASE("a table's columns are as wide as their cells, narrowed in words only, and given up where that is not enough") {
    Table table{"", {{"name"}, {"W", true}, {"why"}}, {{{"a", "12.0 W", "a short reason"}}, {{"abc", "1.0 W", "x"}}}};
    const TableLayout wide = laid_out(table, 80);
    CHECK(wide.fits);
    CHECK(wide.widths == std::vector<std::size_t>{4, 6, 14});
    table.rows[0].cells[2] = "a reason that is a good deal longer than any terminal has room for beside the others";
    const TableLayout narrowed = laid_out(table, 60);
    CHECK(narrowed.fits);
    CHECK(narrowed.widths[0] == 4);
    CHECK(narrowed.widths[1] == 6);
    CHECK(narrowed.widths[0] + narrowed.widths[1] + narrowed.widths[2] + 2 * table_gap == 60);
    CHECK_FALSE(laid_out(table, 20).fits);
}

TEST_CASE("colour wraps a text and changes nothing of it") {
    CHECK(coloured("FITS", Tone::good, Colour::off) == "FITS");
    CHECK(coloured("FITS", Tone::good, Colour::on) == "\x1b[32mFITS\x1b[0m");
    CHECK(coloured("no", Tone::exceeds, Colour::on) != coloured("no", Tone::clips, Colour::on));
    CHECK(bold("x", Colour::off) == "x");
    CHECK(bold("x", Colour::on) == "\x1b[1mx\x1b[0m");
}

TEST_CASE("a table's field: quoted by RFC 4180, and never a formula") {
    CHECK(csv_field("barn") == "barn");
    CHECK(csv_field("") == "");
    CHECK(csv_field("a,b") == "\"a,b\"");
    CHECK(csv_field("6\" tilt") == "\"6\"\" tilt\"");
    CHECK(csv_field("two\nlines") == "\"two\nlines\"");
    for (const char* formula : {"=1+1", "+1", "-1", "@sum(a1)"})
        CHECK(csv_field(formula) == std::string("'") + formula);
    CHECK(csv_field("=a,b") == "\"'=a,b\"");
}

TEST_CASE("style: a blank between a number and its unit does not break, any other does") {
    CHECK(units_kept("29.52 V (29.32 V … 29.72 V). At 25 °C, 2 %.") ==
          "29.52\u00A0V (29.32\u00A0V … 29.72\u00A0V). At 25\u00A0°C, 2\u00A0%.");
    CHECK(units_kept("3 strings of 2 panels") == "3 strings of 2 panels");
    CHECK(units_kept("") == "");
    CHECK(units_kept("V 5") == "V 5");
}
