#include "parts_of_reports.hpp"

#include "render/style.hpp"
#include "verdict_words.hpp"

namespace plait::output {

Report report_on(const Setup& setup, std::string kind, Provenance provenance) {
    Report report;
    report.title = setup.title;
    report.kind = std::move(kind);
    report.provenance = std::move(provenance);
    report.last_word = deferral;
    return report;
}

std::string input_and_wiring(const Setup& setup, std::size_t input, const InputWiring& wiring) {
    return fmt::format("{}: {}", setup.controller.inputs[input].name, label(wiring, kind_ids(setup)));
}

void add_next_steps(Report& report, std::vector<std::string> steps) {
    report.section(Purpose::next, "What to do next").add(Items{std::move(steps), Items::Kind::numbered});
}

void add_assumptions(Report& report, const std::vector<Assumption>& assumptions) {
    Items list{{}, Items::Kind::anchored};
    for (const Assumption& a : assumptions) {
        list.items.push_back(fmt::format("{}: {} = {} ({})", a.subject, a.what, a.value, a.why));
    }
    report.section(Purpose::detail, "Assumed, because it was not stated").add(std::move(list));
}

void add_doubts(Report& report, const std::vector<std::string>& doubts) {
    report.section(Purpose::look_up, "Doubtful, please check against the datasheet").add(Items{doubts});
}

std::vector<std::string> texts_of(const std::vector<study::Caution>& cautions) {
    std::vector<std::string> out;
    for (const study::Caution& c : cautions) {
        if (c.text != deferral) out.push_back(c.text);
    }
    return out;
}

void add_cautions(Report& report, const std::vector<study::Caution>& cautions, bool first_is_said) {
    std::vector<std::string> texts = texts_of(cautions);
    if (first_is_said && !texts.empty()) texts.erase(texts.begin());
    report.section(Purpose::caution, "Be careful").add(Cautions{std::move(texts)});
}

void add_legend(Report& report) { report.section(Purpose::legend, "What the words mean").add(verdict_marks()); }

Table table_of(std::string caption, std::initializer_list<std::string_view> headings) {
    Table table;
    table.caption = std::move(caption);
    for (const std::string_view heading : headings) {
        const bool number = !heading.empty() && heading.front() == '#';
        table.columns.push_back({std::string(number ? heading.substr(1) : heading), number});
    }
    return table;
}

}  // namespace plait::output
