// Measured tables as meters, loggers and people write them.
#include "read_log.hpp"

namespace plait::input::test {
namespace {

TEST_CASE("a plain table is read with its line numbers") {
    const ReadLog r = read_log("volts,amps,watts\n12.5,8.00,100\n\n# a pause\n24,7.5,\n");
    REQUIRE(r.rows.size() == 2);
    CHECK(r.rows[0].line == 2);
    CHECK(r.rows[0].voltage_v == 12.5);
    CHECK(r.rows[0].current_a == 8.0);
    CHECK(r.rows[0].power_w == 100.0);
    CHECK(r.rows[1].line == 5);
    CHECK(r.rows[1].voltage_v == 24.0);
    CHECK_FALSE(r.rows[1].power_w);
    CHECK_FALSE(r.rows[1].time_s);
    CHECK(r.rows[1].state == MeasuredState::unsaid);
    CHECK(r.table.has(MeasuredColumn::voltage));
    CHECK_FALSE(r.table.has(MeasuredColumn::irradiance));
    CHECK(r.table.header_line == 1);
}

TEST_CASE("headers name columns and units in any common form") {
    struct Case {
        const char* header;
        double voltage_v;
        double current_a;
    };
    for (const Case& c : {Case{"V,A", 20, 30},
                          Case{"volts,amps", 20, 30},
                          Case{"Voltage [V],Current [A]", 20, 30},
                          Case{"U (V),I (A)", 20, 30},
                          Case{"U / V,I / A", 20, 30},
                          Case{"U/V,I/A", 20, 30},
                          Case{"voltage_mV,current_mA", 0.02, 0.03},
                          Case{"mV,mA", 0.02, 0.03},
                          Case{"Voltage in V,Current in mA", 20, 0.03},
                          Case{"PV Voltage,PV Current (mA)", 20, 0.03},
                          Case{"pv_voltage_v,pv_current_a", 20, 30},
                          Case{"PV [V],PV [A]", 20, 30},
                          Case{" VOLTS , AMPS ", 20, 30},
                          Case{"\"volts\",\"amps\"", 20, 30},
                          Case{"Vin,Iin", 20, 30},
                          Case{"\xEF\xBB\xBFV,A", 20, 30},
                          Case{"# V,A", 20, 30},
                          Case{"voltage,current\n[V],[mA]", 20, 0.03},
                          Case{"voltage,current\nmV,A", 0.02, 30},
                          Case{"Bench of June\nV,A", 20, 30},
                          Case{"V:,A:", 20, 30}}) {
        INFO(c.header);
        const ReadLog r = read_log(std::string(c.header) + "\n20,30\n");
        REQUIRE(r.rows.size() == 1);
        CHECK(*r.rows[0].voltage_v == Approx(c.voltage_v).epsilon(1e-14));
        CHECK(*r.rows[0].current_a == Approx(c.current_a).epsilon(1e-14));
    }
    const ReadLog all = read_log(
        "time_s;U [V];P (kW);State;Supply limit [A];Irradiance [W/m²];T air [°F];Panel temperature [degC];SoC [%];"
        "Wall power [W];Battery [V]\n5;30;0.2;Charging;10;812;50;40.5;85;600;13\n");
    const MeasuredRow& row = all.rows.at(0);
    CHECK(row.time_s == 5.0);
    CHECK(row.voltage_v == 30.0);
    CHECK(*row.power_w == Approx(200.0));
    CHECK(row.state == MeasuredState::charging);
    CHECK(row.supply_limit_a == 10.0);
    CHECK(row.irradiance_w_per_m2 == 812.0);
    CHECK(row.air->degc == Approx(10.0));
    CHECK(row.panel->degc == 40.5);
    CHECK(*row.state_of_charge_ratio == Approx(0.85));
    CHECK(row.wall_charging_w == 600.0);
    CHECK(all.table.ignored_columns == std::vector<std::string>{"\"Battery [V]\""});
    CHECK(all.table.time_form == TimeForm::elapsed);
    // Degree signs and squares in one byte, as older loggers write them.
    CHECK(read_log("V,A,Air [\xB0"
                   "C],G [W/m\xB2]\n1,1,20,500\n")
              .rows.at(0)
              .irradiance_w_per_m2 == 500.0);
}

TEST_CASE("separators and decimal marks are told from the file") {
    for (const char* text :
         {"V,A\n12.5,0.25\n", "V;A\n12.5;0.25\n", "V\tA\n12.5\t0.25\n", "V;A\n12,5;0,25\n", "V\tA\n12,5\t0,25\n",
          "V,A\n\"12,5\",\"0,25\"\n", "V;A\r\n12,5;0,25\r\n", "V,A\n 12.5 , 0.25 \n", "V,A\n12.5 V,250 mA\n",
          "V,A\n+1.25e1,2.5E-1\n", "V,A\n12.5,0.25", "V;A\n\n12.5;0.25\n\n", "V,A,note\n12.5,0.25,\"a, \"\"b\"\"\"\n",
          "V,A\n12.5,0.25,\n", "V;A\n12,500;0,250\n"}) {
        INFO(text);
        const ReadLog r = read_log(text);
        REQUIRE(r.rows.size() == 1);
        CHECK(r.rows[0].voltage_v == 12.5);
        CHECK(r.rows[0].current_a == 0.25);
    }
    // 1,234 alone could be a thousand; beside 0,5 it cannot.
    CHECK(read_log("V;A\n1,234;0,5\n").rows.at(0).voltage_v == 1.234);
    CHECK(read_log("V;A\n1,234;7\n-0,5;1\n").rows.at(0).voltage_v == 1.234);
    CHECK(read_log("V;A\n12;7\n13;7,5\n").table.decimal == ',');
    CHECK(read_log("V,A\n−1.5,0\n").rows.at(0).voltage_v == -1.5);
}

TEST_CASE("times count from what the file says") {
    const auto times = [](const std::string& header, std::vector<std::string> cells) {
        std::string text = header + ";V;A\n";
        for (const std::string& c : cells) text += c + ";1;1\n";
        return read_log(text);
    };
    // 2024-06-01T12:30:00Z is 1717245000 s after 1970 (date -u -d … +%s).
    for (const char* form : {"2024-06-01T12:30:00Z", "2024-06-01 12:30Z", "2024-06-01T14:30:00+02:00",
                             "2024-06-01T14:30+0200", "2024-06-01T05:30:00-07", "2024-06-01 12:30:00 UTC"}) {
        INFO(form);
        const ReadLog r = times("time", {form});
        CHECK(r.rows.at(0).time_s == 1717245000.0);
        CHECK(r.table.time_form == TimeForm::zoned);
    }
    for (const char* form : {"2024-06-01T12:30:00", "2024-06-01 12:30", "2024/06/01 12:30", "01.06.2024 12:30",
                             "1.6.2024 12:30:00", "2024-06-01T12:30:00.0"}) {
        INFO(form);
        const ReadLog r = times("Timestamp", {form});
        CHECK(r.rows.at(0).time_s == 1717245000.0);
        CHECK(r.table.time_form == TimeForm::local);
    }
    CHECK(read_log("date;time;V;A\n2024-06-01;12:30;1;1\n").rows.at(0).time_s == 1717245000.0);
    CHECK(read_log("time;date;V;A\n12:30;2024-06-01;1;1\n").rows.at(0).time_s == 1717245000.0);
    CHECK(read_log("date;V;A\n1970-01-02;1;1\n").rows.at(0).time_s == 86400.0);
    CHECK(times("time", {"12:30:00.25"}).rows.at(0).time_s == 45000.25);
    CHECK(times("time [min]", {"1.5"}).rows.at(0).time_s == 90.0);
    CHECK(times("elapsed_ms", {"1500"}).rows.at(0).time_s == 1.5);
    const ReadLog night = times("time", {"23:59:58", "00:00:02", "12:00:00", "23:00:00", "01:00:00"});
    CHECK(*night.rows.at(1).time_s - *night.rows.at(0).time_s == 4.0);
    CHECK(night.rows.at(4).time_s == 2 * 86400.0 + 3600.0);
}

TEST_CASE("repeated headers, empty cells and a line that breaks off are no rows") {
    const ReadLog r = read_log("V,A,state\n12,1,on\nV,A,state\n13,-,tripped\n14,n/a,\n15,2,idle\n,,\n16,1");
    REQUIRE(r.rows.size() == 4);
    CHECK_FALSE(r.rows[1].current_a);
    CHECK(r.rows[1].state == MeasuredState::error);
    CHECK(r.rows[3].state == MeasuredState::idle);
    CHECK(r.rows[3].line == 6);
    REQUIRE(r.table.notes.size() == 2);
    CHECK(has(r.table.notes[0], "Line 8, the last, breaks off"));
    CHECK(has(r.table.notes[1], "1 more time"));
    const ReadLog changed = read_log("time,V,A\n0,12,1\ntime,A,V\n1,2,13\n");
    REQUIRE(changed.rows.size() == 2);
    CHECK(changed.rows[1].voltage_v == 13.0);
    CHECK(read_log("state,V,A\non,12,1\nstate,V,A\noff,1,1\n").rows.size() == 2);
    CHECK(read_log("time,V,A\n0,12,1\n\ntime,V,A\n1,1,1\n").rows.size() == 2);
}

TEST_CASE("a text cut anywhere is read alike") {
    const std::string text =
        "\xEF\xBB\xBFtime;U [V];I [mA];state\r\n12:00:00;12,5;800;on\r\n\r\n#x\r\n12:00:01;13,25;\"810\";off\r\ntime;U "
        "[V];I [mA];state\r\n12:00:02;14;820;error";
    const ReadLog whole = read_log(text);
    REQUIRE(whole.rows.size() == 3);
    for (std::size_t size = 1; size < text.size(); size += 3) {
        std::vector<MeasuredRow> rows;
        MeasuredReader reader("log.csv", [&](const MeasuredRow& row) { rows.push_back(row); });
        for (std::size_t i = 0; i < text.size(); i += size) reader.feed(std::string_view(text).substr(i, size));
        REQUIRE(reader.finish());
        REQUIRE(rows.size() == whole.rows.size());
        for (std::size_t i = 0; i < rows.size(); ++i) {
            CHECK(rows[i].line == whole.rows[i].line);
            CHECK(rows[i].voltage_v == whole.rows[i].voltage_v);
            CHECK(rows[i].current_a == whole.rows[i].current_a);
            CHECK(rows[i].time_s == whole.rows[i].time_s);
            CHECK(rows[i].state == whole.rows[i].state);
        }
    }
}

TEST_CASE("numbers are exact to the last bit as far as meters write them") {
    // Against the standard library's own reader of numbers.
    unsigned state = 7;
    const auto next = [&](unsigned most) {
        state = state * 1664525U + 1013904223U;
        return (state >> 8U) % most;
    };
    std::string text = "V,A\n";
    std::vector<std::string> written;
    for (int i = 0; i < 20000; ++i) {
        std::string number = std::to_string(next(1000)) + "." + std::to_string(next(1000000));
        if (next(4) == 0) number += "e-" + std::to_string(next(6));
        written.push_back(number);
        text += number + ",0\n";
    }
    const ReadLog r = read_log(text);
    REQUIRE(r.rows.size() == written.size());
    std::size_t wrong = 0;
    for (std::size_t i = 0; i < written.size(); ++i) wrong += r.rows[i].voltage_v == std::stod(written[i]) ? 0U : 1U;
    CHECK(wrong == 0);
    // Beyond 15 digits within a few units in the last place.
    CHECK(*read_log("V,A\n12.345678901234567890123,1\n").rows.at(0).voltage_v ==
          Approx(12.345678901234567).epsilon(1e-15));
    CHECK(read_log("V,A\n1e-400,1\n").rows.at(0).voltage_v == 0.0);
}

}  // namespace
}  // namespace plait::input::test
