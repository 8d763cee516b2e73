// plait harvest, and energy in check, arrange and compare: from the arguments to every kind of output.
#include "../support/report_text.hpp"
#include "memory_world.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <sstream>

namespace plait::cli {
namespace {

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Json = nlohmann::json;

const std::string place =
    "latitude = 48.0\nlongitude = 11.0\nfrom_utc = 1\nheight = \"500 m\"\n"
    "[[plane]]\nname = \"roof\"\ntilt = 35\nazimuth = \"S\"\nhorizon = [[90, 10], [180, 2], [270, 12]]\n";

Files placed_files() {
    Files files = usual_files();
    for (auto& [name, text] : files) {
        if (name == "meadow.toml") continue;
        const std::size_t at = text.find("mounting = \"open-rack\"\n");
        text.insert(text.find("code = \"both\"\n", at) + 14, place);
    }
    return files;
}

CommandResult placed(const std::vector<std::string>& arguments, Files more = {}) {
    Files files = placed_files();
    files.insert(more.begin(), more.end());
    return run(arguments, world_of(files));
}

double cell(const std::string& line, std::size_t column) {
    std::istringstream in(line);
    std::string value;
    for (std::size_t i = 0; i <= column; ++i) std::getline(in, value, ',');
    return std::strtod(value.c_str(), nullptr);
}

/// A day of weather in hours of standard time: W/m² on flat ground by the hour.
std::string one_day_csv() {
    std::string text = "time,ghi [W/m²],air [°C]\n";
    for (int h = 0; h < 24; ++h) {
        const double light = h > 5 && h < 20 ? 800.0 * std::sin(3.14159265 * (h - 5.5) / 14.0) : 0.0;
        text += "2023-06-21 " + std::string(h < 10 ? "0" : "") + std::to_string(h) + ":00," + std::to_string(std::max(0.0, light)) + ",18\n";
    }
    return text;
}

}  // namespace

TEST_CASE("harvest: the account of year, month and day adds up, in text, JSON and CSV alike") {
    for (const std::vector<std::string>& time : std::vector<std::vector<std::string>>{{}, {"--month", "june"}, {"--day", "21 June"}}) {
        std::vector<std::string> arguments{"harvest", "two.toml"};
        arguments.insert(arguments.end(), time.begin(), time.end());
        const auto with = [&](const char* form) {
            std::vector<std::string> more = arguments;
            more.emplace_back(form);
            return placed(more);
        };
        const CommandResult data = with("--json");
        INFO(data.err);
        REQUIRE(data.exit_code == 0);
        const Json j = Json::parse(data.out);
        const double delivered_wh = j["delivered_wh"];
        double lost_wh = 0.0;
        for (const Json& loss : j["losses"]) lost_wh += loss["lost_wh"].get<double>();
        CHECK(j["ideal_wh"].get<double>() - lost_wh == Approx(delivered_wh).epsilon(1e-9));
        double parts_wh = 0.0;
        for (const Json& part : j["parts"]) parts_wh += part["delivered_wh"].get<double>();
        CHECK(parts_wh == Approx(delivered_wh).epsilon(1e-9));
        CHECK(j["models"]["sky"] == "perez");

        std::istringstream csv(with("--csv").out);
        std::string line;
        std::getline(csv, line);
        CHECK_THAT(line, StartsWith("# plait harvest"));
        std::getline(csv, line);
        const auto column = static_cast<std::size_t>(std::count(line.begin(), line.begin() + static_cast<long>(line.find("delivered_w")), ','));
        double rows_wh = 0.0;
        std::size_t rows = 0;
        for (; std::getline(csv, line); ++rows) rows_wh += cell(line, column);
        CHECK(static_cast<double>(rows) == Approx(24.0 * j["period"]["days"].get<double>()));
        CHECK(rows_wh == Approx(delivered_wh).epsilon(1e-9));

        const CommandResult text = placed(arguments);
        const std::string flat = support::flat(text.out);
        // As the text rounds it.
        char said[32];
        const double kwh = delivered_wh / 1000.0;
        std::snprintf(said, sizeof said, "%.*f kWh", kwh < 9.995 ? 2 : kwh < 99.95 ? 1 : 0, kwh);
        INFO(flat);
        CHECK_THAT(flat, Contains("It delivers " + std::string(said)) && Contains("sky perez") && Contains("Not counted"));
        CHECK(std::count(text.out.begin(), text.out.end(), '\n') <= 40);
        for (const std::string& out : {text.out, with("--full").out}) {
            CHECK_THAT(out, !Contains("nan") && !Contains("inf "));
        }
    }
}

TEST_CASE("harvest: a wiring that exceeds says so first and promises nothing") {
    const CommandResult r = placed({"harvest", "three.toml"});
    INFO(r.err);
    CHECK(r.exit_code == 1);
    CHECK_THAT(r.out, StartsWith("EXCEEDS"));
    const std::string flat = support::flat(r.out);
    CHECK_THAT(flat, Contains("Do not connect it.") && Contains("Instead") && Contains("Within the limits: PV1 = 2s2p"));
    CHECK_THAT(flat, !Contains("It delivers"));
    // Nothing that would add to it, and no wiring longer than two in series.
    CHECK_THAT(flat, !Contains("One more panel") && !Contains("= 4s") && !Contains("= 3s1p ("));
    CHECK_THAT(support::flat(placed({"harvest", "three.toml", "--full"}).out), Contains("It delivers"));
    CHECK(Json::parse(placed({"harvest", "three.toml", "--json"}).out)["verdict"] == "exceeds");
}

TEST_CASE("harvest: what is missing or odd is refused with what to write") {
    const CommandResult nowhere = run({"harvest", "two.toml"}, world_of(usual_files()));
    CHECK(nowhere.exit_code == 2);
    CHECK_THAT(nowhere.err, Contains("latitude = ") && Contains("from_utc"));
    for (const char* day : {"someday", "02-30", "13-01", "0", "21", "2023-02-29", "june june", "1 2 june"}) {
        const CommandResult r = placed({"harvest", "two.toml", "--day", day});
        INFO(day);
        CHECK(r.exit_code == 2);
        CHECK_THAT(r.err, Contains("--day"));
    }
    CHECK(placed({"harvest", "two.toml", "--month", "brumaire"}).exit_code == 2);
    CHECK(placed({"harvest", "two.toml", "--day", "june", "--year"}).exit_code == 2);
    CHECK(placed({"harvest", "two.toml", "--weather", "none.csv"}).exit_code == 2);
    CHECK_THAT(placed({"harvest", "two.toml", "--svg", "x.svg", "--picture", "day"}).err, Contains("--day june"));
    CHECK_THAT(placed({"arrange", "two.toml", "--by", "year", "--day", "june"}).err, Contains("--by day"));
    CHECK(run({"arrange", "two.toml", "--by", "year"}, world_of(usual_files())).exit_code == 2);
}

TEST_CASE("harvest: a day is read however it is written") {
    const auto delivered = [](const char* day) {
        const CommandResult r = placed({"harvest", "two.toml", "--json", "--day", day});
        INFO(day << ": " << r.err);
        REQUIRE(r.exit_code == 0);
        return Json::parse(r.out)["delivered_wh"].get<double>();
    };
    const double june_wh = delivered("06-21");
    for (const char* day : {"21 June", "June 21", "june", "jun 21", "longest", "2025-06-21", "21 june 2025"}) {
        CHECK(delivered(day) == june_wh);
    }
    CHECK(delivered("shortest") == delivered("12-21"));
    CHECK(delivered("shortest") < june_wh);
}

TEST_CASE("harvest: a weather file is counted as it is, and a day it does not have is refused") {
    const Files weather{{"day.csv", one_day_csv()}};
    const CommandResult r = placed({"harvest", "two.toml", "--day", "06-21", "--weather", "day.csv", "--stamps", "begin", "--json"}, weather);
    INFO(r.err);
    REQUIRE(r.exit_code == 0);
    const Json j = Json::parse(r.out);
    CHECK(j["weather"]["source"] == "file");
    CHECK(j["period"]["first_date"] == "2023-06-21");
    // 200 W of panels under a light of at most 800 W/m².
    CHECK(j["inputs"][0]["highest_w"].get<double>() < 200.0);
    CHECK(j["delivered_wh"].get<double>() > 600.0);
    const CommandResult other = placed({"harvest", "two.toml", "--day", "12-21", "--weather", "day.csv", "--stamps", "begin"}, weather);
    CHECK(other.exit_code == 2);
    CHECK_THAT(other.err, Contains("2023-06-21"));
    CHECK(placed({"harvest", "two.toml", "--weather", "day.csv", "--stamps", "begin"}, weather).exit_code == 0);
}

TEST_CASE("harvest: the models that are asked for are used and named") {
    const Json j = Json::parse(
        placed({"harvest", "two.toml", "--day", "june", "--sky", "isotropic", "--glass", "none", "--warmth", "faiman", "--json"}).out);
    CHECK(j["models"]["sky"] == "isotropic");
    CHECK(j["models"]["incidence"] == "none");
    CHECK(j["models"]["warming"] == "faiman");
    for (const Json& loss : j["losses"]) {
        if (loss["id"] == "glass") CHECK(loss["lost_wh"].get<double>() == Approx(0.0).margin(1e-6));
    }
}

TEST_CASE("harvest: pictures of every kind are drawn, on the page too") {
    for (const auto& [time, picture] : std::vector<std::pair<std::string, std::string>>{
             {"--year", "year"}, {"--year", "carpet"}, {"--year", "horizon"}, {"--day=june", "day"}, {"--month=6", "carpet"}}) {
        const CommandResult r = placed({"harvest", "two.toml", time, "--svg", "out.svg", "--picture", picture, "--page", "out.html"});
        INFO(picture << r.err);
        REQUIRE(r.files.size() == 2);
        CHECK_THAT(r.files[0].text, Contains("<svg"));
        CHECK_THAT(r.files[1].text, Contains("<svg") && !Contains("nan"));
    }
    CHECK_THAT(placed({"harvest", "three.toml", "--svg", "out.svg"}).files.at(0).text, Contains(">EXCEEDS</text>"));
}

TEST_CASE("check says what a clear day brings where the place is known, and not of a wiring that exceeds") {
    CHECK_THAT(support::flat(placed({"check", "two.toml"}).out), Contains("A clear day brings") && Contains("in December"));
    CHECK_THAT(placed({"check", "three.toml"}).out, !Contains("A clear day brings"));
    CHECK_THAT(run({"check", "two.toml"}, world_of(usual_files())).out, !Contains("A clear day brings"));
    const Json j = Json::parse(placed({"check", "two.toml", "--json"}).out);
    CHECK(j["clear_days"]["june_wh"].get<double>() > j["clear_days"]["december_wh"].get<double>());
}

TEST_CASE("arrange by energy: never what exceeds among the usable; compare too") {
    for (const char* by : {"year", "day"}) {
        const CommandResult r = placed({"arrange", "setup.toml", "--by", by, "--all", "--json"});
        INFO(r.err);
        REQUIRE(r.exit_code == 0);
        const Json j = Json::parse(r.out);
        CHECK(j["by"] == by);
        double before_wh = 1e9;
        bool over = false;
        for (const Json& plan : j["plans"]) {
            if (plan["connection"] == "forbidden" || plan["intake"] == "falls-short") {
                CHECK(plan["delivered_wh"].is_null());
                over = over || plan["connection"] == "forbidden";
                continue;
            }
            CHECK_FALSE(over);  // none behind one that exceeds
            REQUIRE(plan["delivered_wh"].is_number());
            CHECK(plan["delivered_wh"].get<double>() <= before_wh);
            before_wh = plan["delivered_wh"];
        }
        CHECK(over);
        CHECK_THAT(support::flat(placed({"arrange", "setup.toml", "--by", by}).out), Contains("It delivers") && Contains("order"));
        const CommandResult c = placed({"compare", "two.toml", "setup.toml", "--by", by});
        CHECK_THAT(support::flat(c.out), Contains("Delivered ") && Contains("order"));
        CHECK(Json::parse(placed({"compare", "two.toml", "setup.toml", "--by", by, "--json"}).out)["most_energy"].size() == 2);
    }
}

}  // namespace plait::cli
