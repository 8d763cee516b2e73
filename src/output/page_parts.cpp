#include "page_parts.hpp"

#include <plait/output/page.hpp>

#include "style.hpp"

#include <algorithm>

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
    for (const study::Caution& c : cautions) out.push_back(c.text);
    return out;
}

void add_rules(PageBuilder& page, const std::vector<study::RuleVerdict>& verdicts) {
    std::vector<const study::RuleVerdict*> order;
    for (const study::RuleVerdict& v : verdicts) {
        if (v.finding.decides) order.push_back(&v);
    }
    std::stable_sort(order.begin(), order.end(), [](const study::RuleVerdict* a, const study::RuleVerdict* b) {
        return a->finding.outcome > b->finding.outcome;
    });
    std::vector<std::vector<Cell>> rows;
    for (const study::RuleVerdict* v : order) {
        const rules::Finding& f = v->finding;
        Cell why{v->words.because, false, {}};
        if (!v->words.instead.empty()) why.small.push_back("→ " + v->words.instead);
        if (f.outcome >= Outcome::needs && f.outcome != Outcome::clips) {
            why.small.push_back(fmt::format("Otherwise: {}.", v->rule->harm));
        }
        why.small.push_back(fmt::format("Source: {}", v->source()));
        rows.push_back(
            {{std::string(v->rule->title), false, {mark_of(f.outcome, v->proven())}},
             number_cell(in_unit(f.value, f.unit)),
             number_cell(fmt::format("{} {}", f.sense == rules::Sense::at_most ? "≤" : "≥", in_unit(f.limit, f.unit))),
             number_cell(in_unit(f.margin(), f.unit)),
             why});
    }
    page.table("Each rule: what was found, the limit, the room left, and whose limit it is",
               {"rule", "value", "limit", "room", "why"}, rows);
}

void add_assumptions(PageBuilder& page, const std::vector<Assumption>& assumptions,
                     const std::vector<std::string>& doubts) {
    if (!assumptions.empty()) {
        page.heading("Assumed, because it was not stated");
        std::vector<std::string> items;
        for (const Assumption& a : assumptions)
            items.push_back(fmt::format("{}: {} = {} ({})", a.subject, a.what, a.value, a.why));
        page.list(items);
    }
    if (!doubts.empty()) {
        page.heading("Figures that look doubtful");
        page.list(doubts);
    }
}

std::string text_page(std::string_view title, std::string_view report, std::string_view svg) {
    PageBuilder page(title);
    page.title_heading(title);
    if (!svg.empty()) page.picture(svg);
    page.report(report);
    return page.html();
}

}  // namespace plait::output
