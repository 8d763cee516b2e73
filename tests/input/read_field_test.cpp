#include <plait/input/read_field.hpp>

#include "reading.hpp"

namespace plait::input::test {
namespace {

Setup two_inputs() {
    Setup setup;
    PanelKind kind;
    kind.id = "meadow";
    kind.count = 12;
    setup.kinds.push_back(kind);
    for (const char* name : {"PV1", "rear roof"}) {
        Input input;
        input.name = name;
        setup.controller.inputs.push_back(input);
    }
    return setup;
}

const Setup setup = two_inputs();
const ArrayPlan one_used{written_out({0, 2, 3}), {}};
const ArrayPlan both_used{written_out({0, 2, 3}), written_out({0, 4, 1})};

MeterReading read_one(const std::string& text, const ArrayPlan& plan = one_used) {
    const auto readings = read_readings({text}, "--read", setup, plan);
    INFO(text << "\n" << (readings ? "" : listed(readings.error())));
    REQUIRE(readings);
    REQUIRE(readings->size() == 1);
    return readings->front();
}

std::string refused(const std::vector<std::string>& texts, const ArrayPlan& plan = one_used) {
    const auto readings = read_readings(texts, "--read", setup, plan);
    REQUIRE_FALSE(readings);
    return listed(readings.error());
}

void check_reading(const MeterReading& r, MeterPoint point, std::size_t input, std::size_t string, double value) {
    CHECK(r.place.point == point);
    CHECK(r.place.input == input);
    CHECK(r.place.string == string);
    CHECK(r.value == Approx(value).epsilon(1e-14));
}

}  // namespace

TEST_CASE("readings: every form") {
    check_reading(read_one("string 1 voc 61.2 V"), MeterPoint::string_voc, 0, 0, 61.2);
    check_reading(read_one("string 3 isc 8.3 A"), MeterPoint::string_isc, 0, 2, 8.3);
    check_reading(read_one("array voc 61.2"), MeterPoint::array_voc, 0, 0, 61.2);
    check_reading(read_one("array isc 24900 mA"), MeterPoint::array_isc, 0, 0, 24.9);
    check_reading(read_one("display 58.1 V"), MeterPoint::display_v, 0, 0, 58.1);
    check_reading(read_one("display 23 A"), MeterPoint::display_a, 0, 0, 23.0);
    check_reading(read_one("display 1.3 kW"), MeterPoint::display_w, 0, 0, 1300.0);
    check_reading(read_one("  String  2   VOC   -61.2V "), MeterPoint::string_voc, 0, 1, -61.2);
    check_reading(read_one("string 2 voc −61.2 V"), MeterPoint::string_voc, 0, 1, -61.2);
    check_reading(read_one("PV1 string 2 voc 0 V", both_used), MeterPoint::string_voc, 0, 1, 0.0);
    check_reading(read_one("rear roof array voc 88.8 V", both_used), MeterPoint::array_voc, 1, 0, 88.8);
    check_reading(read_one("rear roof display 88.8 W", both_used), MeterPoint::display_w, 1, 0, 88.8);
}

TEST_CASE("readings: an input may be called like a word of the reading") {
    Setup odd = setup;
    odd.controller.inputs[0].name = "array";
    const auto readings = read_readings({"array string 2 voc 50 V"}, "--read", odd, both_used);
    REQUIRE(readings);
    check_reading(readings->front(), MeterPoint::string_voc, 0, 1, 50.0);
}

TEST_CASE("readings: complaints say where and what to write") {
    CHECK(refused({"string 1 voc"}) ==
          "--read:1:13: the value is missing. Write what the meter shows, a voltage such as 18.5 or \"18.5 V\".\n");
    CHECK(has(refused({"string 4 voc 61 V"}),
              "--read:1:8: \"4\" is not a string of 'PV1'. It has 3: write string 1 … "
              "string 3"));
    CHECK(has(refused({"string 0 voc 61 V"}), "\"0\" is not a string"));
    CHECK(has(refused({"string one voc 61 V"}), "\"one\" is not a string"));
    CHECK(has(refused({"rear roof string 2 voc 61 V"}, both_used), "It has one: write string 1"));
    CHECK(has(refused({"string 1 volts 61 V"}), "--read:1:10: \"volts\" is neither voc nor isc"));
    CHECK(has(refused({"string 1 voc 61 A"}), "\"61 A\" is a current, but a voltage is wanted"));
    CHECK(has(refused({"string 1 isc 8,3 A"}), "Write the decimal point"));
    CHECK(has(refused({"string 1 voc 61200 V"}), "outside -2000 to 2000 V"));
    CHECK(has(refused({"string 1 voc nan V"}), "finite"));
    CHECK(has(refused({"display 61"}), "Write the value with its unit V, A or W"));
    CHECK(has(refused({"display"}), "Write the value with its unit"));
    CHECK(has(refused({""}), "is not a reading"));
    CHECK(has(refused({"strign 1 voc 61 V"}), "Did you mean 'string'?"));
    CHECK(has(refused({"PV7 string 1 voc 61 V"}), "no input is called 'PV7'"));
    CHECK(has(refused({"PV 1 string 1 voc 61 V"}, both_used), "Did you mean 'PV1'?"));
    CHECK(has(refused({"string 1 voc 61 V"}, both_used), "Write its name in front"));
    CHECK(has(refused({"rear roof array voc 61 V"}), "nothing is wired to 'rear roof'"));
    CHECK(has(refused({"string 1 voc 61 V\xff"}), "--read:1:"));
    CHECK(has(refused({std::string(300, 'x')}), "far too long"));
}

TEST_CASE("readings: all complaints at once, in order, and no place twice") {
    const std::string all = refused({"string 1 voc 61 V", "string 9 voc 61 V", "STRING 1 voc 62 V", "noise"});
    CHECK(has(all, "--read:2:8: "));
    CHECK(has(all, "--read:3:1: \"STRING 1 voc 62 V\" gives a second value"));
    CHECK(has(all, "--read:4:1: "));
    CHECK(all.find("--read:2:") < all.find("--read:3:"));
    const auto none = read_readings({}, "--read", setup, one_used);
    REQUIRE(none);
    CHECK(none->empty());
}

TEST_CASE("weather and accuracies: units, defaults and ranges") {
    FieldTexts texts;
    texts.air = "88 °F";
    texts.sun = "0.82 kW/m²";
    texts.meter_accuracy = "0.5 %";
    texts.sun_accuracy = "10";
    texts.temperature_accuracy = "1.5 K";
    const auto c = read_field_conditions(texts);
    REQUIRE(c);
    CHECK(c->weather.air->degc == Approx(280.0 / 9.0));
    CHECK_FALSE(c->weather.cell);
    CHECK(*c->weather.irradiance_w_per_m2 == Approx(820.0));
    CHECK(c->accuracies.meter_ratio == Approx(0.005));
    CHECK(c->accuracies.irradiance_ratio == Approx(0.10));
    CHECK(c->accuracies.temperature_k == 1.5);
    CHECK(c->accuracies.display_ratio == 0.03);
    CHECK(c->accuracies.array_ratio == 0.05);
    FieldTexts plain;
    plain.cell = "-5 °C";
    plain.sun = "820";
    CHECK(read_field_conditions(plain)->weather.cell->degc == -5.0);
    CHECK(*read_field_conditions(plain)->weather.irradiance_w_per_m2 == 820.0);
    CHECK(read_field_conditions({}));
}

TEST_CASE("a share below one without its sign is asked for, not guessed") {
    for (const char* text : {"0.05", "0.5", "0.999", "-0.01"}) {
        INFO(text);
        FieldTexts texts;
        texts.meter_accuracy = text;
        const auto c = read_field_conditions(texts);
        REQUIRE_FALSE(c);
        CHECK(has(listed(c.error()), "Write the one that is meant, with its sign"));
        CHECK_FALSE(read_option_number(text, "--accuracy", OptionNumber::accuracy));
        CHECK_FALSE(read_option_number(text, "--volt-accuracy", OptionNumber::deviation));
    }
    FieldTexts texts;
    texts.sun_accuracy = "0.05";
    CHECK(listed(read_field_conditions(texts).error()) ==
          "--sun-accuracy:1:1: \"0.05\" could be 0.05 % or 5 %. Write the one that is meant, with its sign: \"0.05 %\" "
          "or \"5 %\".\n");
    CHECK(*read_option_number("0.05 %", "--accuracy", OptionNumber::accuracy) == Approx(0.0005));
    CHECK(*read_option_number("0", "--accuracy", OptionNumber::accuracy) == 0.0);
    CHECK(*read_option_number("1", "--accuracy", OptionNumber::accuracy) == Approx(0.01));
    CHECK(*read_option_number("1.5%", "--watt-accuracy", OptionNumber::deviation) == Approx(0.015));
}

TEST_CASE("numbers behind options have their units, ranges and complaints") {
    CHECK(*read_option_number("0.5", "--temperature-accuracy", OptionNumber::temperature_deviation_k) == 0.5);
    CHECK(*read_option_number("500 mA", "--supply-limit", OptionNumber::supply_limit_a) == Approx(0.5));
    CHECK(*read_option_number("2 W", "--display", OptionNumber::least_shown_w) == 2.0);
    const auto said = [](const char* text, OptionNumber meaning) {
        const auto r = read_option_number(text, "--x", meaning);
        REQUIRE_FALSE(r);
        return listed(r.error());
    };
    CHECK(has(said("0", OptionNumber::deviation), "--x:1:1: \"0\" is outside 0.01 to 50 %"));
    CHECK(has(said("51 %", OptionNumber::deviation), "is outside 0.01 to 50 %"));
    CHECK(has(said("21", OptionNumber::accuracy), "is outside 0 to 20 %"));
    CHECK(has(said("10 V", OptionNumber::supply_limit_a), "\"10 V\" is a voltage, but a current is wanted. Write a current such as"));
    CHECK(has(said("nan", OptionNumber::least_shown_w), "is not a finite number"));
    CHECK(has(said("1,5", OptionNumber::deviation), "Write the decimal point, \"1.5\""));
    CHECK(has(said("", OptionNumber::accuracy), "is empty"));
    CHECK(has(said("\xFF", OptionNumber::accuracy), "--x:1:1: byte 0xFF is not UTF-8 text"));
}

TEST_CASE("weather: every complaint at once, each with its option") {
    FieldTexts texts;
    texts.air = "hot";
    texts.cell = "470 °C";
    texts.sun = "820 W";
    texts.meter_accuracy = "50 %";
    texts.display_accuracy = "3 V";
    texts.sun_accuracy = "";
    texts.temperature_accuracy = "-1";
    const auto c = read_field_conditions(texts);
    REQUIRE_FALSE(c);
    const std::string all = listed(c.error());
    CHECK(has(all, "--air:1:1: \"hot\" does not begin with a number. Write a temperature with its unit, such as \"-12 °C\""));
    CHECK(has(all, "--cell:1:1: \"470 °C\" is outside -60 to 100 °C"));
    CHECK(has(all, "--sun:1:1: \"820 W\" is a power, but an irradiance is wanted"));
    CHECK(has(all, "--meter-accuracy:1:1: \"50 %\" is outside 0 to 20 %"));
    CHECK(has(all, "--display-accuracy:1:1: "));
    CHECK(has(all, "--sun-accuracy:1:1: \"\" is empty"));
    CHECK(has(all, "--temperature-accuracy:1:1: \"-1\" is outside 0 to 20 K"));
    CHECK(has(all, "both --air and --cell"));
}

TEST_CASE("a temperature without its unit is asked for with both readings") {
    FieldTexts texts;
    texts.air = "14";
    CHECK(listed(read_field_conditions(texts).error()) ==
          "--air:1:1: \"14\" has no unit: 14 °C or 14 °F, which is -10 °C? Write \"14 °C\" or \"14 °F\".\n");
}

}  // namespace plait::input::test
