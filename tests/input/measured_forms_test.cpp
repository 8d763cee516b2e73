// Exports and hand-written tables in the shapes people have, in five languages; and what must be asked instead of
// guessed. The spellings are common practice, no source.
#include "read_log.hpp"

namespace plait::input::test {
namespace {

std::string complaints(const std::string& text) {
    const auto table = read_measured(text, "x", [](const MeasuredRow&) {});
    return table ? "" : listed(table.error());
}

// 2026-11-25 14:03:00, as if in UTC (date -u -d '2026-11-25 14:03' +%s).
constexpr double afternoon_s = 1795615380.0;

TEST_CASE("one row of many exports: every column is known, and only what is of the panels is taken") {
    for (const char* text :
         {"Date/Time,PV1 Power (W),PV1 Voltage (V),Solar input current,Battery SoC %,Irradiance W/m²,Tmodule [°C],T_amb (C)\n"
          "2026-11-25 14:03,200,40,5,85,800,45,20\n",
          "timestamp,pv_power_w,pv_voltage_v,pv_current_a,battery_soc_percent,irradiance_w_m2,module_temp_c,air_temp_c,"
          "battery_voltage_v,grid_power_w\n2026-11-25T14:03,200,40,5,85,800,45,20,13.1,-300\n",
          "Timestamp,pvPower,pvVoltage,pvCurrent,batterySoC,solarIrradiance,cellTemperature_degC,ambientTemp [°C]\n"
          "2026-11-25 14:03:00,200,40,5,85,800,45,20\n",
          "Datum;Uhrzeit;PV-Leistung (W);PV-Spannung (V);PV-Strom (mA);Ladezustand [%];Einstrahlung [W/m²];"
          "Modultemperatur [°C];Außentemperatur [°C];Batteriespannung [V]\n"
          "25.11.2026;14:03;200,0;40,0;5000;85;800;45,0;20;13,1\n",
          "Horodatage;Puissance PV (kW);Tension PV (V);Courant PV (A);État de charge (%);Éclairement (W/m²);"
          "Température du module (°C);Température ambiante (°C)\n25/11/2026 14:03;0,2;40;5;85;800;45;20\n",
          "Fecha;Hora;Potencia FV (W);Tensión de entrada (V);Corriente de entrada (A);Estado de carga (%);"
          "Irradiancia (W/m²);Temperatura del módulo (°C);Temperatura ambiente (°C)\n"
          "25/11/2026;14:03:00;200;40;5;85;800;45;20\n",
          "Datum;Tijd;Vermogen [W];Zonnepaneel spanning [V];Ingangsstroom [A];Laadtoestand [%];Instraling [W/m²];"
          "Paneeltemperatuur [°C];Buitentemperatuur [°C]\n25-11-2026;14:03;200;40;5;85;800;45;20\n",
          "DATE TIME\tP_PV\tU_PV\tI_PV\tSOC\tG\tT_MODULE [C]\tT_AIR [C]\n25-Nov-2026 2:03 PM\t200\t40\t5\t85\t800\t45\t20\n",
          "UTC|Ppv1(W)|Vpv1(V)|Ipv1(A)|Battery [%]|Solar [W/m²]|Panel [°F]|Air [K]\n"
          "2026-11-25 14:03|200|40|5|85|800|113|293.15\n"}) {
        INFO(text);
        const ReadLog r = read_log(text);
        REQUIRE(r.rows.size() == 1);
        const MeasuredRow& m = r.rows.front();
        CHECK(m.time_s == afternoon_s);
        CHECK(*m.power_w == Approx(200.0));
        CHECK(m.voltage_v == 40.0);
        CHECK(*m.current_a == Approx(5.0));
        CHECK(*m.state_of_charge_ratio == Approx(0.85));
        CHECK(m.irradiance_w_per_m2 == 800.0);
        CHECK(m.panel->degc == Approx(45.0));
        CHECK(m.air->degc == Approx(20.0));
    }
}

TEST_CASE("light on flat ground is told from light on the panels") {
    for (const char* name : {"GHI [W/m²]", "ghi", "Global horizontal irradiance (W/m2)", "irradiance_global", "global [W/m²]"}) {
        INFO(name);
        const ReadLog r = read_log("V,A," + std::string(name) + "\n40,5,640\n");
        REQUIRE(r.rows.size() == 1);
        CHECK(r.rows[0].global_irradiance_w_per_m2 == 640.0);
        CHECK_FALSE(r.rows[0].irradiance_w_per_m2);
    }
    const ReadLog both = read_log("V,A,GHI [kW/m²],POA irradiance [W/m²]\n40,5,0.64,800\n");
    CHECK(both.rows.at(0).global_irradiance_w_per_m2 == Approx(640.0));
    CHECK(both.rows.at(0).irradiance_w_per_m2 == 800.0);
}

TEST_CASE("names that may mean something else are left aside, by name") {
    for (const char* other : {"T [°C]",
                              "T",
                              "Temp",
                              "Battery Voltage",
                              "Batteriespannung [V]",
                              "Load Current [A]",
                              "AC Power (W)",
                              "Total PV Power",
                              "Max PV voltage (V)",
                              "day [kWh]",
                              "Energy [Wh]",
                              "Yield today (kWh)",
                              "PV energy [Wh]",
                              "DNI [W/m²]",
                              "Controller temperature [°C]",
                              "Power factor",
                              "Grid voltage",
                              "AC output [W]",
                              "Charge current [A]",
                              "SOH [%]",
                              "U/I",
                              "Voltage (max)",
                              "Index",
                              "min",
                              "Time [kWh]",
                              "Humidity [%]",
                              "Output [V]",
                              "V battery"}) {
        INFO(other);
        const ReadLog r = read_log("V,A," + std::string(other) + "\n40,5,7\n");
        REQUIRE(r.rows.size() == 1);
        CHECK(r.rows[0].voltage_v == 40.0);
        CHECK(r.rows[0].current_a == 5.0);
        CHECK_FALSE(r.rows[0].power_w);
        CHECK_FALSE(r.rows[0].time_s);
        CHECK(r.table.ignored_columns == std::vector<std::string>{"\"" + std::string(other) + "\""});
    }
    const ReadLog both = read_log("Voltage,Current,PV Voltage,PV Current\n13,9,40,5\n");
    CHECK(both.rows.at(0).voltage_v == 40.0);
    CHECK(both.rows.at(0).current_a == 5.0);
    REQUIRE(both.table.notes.size() == 2);
    CHECK(both.table.notes[0] == "A voltage is read from column \"PV Voltage\", not from \"Voltage\".");
}

TEST_CASE("units in the header's own comment, below it, or behind a remark count") {
    for (const char* text :
         {"# voltage;current\n# V;mA\n12;800\n", "voltage;current\n# V;mA\n12;800\n",
          "voltage;current\n\n# V;mA\n12;800\n", "# voltage;current\n#\n# by hand\n# [V];[mA]\n12;800\n",
          "voltage;current\n(V);(mA)\n12;800\n", "# V;mA\n12;800\n",
          "voltage;current\nV;mA\n12;800\nvoltage;current\nV;mA\n12;800\n"}) {
        INFO(text);
        const ReadLog r = read_log(text);
        for (const MeasuredRow& m : r.rows) CHECK(*m.current_a == Approx(0.8));
        CHECK_FALSE(r.rows.empty());
    }
    CHECK(has(complaints("voltage;current\n# V;furlongs\n12;8\n"), "is a current, but \"furlongs\" is no unit of it"));
    CHECK(*read_log("Ppv [MW],V\n0.0002,40\n").rows.at(0).power_w == Approx(200.0));
    CHECK(*read_log("Ppv [mW],V\n200,40\n").rows.at(0).power_w == Approx(0.2));
}

TEST_CASE("a later header is followed: other order, other units, other columns, in comments too") {
    const ReadLog r = read_log("V,A\n1,2\nA,V\n3,4\nmV,mA,W\n5000,6,0.03\nmV,mA,W\n7000,8,0.056\n");
    REQUIRE(r.rows.size() == 4);
    CHECK(r.rows[1].voltage_v == 4.0);
    CHECK(r.rows[1].current_a == 3.0);
    CHECK(r.rows[2].voltage_v == 5.0);
    CHECK(*r.rows[2].current_a == Approx(0.006));
    CHECK(*r.rows[3].power_w == Approx(0.056));
    CHECK(r.table.has(MeasuredColumn::power));
    const ReadLog c = read_log("# V,A\n1,2\n# a remark\n# A,V\n3,4\n# A,V\n5,6\n");
    REQUIRE(c.rows.size() == 3);
    CHECK(c.rows[1].voltage_v == 4.0);
    CHECK(c.rows[2].voltage_v == 6.0);
    // Columns of the first header that the second has not stay known, without values.
    const ReadLog fewer = read_log("V,A,irradiance\n1,2,900\nV,A\n3,4\n");
    CHECK(fewer.table.has(MeasuredColumn::irradiance));
    CHECK_FALSE(fewer.rows.at(1).irradiance_w_per_m2);
}

TEST_CASE("dates with strokes are read as the file itself shows them, and else asked for") {
    const std::string head = "time,V,A\n";
    CHECK(read_log(head + "11/25/2026 2:03 PM,1,1\n").rows.at(0).time_s == afternoon_s);
    CHECK(read_log(head + "25/11/2026 14:03,1,1\n").rows.at(0).time_s == afternoon_s);
    // 2026-06-05 and 2026-05-06 12:00 (date -u): another row, before or after, tells.
    constexpr double june_s = 1780660800.0;
    constexpr double may_s = 1778068800.0;
    CHECK(read_log(head + "05/06/2026 12:00,1,1\n13/06/2026 12:00,1,1\n").rows.at(0).time_s == june_s);
    CHECK(read_log(head + "05/06/2026 12:00,1,1\n05/13/2026 12:00,1,1\n").rows.at(0).time_s == may_s);
    CHECK(read_log("time [dd/mm/yyyy hh:mm],V,A\n05/06/2026 12:00,1,1\n").rows.at(0).time_s == june_s);
    CHECK(read_log("time (MM/DD/YYYY),V,A\n05/06/2026 12:00 pm,1,1\n").rows.at(0).time_s == may_s);
    CHECK(read_log("Datum [TT-MM-JJJJ];V;A\n05-06-2026 12:00;1;1\n").rows.at(0).time_s == june_s);
    CHECK(read_log(head + "06/06/2026 12:00,1,1\n").rows.size() == 1);
    const std::string asked = complaints(head + "05/06/2026 12:00,1,1\n");
    CHECK(has(asked, "x:2:1: \"05/06/2026 12:00\" does not tell the day from the month"));
    CHECK(has(asked, "name the column \"time [dd/mm/yyyy]\" or \"time [mm/dd/yyyy]\""));
    CHECK(has(complaints(head + "25/11/2026 12:00,1,1\n11/26/2026 12:00,1,1\n"),
              "x:3:1: \"11/26/2026 12:00\" is no time"));
    CHECK(has(complaints(head + "25/11/26 12:00,1,1\n"), "is no time"));
}

TEST_CASE("times of day go past midnight, elapsed ones past a day, and large numbers count from 1970") {
    const ReadLog night = read_log("Time,V,A\n2:03 PM,1,1\n11:59:58 PM,1,1\n12:00:02 AM,1,1\n");
    CHECK(night.rows.at(0).time_s == 50580.0);
    CHECK(*night.rows.at(2).time_s - *night.rows.at(1).time_s == 4.0);
    CHECK(read_log("Heure;V;A\n14h03;1;1\n").rows.at(0).time_s == 50580.0);
    const ReadLog long_run = read_log("elapsed,V,A\n0:00:10,1,1\n100:00:00,1,1\n");
    CHECK(long_run.rows.at(1).time_s == 360000.0);
    CHECK(long_run.table.time_form == TimeForm::elapsed);
    for (const char* text : {"1795615380", "1795615380000", "1795615380000000", "1.79561538e9"}) {
        INFO(text);
        const ReadLog r = read_log("timestamp,V,A\n" + std::string(text) + ",1,1\n");
        CHECK(r.rows.at(0).time_s == afternoon_s);
        CHECK(r.table.time_form == TimeForm::zoned);
    }
    CHECK(*read_log("time_ms,V,A\n1795615380000,1,1\n").rows.at(0).time_s == Approx(afternoon_s).epsilon(1e-15));
    CHECK(read_log("time [d],V,A\n0.5,1,1\n").rows.at(0).time_s == 43200.0);
    CHECK(read_log("ms,V,A\n1500,1,1\n").rows.at(0).time_s == 1.5);
    // A date that brings a time of its own is not counted twice beside a column of times.
    CHECK(read_log("date,time,V,A\n2026-11-25 00:00:00,14:03,1,1\n").rows.at(0).time_s == afternoon_s);
    CHECK(read_log("date,time,V,A\n2026-11-25 14:03,14:03,1,1\n").rows.at(0).time_s == afternoon_s);
}

TEST_CASE("totals, rules, markdown, trailing separators and unnamed ends are no harm") {
    const ReadLog sums = read_log("time,V,A\n12:00,12,5\nTotal,,25\n\"Average\",12,5\nSumme;12\n------\nEnd of log\n");
    CHECK(sums.rows.size() == 1);
    REQUIRE(sums.table.notes.size() == 1);
    CHECK(has(sums.table.notes[0], "4 lines look like totals or means and were skipped, line 7 the last"));
    CHECK(read_log("| V | A |\n|---|---|\n| 12 | 5 |\n").rows.at(0).current_a == 5.0);
    CHECK(read_log("V;A;\n12;5\n12;5;\n12;5;;\n").rows.size() == 3);
    CHECK(read_log("time,V,A,note,more\n0,12,5\n1,12,5,x\n").rows.size() == 2);
    CHECK(read_log("sep=;\nV;A\n12;5\n").rows.size() == 1);
    const ReadLog gaps = read_log("V,A\n---,n.a.\n12,5\nunavailable,NaN\n−,#N/A\n13,\n");
    REQUIRE(gaps.rows.size() == 2);
    CHECK_FALSE(gaps.rows[1].current_a);
}

struct Question {
    const char* text;
    const char* expected;  ///< "line:column: part of the message"
};

TEST_CASE("what can be read in two ways is asked, at its place") {
    for (const Question& q : {
             Question{"V;W\n12;987\n12;1.234\n",
                      "3:4: \"1.234\" can be read as 1.234 or, with a mark for thousands, as 1234"},
             Question{"V;W\n12;1.234\n12;987\n", "2:4: \"1.234\" can be read as 1.234 or"},
             Question{"V;W\n12,5;1.234,5\n", "2:6: \"1.234,5\" has more than one decimal mark"},
             Question{"V\tW\n12.5\t1,234.5\n", "2:6: \"1,234.5\" has more than one decimal mark"},
             Question{"V,A,soc\n12,5,0.8\n", "2:6: \"0.8\" could be 0.8 % or 80 %. Write the unit in the header: [%]"},
             Question{"V,A,irradiance\n12,5,0.4\n12,5,0.9\n", "2:1: no irradiance above 0.9 stands in the column"},
             Question{"V,A\n12,800\n", "2:4: \"800\" is more amps than an input takes, and the header has no unit"},
             Question{"V,A,W\n12,8,0.096\n",
                      "1:1: the watts of this table are a thousandth of its volts times its amps"},
             Question{"V,A,W\n12,0.008,96\n", "1:1: the watts of this table are a thousandfold of its volts"},
             Question{"time,V,A\n46351.58542,12,5\n",
                      "2:1: \"46351.58542\" could be a date without its marks, or days"},
             Question{"time,V,A\n20261125,12,5\n", "2:1: \"20261125\" could be a date without its marks"},
             Question{"time,V,A\n20261125140300,12,5\n", "2:1: \"20261125140300\" is no time"},
             Question{"elapsed,V,A\n0:10,12,5\n", "2:1: \"0:10\" could be hours and minutes or minutes and seconds"},
             Question{"V   A\n12  5\n", "0:0: the columns seem to be parted by blanks"},
             Question{"PV1 Voltage,PV2 Voltage,PV1 Current\n13,1,40\n",
                      "1:13: \"PV1 Voltage\" and \"PV2 Voltage\" are both a voltage. Keep the column of this input and "
                      "rename "
                      "the other, such as \"other PV2 Voltage\"."},
             Question{"volts,amps,V\n1,2,3\n",
                      "1:12: \"volts\" and \"V\" are both a voltage. Keep the column of this input "
                      "and rename the other, such as \"other V\"."},
             Question{"Battery Voltage,Load Current,time,soc\n1,2,3,4\n",
                      "1:1: no column of volts (not known: \"Battery Voltage\", \"Load Current\"). Name one volts"},
         }) {
        INFO(q.text);
        const std::string said = complaints(q.text);
        INFO(said);
        CHECK(said.find(q.expected) == 2);
    }
    CHECK(*read_log("V,A,soc [%]\n12,5,0.8\n").rows.at(0).state_of_charge_ratio == Approx(0.008));
    CHECK(*read_log("V,A,soc [ratio]\n12,5,0.8\n").rows.at(0).state_of_charge_ratio == Approx(0.8));
    CHECK(*read_log("V,A,irradiance [kW/m²]\n12,5,0.8\n").rows.at(0).irradiance_w_per_m2 == Approx(800.0));
    CHECK(read_log("V [V],A [A]\n12,800\n").rows.at(0).current_a == 800.0);
    CHECK(read_log("V;W\n12.500;987.123\n12.501;1.234\n").rows.at(1).power_w == 1.234);
}

TEST_CASE("an over-long last line is refused and is no row") {
    std::size_t rows = 0;
    const auto r = read_measured("V,A\n12,8\n12,9" + std::string(70000, ' '), "x", [&](const MeasuredRow&) { ++rows; });
    REQUIRE_FALSE(r);
    CHECK(rows <= 1);
    CHECK(listed(r.error()) ==
          "x:3:1: this line is longer than 65536 bytes, which no row is, so reading stopped here. Save the table as "
          "CSV, one row a line.\n");
    MeasuredReader pieces("x", [&](const MeasuredRow& m) { CHECK(m.current_a == 8.0); });
    for (const char* piece : {"V,A\n12,8\n", "12,9"}) pieces.feed(piece);
    for (int i = 0; i < 20; ++i) pieces.feed(std::string(4096, ' '));
    CHECK_FALSE(pieces.finish());
}

}  // namespace
}  // namespace plait::input::test
