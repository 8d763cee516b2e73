#include "render/style.hpp"
#include "data/csv_field.hpp"

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

TEST_CASE("columns are counted in characters, not in bytes") {
    CHECK(columns("°C → Ω") == 6);
    CHECK(padded("Ω", 3) == "Ω  ");
    CHECK(padded_left("Ω", 3) == "  Ω");
    CHECK(padded("wide", 2) == "wide");
}

TEST_CASE("wrapping breaks at blanks, keeps every word, and stays within 96 columns") {
    std::string text;
    for (int i = 0; i < 60; ++i) text += (i > 0 ? " " : "") + std::string("wörd") + std::to_string(i);
    for (const std::size_t indent : {std::size_t{0}, std::size_t{16}}) {
        const std::string out = wrapped(text, indent);
        std::string back;
        for (std::size_t from = 0; from <= out.size();) {
            const std::size_t end = std::min(out.find('\n', from), out.size());
            const std::string line = out.substr(from, end - from);
            CHECK(columns(line) + (from == 0 ? indent : 0) <= 96);
            if (from > 0) CHECK(line.substr(0, indent) == std::string(indent, ' '));
            back += (from > 0 ? " " : "") + line.substr(from > 0 ? indent : 0);
            from = end + 1;
        }
        CHECK(back == text);
    }
    CHECK(wrapped("", 4).empty());
    const std::string long_word(200, 'x');
    CHECK(wrapped(long_word, 0) == long_word);
}

TEST_CASE("a number and its unit stay on one line, wherever the line ends") {
    for (std::size_t before = 60; before < 100; ++before) {
        const std::string text = std::string(before, 'x') + " (−12.50 V, 3 %; 1000 W/m² at 25 °C) 5 volts";
        const std::string out = wrapped(text, 0);
        CAPTURE(out);
        for (const char* kept : {"−12.50 V,", "3 %;", "1000 W/m²", "25 °C)"})
            CHECK(out.find(kept) != std::string::npos);
    }
    // A word that is no unit parts from the number as any other.
    CHECK(wrapped(std::string(94, 'x') + "5 volts", 0) == std::string(94, 'x') + "5\nvolts");
    CHECK(wrapped("5 V", 0) == "5 V");
}

TEST_CASE("colour wraps a text and changes nothing of it") {
    CHECK(coloured("FITS", rules::Outcome::within, Colour::off) == "FITS");
    CHECK(coloured("FITS", rules::Outcome::within, Colour::on) == "\x1b[32mFITS\x1b[0m");
    CHECK(coloured("no", rules::Outcome::exceeds, Colour::on) != coloured("no", rules::Outcome::clips, Colour::on));
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
