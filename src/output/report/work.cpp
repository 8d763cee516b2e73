#include <plait/output/work.hpp>

#include "data/csv_field.hpp"
#include "data/json_parts.hpp"
#include "render/style.hpp"
#include "work_words.hpp"

namespace plait::output {
namespace {

std::string heading(const Setup& setup, const study::Judgement& judgement, Colour colour) {
    return fmt::format("{}  {}\n{}\n\n", coloured(word_of(judgement.outcome), judgement.outcome, colour),
                       plan_words(setup, judgement), wrapped(sentence_of(judgement.outcome, judgement.proven), 0));
}

Json plan_head(const char* command, const Setup& setup, const study::Judgement& judgement) {
    Json j = head(command);
    j["title"] = setup.title;
    j["wiring"] = plan_words(setup, judgement);
    j["verdict"] = rules::name_of(judgement.outcome);
    j["proven"] = judgement.proven;
    return j;
}

std::string step_lines(const std::vector<study::Step>& steps) {
    std::string out;
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const study::Step& s = steps[i];
        out += fmt::format("{} {}{}\n", padded_left(fmt::format("{}.", i + 1), 4), padded(live_words(s), 13),
                           wrapped(s.text, 18));
        for (const study::Caution& c : s.cautions) {
            out += "                  " + wrapped("! " + c.text, 18) + "\n";
        }
    }
    return out;
}

Json steps_list(const std::vector<study::Step>& steps) {
    Json list = Json::array();
    for (const study::Step& s : steps) {
        list.push_back({{"id", s.id},
                        {"text", s.text},
                        {"voltage_v", maybe(s.voltage_v)},
                        {"cautions", cautions_json(s.cautions)}});
    }
    return list;
}

}  // namespace

std::string parts_text(const Setup& setup, const study::Judgement& judgement, const std::vector<study::PartLine>& parts,
                       Colour colour) {
    std::string out = heading(setup, judgement, colour);
    out += bold("Parts", colour) + "\n";
    for (const study::PartLine& p : parts) {
        out += fmt::format("{}  {}\n", padded_left(count_words(p), 9),
                           wrapped(fmt::format("{} ({})", p.what, p.where), 11));
        if (!p.note.empty()) out += "           " + wrapped(p.note, 11) + "\n";
    }
    const std::string price = price_sentence(setup, parts);
    if (!price.empty()) out += "\n" + price + "\n";
    const std::string no_cables = no_cables_sentence(setup);
    if (!no_cables.empty()) out += "\n" + wrapped(no_cables, 0) + "\n";
    return out + "\n" + wrapped(deferral, 0) + "\n";
}

std::string parts_csv(const std::vector<study::PartLine>& parts) {
    std::string out = "item,what,where,count,unit,note,price\n";
    for (const study::PartLine& p : parts) {
        out += fmt::format("{},{},{},{:.12g},{},{},{}\n", p.id, csv_field(p.what), csv_field(p.where), p.count,
                           p.measured == study::Measured::metres ? "m" : "pieces", csv_field(p.note),
                           p.price ? fmt::format("{:.2f}", *p.price) : std::string());
    }
    return out;
}

std::string parts_json(const Setup& setup, const study::Judgement& judgement,
                       const std::vector<study::PartLine>& parts) {
    Json j = plan_head("parts", setup, judgement);
    j["currency"] = setup.currency;
    j["parts"] = Json::array();
    for (const study::PartLine& p : parts) {
        j["parts"].push_back({{"item", p.id},
                              {"what", p.what},
                              {"where", p.where},
                              {"count", number(p.count)},
                              {"unit", p.measured == study::Measured::metres ? "m" : "pieces"},
                              {"note", p.note},
                              {"price", maybe(p.price)}});
    }
    return printed(j);
}

std::string steps_text(const Setup& setup, const study::Judgement& judgement, const study::StepList& steps,
                       Colour colour) {
    std::string out = heading(setup, judgement, colour);
    out += bold("Wiring it", colour) + "\n" + step_lines(steps.connect);
    if (!steps.take_apart.empty()) out += "\n" + bold("Taking it apart", colour) + "\n" + step_lines(steps.take_apart);
    return out + "\n" + wrapped(fmt::format("{} {}", step_voltages, deferral), 0) + "\n";
}

std::string steps_json(const Setup& setup, const study::Judgement& judgement, const study::StepList& steps) {
    Json j = plan_head("steps", setup, judgement);
    j["connect"] = steps_list(steps.connect);
    j["take_apart"] = steps_list(steps.take_apart);
    return printed(j);
}

}  // namespace plait::output
