#include <plait/output/page.hpp>

#include "arrange_words.hpp"
#include "expect_words.hpp"
#include "page_parts.hpp"
#include "style.hpp"

namespace plait::output {
namespace {

using Cell = PageBuilder::Cell;

}  // namespace

std::string expect_page(const study::FieldModel& model, const study::Card& card, const study::Diagnosis* diagnosis) {
    const Setup& setup = model.bench().setup();
    PageBuilder page(page_title(setup, "Commissioning card"));
    page.title_heading(fmt::format("Commissioning card: {}", plan_label(setup, model.plan())));
    page.cautions(texts_of(card.cautions));
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

}  // namespace plait::output
