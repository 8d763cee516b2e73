#include <plait/output/work.hpp>

#include "csv_field.hpp"
#include "json_parts.hpp"
#include "style.hpp"

#include <cmath>

namespace plait::output {
namespace {

constexpr std::string_view deferral =
    "This is arithmetic on stated values, not an approval: the local code, the makers' manuals and a licensed "
    "electrician "
    "have the last word.";

std::string plan_text(const Setup& setup, const study::Judgement& judgement) {
    std::string text;
    for (const study::InputJudgement& one : judgement.inputs) {
        text += fmt::format("{}{} = {}", text.empty() ? "" : "; ", setup.controller.inputs[one.input].name,
                            label(one.wiring, kind_ids(setup)));
    }
    return text;
}

std::string heading(const Setup& setup, const study::Judgement& judgement, Colour colour) {
    return fmt::format("{}  {}\n{}\n\n", coloured(word_of(judgement.outcome), judgement.outcome, colour),
                       plan_text(setup, judgement), wrapped(sentence_of(judgement.outcome, judgement.proven), 0));
}

std::string count_text(const study::PartLine& p) {
    return p.measured == study::Measured::metres ? fmt::format("{:.1f} m", p.count) : fmt::format("{:.0f} ×", p.count);
}

Json plan_head(const char* command, const Setup& setup, const study::Judgement& judgement) {
    Json j = head(command);
    j["title"] = setup.title;
    j["wiring"] = plan_text(setup, judgement);
    j["verdict"] = rules::name_of(judgement.outcome);
    j["proven"] = judgement.proven;
    return j;
}

std::string step_lines(const std::vector<study::Step>& steps) {
    std::string out;
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const study::Step& s = steps[i];
        const std::string live =
            s.voltage_v ? fmt::format("up to {:.0f} V", std::ceil(*s.voltage_v)) : std::string("dead");
        out +=
            fmt::format("{} {}{}\n", padded_left(fmt::format("{}.", i + 1), 4), padded(live, 13), wrapped(s.text, 18));
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
    double price = 0.0;
    for (const study::PartLine& p : parts) {
        out += fmt::format("{}  {}\n", padded_left(count_text(p), 9),
                           wrapped(fmt::format("{} ({})", p.what, p.where), 11));
        if (!p.note.empty()) out += "           " + wrapped(p.note, 11) + "\n";
        price += p.price.value_or(0.0);
    }
    if (price > 0.0) {
        out +=
            fmt::format("\nThe panels come to {:.2f}{}{}.\n", price, setup.currency.empty() ? "" : " ", setup.currency);
    }
    if (setup.cables.empty()) {
        out += "\n" +
               wrapped("The set-up has no [[cable]]: add them with their lengths, and they are listed here.", 0) + "\n";
    }
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
    return out + "\n" +
           wrapped("Voltages are the most there can be at the hands, on the coldest morning. " + std::string(deferral),
                   0) +
           "\n";
}

std::string steps_json(const Setup& setup, const study::Judgement& judgement, const study::StepList& steps) {
    Json j = plan_head("steps", setup, judgement);
    j["connect"] = steps_list(steps.connect);
    j["take_apart"] = steps_list(steps.take_apart);
    return printed(j);
}

}  // namespace plait::output
