#include "work_words.hpp"

#include "render/style.hpp"

#include <cmath>

namespace plait::output {

std::string plan_words(const Setup& setup, const study::Judgement& judgement) {
    std::string text;
    for (const study::InputJudgement& one : judgement.inputs) {
        text += fmt::format("{}{} = {}", text.empty() ? "" : "; ", setup.controller.inputs[one.input].name,
                            label(one.wiring, kind_ids(setup)));
    }
    return text;
}

std::string count_words(const study::PartLine& p) {
    return p.measured == study::Measured::metres ? fmt::format("{:.1f} m", p.count) : fmt::format("{:.0f} ×", p.count);
}

std::string price_sentence(const Setup& setup, const std::vector<study::PartLine>& parts) {
    double price = 0.0;
    for (const study::PartLine& p : parts) price += p.price.value_or(0.0);
    if (!(price > 0.0)) return "";
    return fmt::format("The panels come to {:.2f}{}{}.", price, setup.currency.empty() ? "" : " ", setup.currency);
}

std::string no_cables_sentence(const Setup& setup) {
    return setup.cables.empty() ? "The set-up has no [[cable]]: add them with their lengths, and they are listed here."
                                : "";
}

std::string live_words(const study::Step& step) {
    return step.voltage_v ? fmt::format("up to {:.0f} V", std::ceil(*step.voltage_v)) : std::string("dead");
}

}  // namespace plait::output
