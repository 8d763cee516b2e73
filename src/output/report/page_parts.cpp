#include "page_parts.hpp"

#include "check_words.hpp"
#include "render/style.hpp"
#include "work_words.hpp"

namespace plait::output {

using Cell = PageBuilder::Cell;
using rules::Outcome;

Cell number_cell(std::string words) { return {std::move(words), true, {}}; }

std::string page_title(const Setup& setup, std::string_view otherwise) {
    return setup.title.empty() ? std::string(otherwise) : setup.title;
}

std::string mark_of(rules::Outcome outcome, bool proven) {
    const std::string word(outcome == Outcome::within ? "within" : word_of(outcome));
    return fmt::format("{} {}{}", shape_of(outcome), word, proven ? "" : " ?");
}

std::vector<std::string> texts_of(const std::vector<study::Caution>& cautions) {
    std::vector<std::string> out;
    for (const study::Caution& c : cautions) {
        if (c.text != deferral) out.push_back(c.text);  // every page ends with it
    }
    return out;
}

std::string input_and_wiring(const Setup& setup, std::size_t input, const InputWiring& wiring) {
    return fmt::format("{}: {}", setup.controller.inputs[input].name, label(wiring, kind_ids(setup)));
}

void add_verdict(PageBuilder& page, const Setup& setup, const study::Judgement& j, std::string_view audience) {
    page.verdict(j.outcome, plan_words(setup, j));
    page.audience(audience);
    page.paragraph(sentence_of(j.outcome, j.proven));
}

void add_rules(PageBuilder& page, const std::vector<study::RuleVerdict>& verdicts) {
    std::vector<std::vector<Cell>> rows;
    for (const study::RuleVerdict* v : verdicts_in_order(verdicts)) {
        const rules::Finding& f = v->finding;
        Cell why{v->words.because, false, finding_notes(*v, verdicts)};
        rows.push_back({{std::string(v->rule->title), false, {mark_of(f.outcome, v->proven())}},
                        number_cell(in_unit(f.value, f.unit)),
                        {in_unit(f.limit, f.unit), true, {std::string(side_of(f.sense))}},
                        number_cell(in_unit(f.margin(), f.unit)),
                        std::move(why)});
    }
    page.table("Each rule: what was found, the limit, the room left, and whose limit it is",
               {"rule", "value", "limit", "room", "why"}, rows);
}

void add_outcome_marks(PageBuilder& page) {
    page.heading("What the marks mean");
    std::vector<PageBuilder::Mark> marks;
    const auto add = [&](Outcome outcome, const char* meaning) { marks.push_back({mark_of(outcome, true), meaning}); };
    add(Outcome::exceeds, "beyond a limit that must never be passed: do not connect");
    add(Outcome::falls_short, "does not reach what the input needs");
    add(Outcome::clips, "within the limits that protect the input; some sun is not taken");
    add(Outcome::needs, "within the limits once something is added, such as fuses");
    add(Outcome::undecided, "the papers do not say enough to decide");
    add(Outcome::within, "within the stated limit");
    marks.push_back({"?", "not proven: it rests on an assumed value, or is lost at the worst of the tolerances"});
    page.marks(marks);
}

void add_assumptions(PageBuilder& page, const std::vector<Assumption>& assumptions,
                     const std::vector<std::string>& doubts) {
    if (!assumptions.empty()) {
        page.heading(assumed_heading);
        page.numbered(assumption_lines(assumptions));
    }
    if (!doubts.empty()) {
        page.heading(doubtful_heading);
        page.list(doubts);
    }
}

}  // namespace plait::output
