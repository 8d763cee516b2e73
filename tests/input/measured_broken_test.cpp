// Measured tables that are wrong, each in its own way, with what must be said about it and where.
#include "reading.hpp"

#include <plait/input/measured_table.hpp>

namespace plait::input::test {
namespace {

std::string complaints(const std::string& text) {
    const auto table = read_measured(text, "x", [](const MeasuredRow&) {});
    return table ? "" : listed(table.error());
}

struct Broken {
    const char* text;
    const char* expected;  ///< "line:column: part of the message"
};

const Broken broken[] = {
    {"", "0:0: the file is empty"},
    {"\n\n", "0:0: the file is empty"},
    {"# only a remark\n", "0:0: no header was found"},
    {"12,8\n13,8\n", "0:0: no header was found"},
    {"eins,zwei\n1,2\n", "0:0: no header was found"},
    {"volts,foo\n1,2\n", "1:1: of this header only \"volts\" is known, not \"foo\""},
    {"volts\n1\n", "1:1: of this header only \"volts\" is known"},
    {"V,A;W\n1,2;3\n", "1:1: the header can be parted in two ways"},
    {"volts,amps\n", "1:1: there is no row below the header"},
    {"time,amps\n1,2\n", "1:1: no column of volts"},
    {"time,volts\n1,2\n", "1:1: no column of amps or watts"},
    {"volts,amps,V\n1,2,3\n", "1:12: \"volts\" and \"V\" are both a voltage"},
    {"U [A],I [A]\n1,2\n", "1:1: \"U [A]\" is a voltage, but \"a\" is no unit of it. Write V, mV or kV."},
    {"volts,current [furlongs]\n1,2\n", "1:7: \"current [furlongs]\" is a current, but \"furlongs\" is no unit"},
    {"V,A\n12,eight\n", "2:4: \"eight\" is not a current. Write a number such as 7.95, in A or mA"},
    {"V,A\n12.5.1,8\n", "2:1: \"12.5.1\" has more than one decimal mark"},
    {"V,A\n1.2,8\n12..,8\n", "3:1: \"12..\""},
    {"V,A\n12,inf\n", "2:4: \"inf\" is not a current"},
    {"V,A\n12,-Infinity\n", "2:4: \"-Infinity\" is not a current"},
    {"V,A\n1e400,8\n", "2:1: \"1e400\" is outside -1000 to 3000 V"},
    {"V,A\n12,1e99999999999999999999\n", "2:4: \"1e99999999999999999999\" is outside"},
    {"V,A\n12,8e\n", "2:4: \"8e\" is not a current"},
    {"V,A\n12,8e+\n", "2:4: \"8e+\" is not a current"},
    {"V,A\n12,0x10\n", "2:4: \"0x10\" is not a current"},
    {"V,A\n12,--8\n", "2:4: \"--8\" is not a current"},
    {"V,A\n12,1 2\n", "2:4: \"1 2\" is not a current"},
    {"V,A\n12,8 W\n", "2:4: \"8 W\" is not a current"},
    {"V,A\n12000,8\n", "2:1: \"12000\" is outside -1000 to 3000 V, what a voltage can be"},
    {"V,A,irradiance\n12,8,8000\n", "2:6: \"8000\" is outside -50 to 2000 W/m²"},
    {"V,A,soc\n12,8,140\n", "2:6: \"140\" is outside 0 to 100 %"},
    {"V,A,T air [°C]\n12,8,451\n", "2:6: \"451\" is outside -90 to 70 °C"},
    {"V,A,supply limit\n12,8,-1\n", "2:6: \"-1\" is outside 0 to 1000 A"},
    {"V,A\n12,5,8,0\n", "2:6: this row has 4 cells, the header 2. If these are decimal commas, part the columns by"},
    {"V;A\n12;8\n12,5;8,0;1\n", "3:10: this row has 3 cells, the header 2. Give every row one cell"},
    {"V;A\n12,8\n", "2:1: this row has 1 cell, the header 2. Part them by semicolons"},
    {"V,A,W\n12,8\n13,8,104\n", "2:1: this row has 2 cells, the header 3."},
    {"V;A\n1,234;7\n", "2:1: \"1,234\" can be read as 1.234 or as 1234."},
    {"V;A\n12.5;7\n12,5;7\n", "3:1: \"12,5\" has a decimal comma, other cells of this file a decimal point"},
    {"V;A\n12,5;7\n12.5;7\n", "3:1: \"12.5\" has a decimal point, other cells of this file a decimal comma"},
    {"V;W\n12,5;1.234,5\n", "2:6: \"1.234,5\" has more than one decimal mark; marks for thousands are not read"},
    {"V;W\n12.5;1,234\n", "2:6: \"1,234\" has a decimal comma, other cells"},
    {"V,W\n12.5,\"1,234,567\"\n", "2:6: \"1,234,567\" has more than one decimal mark"},
    {"V,A\n\"12,8\n", "2:1: a quoted cell is not closed"},
    {"V,A\n\"12\"5,8\n", "2:1: a quoted cell is not closed, or text stands beside it"},
    {"V,A,state\n12,8,purple\n", "2:6: \"purple\" is no state that is known. Write charging, idle or error"},
    {"time,V,A\nnoon,12,8\n", "2:1: \"noon\" is no time. Write such as 2024-06-01T12:30:00"},
    {"time,V,A\n25:00:00,12,8\n", "2:1: \"25:00:00\" is no time"},
    {"time,V,A\n12:60,12,8\n", "2:1: \"12:60\" is no time"},
    {"time,V,A\n2024-02-30 12:00,12,8\n", "2:1: \"2024-02-30 12:00\" is no time"},
    {"time,V,A\n06/01/2024 12:00,12,8\n", "2:1: \"06/01/2024 12:00\" does not tell the day from the month"},
    {"time,V,A\n2024-06-01T12:00+99,12,8\n", "2:1: \"2024-06-01T12:00+99\" is no time"},
    {"date,time,V,A\nJune 1,12:00,12,8\n", "2:1: \"June 1\" is no date"},
    {"time,V,A\n12:00,12,8\n60,12,8\n", "3:1: \"60\" is of another kind than the times above it (times of day)"},
    {"time,V,A\n2024-06-01T12:00Z,12,8\n2024-06-01T12:01,12,8\n", "3:1: \"2024-06-01T12:01\" is of another kind"},
    {"\xFF\xFEV\n", "1:1: the file is UTF-16 text"},
    {"V,A\r12,8\r", "1:1: the lines end in bare carriage returns"},
    {"V,A\n12,\xC3\x28\n", "2:4: \"?(\" is not a current"},
    {"V,A\n12,\xF0\x9F\n", "2:4: \"??\" is not a current"},
    {"time,V,A\n0,12,1\ntime,state,A\n1,on,2\n", "3:1: no column of volts"},
};

TEST_CASE("every broken table is refused with its message at its place, and no other") {
    CHECK(std::size(broken) >= 40);
    for (const Broken& b : broken) {
        INFO(b.text);
        const std::string said = complaints(b.text);
        INFO("said " << said << "not " << b.expected);
        CHECK(said.compare(0, 2, "x:") == 0);
        CHECK(said.find(b.expected) == 2);
        CHECK(std::count(said.begin(), said.end(), '\n') == 1);
        const std::string message = said.substr(0, said.size() - 1);
        CHECK((!message.empty() && message.back() == '.'));
        CHECK(message.size() < 400);
    }
}

TEST_CASE("bytes that are no text, and lines without end, are refused in bounded memory") {
    const std::string zero("V,A\n12,8\n\0\0\0\n", 13);
    CHECK(has(complaints(zero), "x:3:1: there is a zero byte in this line"));
    // Past the head of the file a zero byte is a cell that is no number.
    std::string late = "V,A\n";
    for (int i = 0; i < 20000; ++i) late += "12,8\n";
    late += std::string("1\0,8\n", 5);
    CHECK(has(complaints(late), "x:20002:1: \"1\\u0000\" is not a voltage"));
    std::string huge = "V,A\n12,8\n" + std::string(200000, '7') + ",8\n12,9\nx,9\n";
    const std::string said = complaints(huge);
    CHECK(has(said, "x:3:1: this line is longer than 65536 bytes"));
    CHECK(has(said, "so reading stopped here"));
    CHECK_FALSE(has(said, "x:5:1"));
}

TEST_CASE("what has no end, or is no table, is read no further than it takes to see that") {
    struct Trial {
        std::string head;
        std::string piece;  // for ever
        const char* says;
    };
    const std::string wrong_rows = []() {
        std::string rows;
        for (int i = 0; i < 100; ++i) rows += "x,8\n";
        return rows;
    }();
    const std::vector<Trial> trials{
        {"", std::string(4096, '\0'), "x:1:1: there is a zero byte in this line"},
        {"V,A\n12,8\n", std::string(4096, '\0'), "x:3:1: there is a zero byte in this line"},
        {"", std::string(4096, ';'), "x:1:1: this line is longer than 65536 bytes"},
        {"V,A\n12,8\n", std::string(4096, '7'), "x:3:1: this line is longer than 65536 bytes"},
        {"", "y\ny\ny\n", "no header was found"},
        {"V,A\n", wrong_rows, "where reading stopped"}};
    for (const Trial& t : trials) {
        INFO(t.says);
        MeasuredReader reader("x", [](const MeasuredRow&) {});
        std::size_t fed = t.head.size();
        bool more = reader.feed(t.head);
        constexpr std::size_t far_too_much = std::size_t{1} << 22U;
        while (more && fed < far_too_much) {
            more = reader.feed(t.piece);
            fed += t.piece.size();
        }
        CHECK_FALSE(more);
        CHECK(fed < (std::size_t{1} << 18U));
        const auto table = reader.finish();
        REQUIRE_FALSE(table);
        CHECK(has(listed(table.error()), t.says));
    }
}

TEST_CASE("many complaints are counted, not listed") {
    std::string text = "V,A\n";
    for (int i = 0; i < 500; ++i) text += "12,bad\n";
    const auto table = read_measured(text, "x", [](const MeasuredRow&) {});
    REQUIRE_FALSE(table);
    CHECK(table.error().size() == 21);
    CHECK(has(table.error().back().message, "and 480 more like these"));
}

TEST_CASE("a file that is wrong throughout is read no further than it helps") {
    std::string text = "V,A\n";
    for (int i = 0; i < 100000; ++i) text += "x,8\n";
    const auto table = read_measured(text, "x", [](const MeasuredRow&) {});
    REQUIRE_FALSE(table);
    REQUIRE(table.error().size() == 21);
    CHECK(has(table.error().back().message, "more like these up to line "));
    CHECK(has(table.error().back().message, ", where reading stopped. Correct the first ones and run again."));
}

TEST_CASE("quotes, blank lines and brackets by the thousand cost no more than their bytes") {
    std::string quotes = "V,A\n";
    for (int i = 0; i < 20; ++i) quotes += std::string(60000, '"') + "\n";
    CHECK(has(complaints(quotes), "x:2:1: this row has 1 cell"));
    CHECK(has(complaints(std::string(3000000, '\n')), "x:0:0: the file is empty"));
    CHECK(has(complaints("V,A\n" + std::string(60000, '[') + "\n"), "x:2:1: this row has 1 cell"));
    std::string late(200000, '\n');
    late += "V,A\n12,8\n";
    CHECK(read_measured(late, "x",
                        [](const MeasuredRow& m) { CHECK(m.line == 200002); }));
}

TEST_CASE("bytes at random never do more than give a complaint") {
    unsigned state = 11;
    const auto next = [&] {
        state = state * 1664525U + 1013904223U;
        return state >> 24U;
    };
    for (int round = 0; round < 300; ++round) {
        std::string text = "V;A;time;state\n";
        for (int i = 0; i < 200; ++i) {
            const unsigned r = next();
            text += r < 40U    ? '\n'
                    : r < 80U  ? ';'
                    : r < 160U ? static_cast<char>('0' + r % 10U)
                               : static_cast<char>(next());
        }
        CHECK(complaints(text).size() < 20000);
    }
}

}  // namespace
}  // namespace plait::input::test
