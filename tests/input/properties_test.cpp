// What holds of every number, unit, text and table, over cases that rapidcheck makes up and shrinks.
#include <plait/input/clean_text.hpp>
#include <plait/input/measured_table.hpp>

#include "quantity/decimal.hpp"
#include "quantity/quantity.hpp"
#include "quantity/units.hpp"
#include "quantity/words.hpp"

#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <string>
#include <utility>
#include <vector>

namespace plait::input {
namespace {

/// Every finite double, of every size alike: from its bits.
rc::Gen<double> any_double() {
    return rc::gen::suchThat(rc::gen::map(rc::gen::arbitrary<std::uint64_t>(),
                                          [](std::uint64_t bits) {
                                              double value = 0.0;
                                              std::memcpy(&value, &bits, sizeof value);
                                              return value;
                                          }),
                             [](double value) { return std::isfinite(value); });
}

/// Numbers as datasheets and meters have them: so many digits, so many of them behind the point.
rc::Gen<std::pair<double, std::string>> written_number() {
    return rc::gen::map(rc::gen::pair(rc::gen::inRange<std::int64_t>(-999999, 1000000), rc::gen::inRange(0, 5)),
                        [](const std::pair<std::int64_t, int>& p) {
                            double value = static_cast<double>(p.first);
                            for (int i = 0; i < p.second; ++i) value /= 10.0;
                            std::string text = fmt::format("{:.{}f}", value, p.second);
                            return std::pair(std::stod(text), text);
                        });
}

std::string with_comma(std::string text) {
    std::replace(text.begin(), text.end(), '.', ',');
    return text;
}

bool same_bits(double a, double b) { return std::memcmp(&a, &b, sizeof a) == 0; }

bool is_utf8(const std::string& text) {
    try {
        (void)nlohmann::json(text).dump();
        return true;
    } catch (const nlohmann::json::exception&) {
        return false;
    }
}

/// Any bytes, those of UTF-8 sequences and of terminal controls more often than others.
rc::Gen<std::string> any_bytes() {
    return rc::gen::map(rc::gen::container<std::vector<std::string>>(rc::gen::oneOf(
                            rc::gen::map(rc::gen::arbitrary<char>(), [](char c) { return std::string(1, c); }),
                            rc::gen::element<std::string>("\x1B[31m", "\x1B", "\xE2\x80\xAE", "\xE2\x80", "\xC3\xA4",
                                                          "\xF0\x9F\x98\x80", "\n", "\t", "\xEF\xBB\xBF", "\x7F",
                                                          "\xED\xA0\x80", "1", ",", ".", "\""))),
                        [](const std::vector<std::string>& parts) {
                            std::string all;
                            for (const std::string& part : parts) all += part;
                            return all;
                        });
}

/// The same without what is no UTF-8.
rc::Gen<std::string> any_text() {
    return rc::gen::map(any_bytes(), [](const std::string& bytes) {
        std::string text;
        for (std::size_t i = 0; i < bytes.size();) {
            const std::size_t length = utf8_length(bytes, i);
            text.append(bytes, i, length);
            i += std::max<std::size_t>(length, 1);
        }
        return text;
    });
}

}  // namespace

TEST_CASE("property: a number printed in full is read back to its last bit") {
    CHECK(rc::check("with a point", [] {
        const double value = *any_double();
        for (const std::string& text :
             {fmt::format("{}", value), fmt::format("{:.17g}", value), fmt::format("{:.16e}", value)}) {
            const auto read = decimal_number(text);
            RC_ASSERT(read.has_value());
            RC_ASSERT(same_bits(*read, value));
        }
    }));
    CHECK(rc::check("with a comma", [] {
        const double value = *any_double();
        const auto read = decimal_number(with_comma(fmt::format("{:.17g}", value)), ',');
        RC_ASSERT(read.has_value());
        RC_ASSERT(same_bits(*read, value));
    }));
}

TEST_CASE("property: a number as meters write it is the one that the C library reads") {
    CHECK(rc::check("up to eighteen digits, a mark anywhere", [] {
        const auto digits = *rc::gen::inRange<std::size_t>(1, 19);
        std::string text;
        for (std::size_t i = 0; i < digits; ++i) text += *rc::gen::inRange('0', static_cast<char>('9' + 1));
        const auto mark = *rc::gen::inRange<std::size_t>(0, digits + 1);
        if (mark > 0 && mark < digits) text.insert(mark, ".");
        if (*rc::gen::arbitrary<bool>()) text.insert(0, "-");
        const auto read = decimal_number(text);
        RC_ASSERT(read.has_value());
        RC_ASSERT(same_bits(*read, std::strtod(text.c_str(), nullptr)));
    }));
}

TEST_CASE("property: what is no number to the end is none") {
    CHECK(rc::check("a tail is seen", [] {
        const auto [value, text] = *written_number();
        const std::string tail =
            *rc::gen::element<std::string>("x", " ", ",", "..", "-", "e", "e+", "\xC2\xB0", "1.1.1", "_");
        // Digits before "1.1.1" lengthen the number, its second point ends it.
        RC_ASSERT_FALSE(decimal_number(text + tail).has_value());
        const auto prefix = decimal_prefix(text + tail);
        RC_ASSERT(prefix.has_value());
        RC_ASSERT(prefix->length <= text.size() + tail.size());
        RC_ASSERT(prefix->length >= text.size());
    }));
}

TEST_CASE("property: every unit is read behind every number, with a blank and without") {
    CHECK(rc::check("number and unit come back", [] {
        const auto [value, text] = *written_number();
        const auto all = units();
        const Unit& unit = all[*rc::gen::inRange<std::size_t>(0, all.size())];
        for (const char* blank : {" ", ""}) {
            if (*blank == '\0' && is_digit(unit.text.front())) continue;  // "5" and "1/K" without a blank are "51/K"
            const auto split = split_quantity(text + blank + std::string(unit.text));
            RC_ASSERT(split.has_value());
            RC_ASSERT(same_bits(split->number, value));
            RC_ASSERT(unit_called(split->unit, unit.dimension) == &unit);
        }
    }));
}

TEST_CASE("property: the gate lets nothing through, and changes nothing that is clean") {
    CHECK(rc::check("clean text", [] {
        const std::string text = *any_bytes();
        const OwnMarks own{*rc::gen::arbitrary<bool>(), *rc::gen::arbitrary<bool>()};
        const std::string once = clean_text(text, own);
        RC_ASSERT(is_utf8(once));
        RC_ASSERT(clean_text(once, own) == once);
        for (const char c : once) {
            const auto byte = static_cast<unsigned char>(c);
            RC_ASSERT(byte >= 0x20U || c == '\n' || c == '\t' || (own.colours && c == '\x1B'));
        }
        if (!own.colours) RC_ASSERT(once.find('\x1B') == std::string::npos);
    }));
}

// Said of the sanitizers' build above all: nothing here is undefined for what is no UTF-8.
TEST_CASE("property: bytes that are no text are looked at and quoted without harm") {
    CHECK(rc::check("any bytes", [] {
        const std::string run(*rc::gen::inRange<std::size_t>(0, 80), *rc::gen::element('\x80', '\xB0', '\xBF', '\xFF'));
        const std::string text = *any_bytes() + run + *any_bytes();
        for (const std::string& q : {input::quoted(text), printable(text), quoted_whole(text), named(text)}) {
            RC_ASSERT(is_utf8(clean_text(q)));
        }
        RC_ASSERT(character_count(text) <= text.size());
        (void)has_control_character(text);
        (void)shows_nothing(text);
    }));
}

TEST_CASE("property: what a message quotes is clean, however it is quoted") {
    CHECK(rc::check("quotes", [] {
        const std::string text = *any_text();
        for (const std::string& q : {input::quoted(text), printable(text), quoted_whole(text), named(text)}) {
            RC_ASSERT(is_utf8(q));
            RC_ASSERT_FALSE(has_control_character(q));
        }
    }));
}

TEST_CASE("property: a table gives back its numbers, whatever parts its columns and marks its decimals") {
    CHECK(rc::check("tables", [] {
        const auto rows = *rc::gen::container<std::vector<std::pair<int, int>>>(
            rc::gen::pair(rc::gen::inRange(1, 60000), rc::gen::inRange(0, 3000)));
        RC_PRE(!rows.empty());
        const std::vector<std::pair<char, bool>> forms{{',', false}, {';', false}, {';', true}, {'\t', false}, {'\t', true}};
        const auto [separator, comma] = *rc::gen::elementOf(forms);
        const std::string end = *rc::gen::element<std::string>("\n", "\r\n");
        std::string text = std::string("V") + separator + "A" + end;
        for (const auto& [centivolts, centiamps] : rows) {
            // Two decimals each, so that a mark is never one for thousands.
            std::string volts = fmt::format("{:.2f}", centivolts / 100.0);
            std::string amps = fmt::format("{:.2f}", centiamps / 100.0);
            text += (comma ? with_comma(volts) : volts) + separator + (comma ? with_comma(amps) : amps) + end;
        }
        std::vector<std::pair<double, double>> read;
        const auto table = read_measured(text, "x.csv", [&](const MeasuredRow& r) {
            read.emplace_back(r.voltage_v.value_or(-1.0), r.current_a.value_or(-1.0));
        });
        RC_ASSERT(table.has_value());
        RC_ASSERT(read.size() == rows.size());
        for (std::size_t i = 0; i < rows.size(); ++i) {
            RC_ASSERT(same_bits(read[i].first, rows[i].first / 100.0));
            RC_ASSERT(same_bits(read[i].second, rows[i].second / 100.0));
        }
    }));
}

}  // namespace plait::input
