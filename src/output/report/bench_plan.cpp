// The sheet for a bench session before it begins: which voltages, in which order, and when to stop.
#include <plait/measured/next_readings.hpp>
#include <plait/output/reports.hpp>

#include "bench_words.hpp"
#include "learn_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"

namespace plait::output {
namespace {

std::string supply_text(const measured::BenchPlan& plan) {
    if (!plan.supply_a) return fmt::format("The supply must reach {}. The print names no current, so nobody can say how much it must give.", volts(plan.top_v));
    return fmt::format(
        "The supply must reach {} and give {} and {}: a tenth more than the print lets the input take, so that the input is the limit and "
        "not the supply.",
        volts(plan.top_v), amps(*plan.supply_a), watts(*plan.supply_w));
}

Table plan_table(const measured::BenchPlan& plan) {
    Table table = table_of("Set each voltage, wait until the reading rests, write it down",
                           {"", "#set V", "what for", "#print A", "#print W", "V read", "A read", "W read", "remark"});
    int number = 0;
    for (const measured::PlannedReading& r : plan.readings) {
        const std::string blank = "....";
        table.rows.push_back({{fmt::format("{}", ++number), fmt::format("{:.1f}", r.voltage_v), std::string(name_of(r.reason)),
                               r.printed_a ? fmt::format("{:.2f}", *r.printed_a) : "–", r.printed_w ? fmt::format("{:.0f}", *r.printed_w) : "–",
                               blank, blank, blank, blank}});
    }
    return table;
}

}  // namespace

Report bench_plan_report(const Controller& controller, const Input& input, const measured::BenchPlan& plan, Provenance provenance) {
    Report report;
    report.kind = "A plan for a bench session, for whoever steps a supply over one input.";
    report.headline = {Tone::plain, "What to measure", fmt::format("{}, {}", controller.name, input.name)};
    report.provenance = std::move(provenance);
    report.last_word = std::string(deferral);
    Section& answer = report.section(Purpose::answer);
    answer.add(Items{{fmt::format("{} readings, none above {}.", plan.readings.size(), volts(plan.top_v)), supply_text(plan),
                      "Have room in the battery, no charger on the wall, and a hand on the supply's switch."}});
    std::vector<std::string> cautions{std::string(stay_below)};
    if (!plan.maximum_printed) {
        cautions.push_back(fmt::format("No maximum voltage is printed. The plan ends at {}, the top of tracking; ask the maker before you go there.", volts(plan.top_v)));
    }
    answer.add(Cautions{std::move(cautions), "Before you begin."});
    report.section(Purpose::reading, "The readings").add(plan_table(plan));
    report.section(Purpose::reading, "When to stop")
        .add(Items{{"It trips or says an error on the way up: write down the voltage, go no higher, and step down until it takes again.",
                    "It takes more than a tenth above the print: stop, and look for a wrong connection or range.",
                    "Something smells, hisses or grows hot, or the battery is nearly full: switch off, and go on another day.",
                    fmt::format("{} is reached: go no higher, whatever it does there.", volts(plan.top_v))}});
    add_next_steps(report, {"Write the sheet to a file with `--csv`, fill in what the meters read, and give it to `plait learn FILE --against SETUP`.",
                            "Write `recovered: yes` or `recovered: no` below the table, if it tripped."});
    report.section(Purpose::reading, "To note").add(Fields{{"Supply", "Meters, and their accuracy", "Battery charge at the beginning", "Air temperature", "Date, and by whom"}});
    return report;
}

std::string bench_plan_csv(const measured::BenchPlan& plan) {
    std::string out = "# Fill in what the meters read; leave cells empty that were not read.\nV,A,display W,notes\n";
    for (const measured::PlannedReading& r : plan.readings) {
        out += fmt::format("{:.1f},,,{}\n", r.voltage_v, name_of(r.reason));
    }
    return out;
}

}  // namespace plait::output
