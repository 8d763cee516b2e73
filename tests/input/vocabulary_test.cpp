// One table of quantities: what is good in a file is good behind an option and in the header of a measured table.
#include "read_log.hpp"

#include "quantity/fields.hpp"
#include "quantity/kinds.hpp"
#include "setup/cable_from.hpp"
#include "setup/controller_fields.hpp"
#include "setup/panel_fields.hpp"
#include "setup/setup_fields.hpp"
#include "setup/site_from.hpp"

#include <fmt/core.h>

#include <array>

namespace plait::input::test {
namespace {

/// Every way to write a unit.
std::vector<std::string> spellings(const Unit& unit) {
    std::vector<std::string> all{std::string(unit.text)};
    for (std::size_t begin = 0; begin < unit.words.size();) {
        const std::size_t end = std::min(unit.words.find('|', begin), unit.words.size());
        all.emplace_back(unit.words.substr(begin, end - begin));
        begin = end + 1;
    }
    // "m²" as people without that key write it.
    for (std::size_t i = all.size(); i-- > 0;) {
        const std::size_t square = all[i].find("²");
        if (square != std::string::npos) all.push_back(all[i].substr(0, square) + "2" + all[i].substr(square + 2));
    }
    return all;
}

struct Measured {
    Dimension dimension;
    Kind kind;
    const char* column;
    double number;  // in the base unit, possible in every one of its units
};
constexpr std::array measured{Measured{Dimension::voltage, Kind::voltage, "voltage", 2.0},
                              Measured{Dimension::current, Kind::current, "current", 2.0},
                              Measured{Dimension::power, Kind::power, "power", 2.0},
                              Measured{Dimension::irradiance, Kind::irradiance, "irradiance", 500.0},
                              Measured{Dimension::temperature, Kind::temperature, "air temperature", 20.0},
                              Measured{Dimension::ratio, Kind::percentage, "state of charge", 0.5}};

std::optional<double> in_column(const MeasuredRow& row, const Measured& m) {
    switch (m.dimension) {
        case Dimension::voltage: return row.voltage_v;
        case Dimension::current: return row.current_a;
        case Dimension::power: return row.power_w;
        case Dimension::irradiance: return row.irradiance_w_per_m2;
        case Dimension::temperature: return row.air ? std::optional(row.air->degc) : std::nullopt;
        default: return row.state_of_charge_ratio;
    }
}

TEST_CASE("every spelling of a unit means the same in a file, behind an option and in a header") {
    int tried = 0;
    for (const Measured& m : measured) {
        for (const Unit& unit : units()) {
            if (unit.dimension != m.dimension) continue;
            for (const std::string& spelling : spellings(unit)) {
                const double typed = (m.number - unit.offset) / unit.factor;
                const std::string text = fmt::format("{:.17g}", typed);
                INFO(spelling);
                ++tried;
                Notes notes;
                const FileNotes said("x", notes);
                const Spec spec{.key = "k", .kind = m.kind, .limits = {-1e9, 1e9}};
                const auto file = read_measure(said, spec, Node{{1, 1}, text + " " + spelling});
                const auto option = read_typed(said, spec, text + spelling, {1, 1});
                REQUIRE(file);
                REQUIRE(option);
                CHECK(file->value == Approx(m.number));
                CHECK(option->value == file->value);
                const std::string others = m.dimension == Dimension::voltage ? "A" : m.dimension == Dimension::current ? "V" : "V,A";
                const ReadLog log = read_log(fmt::format("{},{} [{}]\n{},{}\n", others, m.column, spelling,
                                                         others.size() > 1 ? "1,1" : "1", text));
                REQUIRE(log.rows.size() == 1);
                CHECK(in_column(log.rows.front(), m).value() == Approx(m.number));
            }
        }
    }
    CHECK(tried > 50);
}

TEST_CASE("letters of the other case are taken, but never a capital M for a small one") {
    CHECK(unit_called("v", Dimension::voltage)->text == "V");
    CHECK(unit_called("KV", Dimension::voltage)->text == "kV");
    CHECK(unit_called("Volts", Dimension::voltage)->text == "V");
    CHECK(unit_called("MW", Dimension::power)->factor == 1e6);
    CHECK(unit_called("mw", Dimension::power)->factor == 1e-3);
    CHECK(unit_called("MV", Dimension::voltage) == nullptr);
    CHECK(unit_called("MA", Dimension::current) == nullptr);
    CHECK(unit_called("furlong", Dimension::length) == nullptr);
}

TEST_CASE("whoever left a value out is shown its unit and no number that could stay in the file") {
    for (int kind = 0; kind < static_cast<int>(Kind::by_hand); ++kind) {
        const Spec spec{.key = "k", .kind = static_cast<Kind>(kind), .limits = {-1e9, 1e9}};
        const std::string written = assignment(spec);
        CAPTURE(kind, written);
        CHECK(written.starts_with("k = "));
        CHECK(written.find("…") != std::string::npos);
        CHECK(written.find_first_of("0123456789") == std::string::npos);
        CHECK(written.find(row_of(spec.kind).unit) != std::string::npos);
    }
}

template <class S>
void check_fall_backs(std::span<const Field<S>> fields) {
    for (const Field<S>& field : fields) {
        const Spec& spec = field.spec;
        if (!spec.fall_back) continue;
        INFO(spec.key);
        CHECK_FALSE(fall_back_text(spec).empty());
        CHECK_FALSE(spec.required);
        if (spec.kind == Kind::word) {
            CHECK(spec.fall_back->value < static_cast<double>(spec.words.size()));
        } else if (!is_coefficient(spec.kind)) {
            CHECK(spec.fall_back->value >= spec.limits.low);
            CHECK(spec.fall_back->value <= spec.limits.high);
        }
        // Whatever is listed as assumed says what and why.
        if (spec.fall_back->quantity && !spec.fall_back->together) {
            CHECK_FALSE(spec.fall_back->what.empty());
            CHECK_FALSE(spec.fall_back->why.empty());
        }
        if (is_coefficient(spec.kind) || spec.kind == Kind::word || spec.kind == Kind::tolerance) continue;
        // What stands in could have been written: it reads back as itself.
        Notes notes;
        const auto read = read_typed(FileNotes("x", notes), spec, fall_back_text(spec), {1, 1});
        REQUIRE(read);
        CHECK(read->value == Approx(spec.fall_back->value));
    }
}

TEST_CASE("every fall-back is in its key's range, in its words, and could have been written") {
    check_fall_backs(setup_fields());
    check_fall_backs(site_fields());
    check_fall_backs(panel_fields());
    check_fall_backs(controller_fields());
    check_fall_backs(cable_fields());
}

}  // namespace
}  // namespace plait::input::test
