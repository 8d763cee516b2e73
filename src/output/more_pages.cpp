#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>

#include "arrange_words.hpp"
#include "expect_words.hpp"
#include "page_builder.hpp"
#include "style.hpp"

namespace plait::output {
namespace {

using Cell = PageBuilder::Cell;

Cell number_cell(std::string words) { return {std::move(words), true, {}}; }

std::string setup_title(const Setup& setup, std::string_view otherwise) {
    return setup.title.empty() ? std::string(otherwise) : setup.title;
}

}  // namespace

std::string compare_page(const std::vector<NamedSetup>& named, const study::Comparison& c) {
    PageBuilder page("Set-ups side by side");
    page.title_heading("Set-ups side by side");
    std::vector<std::vector<Cell>> rows;
    for (std::size_t i = 0; i < c.setups.size(); ++i) {
        const Setup& setup = *named[i].setup;
        const std::string letter(1, static_cast<char>('A' + static_cast<char>(i)));
        const std::string title = fmt::format("{}  {}", letter, setup_title(setup, named[i].file));
        if (!c.setups[i].plan) {
            rows.push_back({{title, false, {"no wiring can be connected"}}});
            continue;
        }
        const study::ComparedPlan& p = *c.setups[i].plan;
        const rules::Outcome outcome = p.judgement.outcome;
        rows.push_back({{title,
                         false,
                         {plan_label(setup, p.plan),
                          fmt::format("{} {}{}", shape_of(outcome), word_of(outcome), p.judgement.proven ? "" : " ?")}},
                        number_cell(watts(p.judgement.harvest.european_w)),
                        number_cell(watts(p.account.unused_w)),
                        number_cell(watts(p.account.mismatch_w)),
                        number_cell(watts(p.account.inputs_w + p.account.shared_w)),
                        number_cell(volts(p.cold_margin_v)),
                        number_cell(fmt::format("{}", p.joints)),
                        number_cell(fmt::format("{}", p.fuses))});
    }
    page.table(
        "Mean watts on a warm day, weighted over the light of a year (European weights); cold room: volts left on the "
        "coldest morning",
        {"set-up", "harvest", "unused", "mismatch", "limits", "cold room", "joints", "fuses"}, rows);
    page.heading("In words");
    page.report(compare_text(named, c, Colour::off));
    return page.html();
}

std::string expect_page(const study::FieldModel& model, const study::Card& card, const study::Diagnosis* diagnosis) {
    const Setup& setup = model.bench().setup();
    PageBuilder page(setup_title(setup, "Commissioning card"));
    page.title_heading(fmt::format("Commissioning card: {}", plan_label(setup, model.plan())));
    std::vector<std::string> cautions;
    for (const study::Caution& c : card.cautions) cautions.push_back(c.text);
    page.cautions(cautions);
    if (diagnosis != nullptr) {
        page.heading("What the readings say");
        page.report(readings_text(model, card, *diagnosis, Colour::off));
    }
    for (const study::InputCard& one : card.inputs) {
        page.heading(fmt::format("{}: what to read", setup.controller.inputs[one.input].name));
        std::vector<std::vector<Cell>> rows;
        for (const study::Expectation& e : one.expected) {
            const MeterPoint point = e.place.point;
            rows.push_back({{words_of(model, e.place), false, {}},
                            number_cell(in_unit(e.value, point)),
                            number_cell(in_unit(e.low_value(), point)),
                            number_cell(in_unit(e.high_value(), point))});
        }
        page.table("Readings within these bands pass", {"reading", "expected", "from", "to"}, rows);
        rows.clear();
        std::vector<std::string> headings{"if"};
        for (const ReadingPlace& p : one.row_places) headings.push_back(words_of(model, p));
        for (const study::FaultRow& r : one.rows) {
            const std::string amount = amount_of(model, *r.fault, r.place, r.amount_factor);
            std::vector<Cell> row{{std::string(r.fault->title), false, {}}};
            if (!amount.empty()) row.front().small.push_back(amount);
            for (std::size_t i = 0; i < r.values.size(); ++i) {
                row.push_back(number_cell(in_unit(r.values[i], one.row_places[i].point)));
            }
            rows.push_back(std::move(row));
        }
        page.table("What another reading may mean", headings, rows);
    }
    page.heading("The card in full");
    page.report(expect_text(model, card, Colour::off));
    return page.html();
}

std::string text_page(std::string_view title, std::string_view report, std::string_view svg) {
    PageBuilder page(title);
    page.title_heading(title);
    if (!svg.empty()) page.picture(svg);
    page.report(report);
    return page.html();
}

}  // namespace plait::output
