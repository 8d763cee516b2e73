#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>

#include "arrange_words.hpp"
#include "page_parts.hpp"
#include "style.hpp"

namespace plait::output {
namespace {

using Cell = PageBuilder::Cell;

void add_readings(PageBuilder& page, const rules::ConditionPoints& points) {
    std::vector<std::vector<Cell>> rows;
    for (const rules::ConditionPoint& p : points) {
        const physics::OperatingPoint& op = p.operating;
        rows.push_back(
            {{std::string(rules::title_of(p.id)),
              false,
              {fmt::format("{:.0f} W/m², cells {}", p.condition.irradiance_w_per_m2, degrees(p.condition.cell))}},
             number_cell(volts(p.open_circuit_v)),
             number_cell(op.held() ? volts(op.point.voltage_v) : "–"),
             number_cell(op.held() ? amps(op.point.current_a) : "–"),
             number_cell(op.held() ? watts(op.point.power_w()) : "–"),
             number_cell(watts(op.lost_w()))});
    }
    page.table("What a meter should read", {"weather", "open circuit", "volts", "amps", "watts", "not taken"}, rows);
}

void add_input(PageBuilder& page, const study::Bench& bench, const study::InputJudgement& one) {
    const Setup& setup = bench.setup();
    page.heading(fmt::format("{}: {}", setup.controller.inputs[one.input].name, label(one.wiring, kind_ids(setup))));
    page.picture(
        window_map_svg(setup, study::window_map(bench, one.input, {{one.wiring, one.outcome}}), PictureUse::on_page));
    page.picture(wiring_svg(setup, one, PictureUse::on_page));
    add_rules(page, one.verdicts);
    add_readings(page, one.points);
}

}  // namespace

std::string check_page(const study::Bench& bench, const study::Judgement& j) {
    const Setup& setup = bench.setup();
    PageBuilder page(page_title(setup, "A wiring, judged"));
    ArrayPlan plan(setup.controller.inputs.size());
    for (const study::InputJudgement& one : j.inputs) plan[one.input] = one.wiring;
    page.verdict(j.outcome, plan_label(setup, plan));
    page.paragraph(sentence_of(j.outcome, j.proven));
    page.cautions(texts_of(j.cautions));
    page.paragraph("Measure polarity and open-circuit voltage before you plug anything in.");
    for (const study::InputJudgement& one : j.inputs) add_input(page, bench, one);
    if (!j.plan.empty()) {
        page.heading("All inputs together");
        add_rules(page, j.plan);
    }
    page.heading("Harvest");
    page.paragraph(fmt::format(
        "On a warm day, weighted over the light of a year: {} (European weights), {} (CEC weights). The panels "
        "one by one would give {} (European).",
        watts(j.harvest.european_w), watts(j.harvest.cec_w), watts(j.free_harvest.european_w)));
    add_assumptions(page, j.assumptions, setup.doubts);
    return page.html();
}

}  // namespace plait::output
