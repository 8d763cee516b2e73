// Columns by their titles: every title that docs/explain.md lists is known, and the list there is made from the table.
#include "read_log.hpp"

#include "table/measured_names.hpp"

#include <fstream>
#include <sstream>

namespace plait::input::test {
namespace {

std::vector<std::string> parted(std::string_view list) {
    std::vector<std::string> all;
    for (std::size_t at = 0; at < list.size();) {
        const std::size_t end = std::min(list.find(", ", at), list.size());
        all.emplace_back(list.substr(at, end - at));
        at = end + 2;
    }
    return all;
}

std::string names_table() {
    std::string out = "| `--column` | known without it, among others |\n|---|---|\n";
    for (const ColumnNames& n : column_names()) out += "| `" + std::string(n.by_hand) + "` | " + std::string(n.known) + " |\n";
    return out;
}

const std::string begin = "<!-- names of columns, from the program's own table -->\n";
const std::string end = "<!-- end of names -->";
const std::string path = source_dir + "/docs/explain.md";

std::string document() {
    std::ifstream file(path);
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
}

TEST_CASE("names: every title that the documents list names its column") {
    for (const ColumnNames& n : column_names()) {
        for (const std::string& title : parted(n.known)) {
            INFO(title);
            const auto named = named_column(title);
            REQUIRE(named);
            CHECK(named->column == n.column);
            CHECK(named->bad_unit.empty());
        }
        const auto by_hand = column_by_hand(std::string(n.by_hand) + " = some title");
        REQUIRE(by_hand);
        CHECK(by_hand->column == n.column);
        CHECK(by_hand->title == "some title");
    }
}

TEST_CASE("names: docs/explain.md lists them from the table") {
    INFO("to renew: plait_input_tests \"[refresh-names]\" writes them into docs/explain.md");
    CHECK(document().find(begin + names_table() + end) != std::string::npos);
}

TEST_CASE("names: write docs/explain.md", "[.][refresh-names]") {
    const std::string text = document();
    const std::size_t from = text.find(begin);
    REQUIRE(from != std::string::npos);
    std::ofstream(path) << text.substr(0, from) << begin << names_table() << text.substr(text.find(end, from));
}

TEST_CASE("names: loggers' titles of wall, charge, light and string") {
    const ReadLog r = read_log("time,PV V,PV A,AC Input (W),Battery Level (%),GHI (W/m2),\n\"Jun 10, 2026, 06:02\",40,5,600,85,800,\n"
                               "\"June 10, 2026 06:03\",40,5,-300,85,800,\n");
    REQUIRE(r.rows.size() == 2);
    CHECK(r.rows[0].wall_charging_w == 600.0);
    CHECK(r.rows[1].wall_charging_w == 0.0);  // power that goes out to the grid charges nothing
    CHECK(*r.rows[0].state_of_charge_ratio == Approx(0.85));
    CHECK(r.rows[0].global_irradiance_w_per_m2 == 800.0);
    CHECK_FALSE(r.rows[0].irradiance_w_per_m2);
    // date -u -d '2026-06-10 06:02' +%s
    CHECK(r.rows[0].time_s == 1781071320.0);
    CHECK(r.rows[1].time_s == 1781071380.0);
    CHECK(read_log("string voltage [V],current\n40,5\n").rows.at(0).voltage_v == 40.0);
    CHECK(read_log("V,A,ac_in_w\n40,5,600\n").rows.at(0).wall_charging_w == 600.0);
    CHECK(read_log("V;A;Netzleistung [W]\n40;5;600\n").rows.at(0).wall_charging_w == 600.0);
}

TEST_CASE("names: a column named by hand comes before all others of its kind, in the unit of its title") {
    const auto read = [](const std::string& text, std::vector<ColumnByHand> by_hand) {
        std::vector<MeasuredRow> rows;
        MeasuredReader reader("x", [&](const MeasuredRow& row) { rows.push_back(row); }, std::move(by_hand));
        reader.feed(text);
        const auto table = reader.finish();
        INFO((table ? "" : listed(table.error())));
        REQUIRE(table);
        return rows.at(0);
    };
    const std::string text = "V,A,Other amps,Ext [kW],T,level\n40,5,7,0.6,45,0.85\n";
    const MeasuredRow m = read(text, {{MeasuredColumn::wall_charging, "ext [kw]"}, {MeasuredColumn::current, "Other Amps"}});
    CHECK(*m.wall_charging_w == Approx(600.0));
    CHECK(m.current_a == 7.0);
    const auto failed = [](const std::string& by_hand_title) {
        MeasuredReader reader("x", [](const MeasuredRow&) {}, {{MeasuredColumn::wall_charging, by_hand_title}});
        reader.feed("V,A\n40,5\n");
        const auto table = reader.finish();
        return table ? std::string() : listed(table.error());
    };
    CHECK(has(failed("AC"), "no column is titled \"AC\", as --column says"));
    CHECK(column_by_hand("wall").error().find("such as wall=AC in") != std::string::npos);
    CHECK(column_by_hand("moon=AC in").error().find("none of time, date, volts") != std::string::npos);
}

}  // namespace
}  // namespace plait::input::test
