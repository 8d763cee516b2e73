#include <plait/output/json_value.hpp>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <limits>

using plait::output::Json;
using plait::output::number;

TEST_CASE("a list in braces is an object where every element is a pair that a text begins") {
    CHECK(Json{{"a", 1}, {"b", "two"}}.text(-1) == R"({"a":1,"b":"two"})");
    CHECK(Json{{"a", 1}, {2, "two"}}.text(-1) == R"([["a",1],[2,"two"]])");
    CHECK(Json{{"a", 1, 2}}.text(-1) == R"([["a",1,2]])");
    CHECK(Json{1, 2.5, nullptr, true, "x"}.text(-1) == R"([1,2.5,null,true,"x"])");
    CHECK(Json::array({"a", "b"}).text(-1) == R"(["a","b"])");
    CHECK(Json(std::vector<double>{1.0, 0.1}).text(-1) == "[1.0,0.1]");
    CHECK(Json::array().text(-1) == "[]");
    CHECK(Json::object().text(-1) == "{}");
    CHECK(Json().text(-1) == "null");
}

TEST_CASE("members keep their order, and a name is there once") {
    Json j;
    j["z"] = 1;
    j["a"]["inner"] = Json::array();
    j["a"]["inner"].push_back(2);
    j["z"] = 3;
    j.update({{"a", 4}, {"m", 5}});
    CHECK(j.text(-1) == R"({"z":3,"a":4,"m":5})");
    CHECK(j.size() == 3);
}

TEST_CASE("what is no finite number is null, what is no UTF-8 the mark of replacement") {
    CHECK(number(std::numeric_limits<double>::infinity()).text(-1) == "null");
    CHECK(number(std::numeric_limits<double>::quiet_NaN()).text(-1) == "null");
    CHECK(number(std::optional<double>()).text(-1) == "null");
    CHECK(Json("a\xff").text(-1) == "\"a\xEF\xBF\xBD\"");
}

TEST_CASE("a reader gets back what was put in, to the last bit") {
    const std::vector<double> numbers{0.0, -0.0, 0.1, 1e-310, 5e-324, 1.7976931348623157e308, -273.15, 12345678901234567.0};
    const auto back = nlohmann::json::parse(Json(numbers).text(2)).get<std::vector<double>>();
    REQUIRE(back.size() == numbers.size());
    for (std::size_t i = 0; i < numbers.size(); ++i) CHECK(back[i] == numbers[i]);
    const nlohmann::json whole = nlohmann::json::parse(
        Json{std::numeric_limits<std::int64_t>::min(), std::numeric_limits<std::uint64_t>::max(), "\"\\\n\t\u00e9"}.text(-1));
    CHECK(whole[0].get<std::int64_t>() == std::numeric_limits<std::int64_t>::min());
    CHECK(whole[1].get<std::uint64_t>() == std::numeric_limits<std::uint64_t>::max());
    CHECK(whole[2].get<std::string>() == "\"\\\n\t\u00e9");
}
