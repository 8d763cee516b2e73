#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>

#include "check_words.hpp"
#include "curve_doubts.hpp"
#include "page_parts.hpp"
#include "render/style.hpp"
#include "wires_words.hpp"

namespace plait::output {
namespace {

using Cell = PageBuilder::Cell;

void add_readings(PageBuilder& page, const rules::ConditionPoints& points) {
    std::vector<std::vector<Cell>> rows;
    for (const rules::ConditionPoint& p : points) {
        const physics::OperatingPoint& op = p.operating;
        std::vector<std::string> notes{
            fmt::format("{:.0f} W/m², cells {}", p.condition.irradiance_w_per_m2, degrees(p.condition.cell))};
        for (std::string& note : reading_notes(p)) notes.push_back(std::move(note));
        rows.push_back({{std::string(rules::title_of(p.id)), false, std::move(notes)},
                        number_cell(volts(p.open_circuit_v)),
                        number_cell(op.held() ? volts(op.point.voltage_v) : "–"),
                        number_cell(op.held() ? amps(op.point.current_a) : "–"),
                        number_cell(op.held() ? watts(op.point.power_w()) : "–"),
                        number_cell(watts(op.lost_w()))});
    }
    page.subheading("What a meter should read");
    page.table("By weather: the open circuit, then what the input’s display should show in operation",
               {"weather", "open circuit", "volts", "amps", "watts", "not taken"}, rows);
}

void add_cables(PageBuilder& page, const Setup& setup, const std::vector<rules::CableFigures>& cables,
                const std::string& sentence) {
    page.table(cable_table(setup, cables));
    std::vector<std::string> lines;
    for (const rules::CableFigures& f : cables) {
        lines.push_back(fmt::format("{}. {}", setup.cables[f.cable].name, smallest_sentence(f)));
    }
    lines.push_back(sentence);
    page.list(lines);
}

void add_input(PageBuilder& page, const study::SystemModel& system, const study::InputJudgement& one) {
    const Setup& setup = system.setup();
    page.heading(input_and_wiring(setup, one.input, one.wiring));
    page.picture(
        window_map_svg(setup, study::window_map(system, one.input, {{one.wiring, one.outcome}}), PictureUse::on_page));
    page.picture(wiring_svg(setup, one, PictureUse::on_page));
    page.list(help_sentences(one));
    page.subheading("Rule by rule");
    add_rules(page, one.verdicts);
    add_readings(page, one.points);
    page.table(driven_table(one, kind_ids(setup)));
    if (one.wires.cables.empty()) return;
    page.subheading(wires_heading);
    add_cables(page, setup, one.wires.cables, wires_sentence(one.wires));
}

/// What to do after reading, by the verdict.
std::vector<std::string> next_steps(rules::Outcome outcome) {
    if (outcome >= rules::Outcome::falls_short) {
        return {"Do not plug it in.",
                "Let `plait arrange` look for a wiring of these panels that is within the limits."};
    }
    return {"Hold what was assumed against the makers’ papers, and state it in the set-up.",
            "Get the parts, `plait parts`, and wire in the order of `plait steps`.", std::string(measure_first),
            "Compare the meter with the readings below, or print a card for it: `plait expect`."};
}

}  // namespace

std::string check_page(const study::SystemModel& system, const study::Judgement& j) {
    const Setup& setup = system.setup();
    PageBuilder page(page_title(setup, "A wiring, judged"));
    add_verdict(page, setup, j, "A wiring, judged: for its owner, whoever installs it and whoever reviews it.");
    for (const std::string& reason : first_reasons(setup, j)) page.paragraph(reason);
    page.cautions(texts_of(j.cautions));
    page.heading("What to do next");
    page.numbered(next_steps(j.outcome));
    for (const study::InputJudgement& one : j.inputs) add_input(page, system, one);
    if (!j.plan.empty()) {
        page.heading("All inputs together");
        add_rules(page, j.plan);
    }
    if (j.battery.current && !j.battery.cables.empty()) {
        page.heading(battery_heading);
        add_cables(page, setup, j.battery.cables, battery_sentence(j.battery));
    }
    page.heading("Harvest");
    for (const std::string& sentence : harvest_sentences(setup, j)) page.paragraph(sentence);
    add_assumptions(page, j.assumptions, all_doubts(setup, j.curves));
    add_outcome_marks(page);
    return page.html();
}

}  // namespace plait::output
