#include <plait/input/read_wiring.hpp>

#include "quantity/notes.hpp"
#include "quantity/text_guard.hpp"
#include "wiring_text.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace plait::input {
namespace {

constexpr std::size_t longest_text = 10000;

WiringScope scope_of(const Setup& setup) {
    WiringScope scope;
    for (const PanelKind& kind : setup.kinds) {
        scope.kinds.push_back(wiring_kind(kind.id, kind.panel));
    }
    for (const Input& input : setup.controller.inputs) scope.inputs.push_back(input.name);
    return scope;
}

// "PV1=3s2p; PV2=unused", or one wiring for the first input.
std::optional<ArrayPlan> plan_from(std::string_view text, const WiringScope& scope, std::vector<WiringFault>& faults) {
    ArrayPlan plan(scope.inputs.size());
    if (text.find_first_of("=;") == std::string_view::npos) {
        auto wiring = wiring_from_text(text, 0, scope, faults);
        if (wiring && !plan.empty()) plan.front() = std::move(*wiring);
        return plan;
    }
    if (text.find_first_not_of("; \t") == std::string_view::npos) {
        faults.push_back({0, Complaint::wiring, "the wiring is empty. Write one such as 3s2p, or unused."});
        return plan;
    }
    std::vector<bool> named_before(plan.size(), false);
    std::size_t begin = 0;
    while (begin <= text.size()) {
        const std::size_t end = std::min(text.find(';', begin), text.size());
        const std::string_view part = text.substr(begin, end - begin);
        const std::size_t here = begin;
        begin = end + 1;
        if (trimmed(part).empty()) continue;  // a ; at the end does no harm
        const std::size_t equals = part.find('=');
        const std::size_t first = here + part.find_first_not_of(" \t");
        if (equals == std::string_view::npos) {
            faults.push_back(
                {first, Complaint::ambiguous, fmt::format("{} does not say for which input. Write {}; inputs: {}.", quoted(trimmed(part)),
                                    quoted(fmt::format("{}={}", scope.inputs.empty() ? "PV1" : scope.inputs.front(),
                                                       trimmed(part))),
                                    any_of(scope.input_names()))});
            continue;
        }
        const std::string_view name = trimmed(part.substr(0, equals));
        const auto input = scope.input(name);
        if (!input) {
            faults.push_back({first, Complaint::unknown_word,
                              fmt::format("no input is called {}. {}", named(name),
                                          suggestion(name, scope.input_names(), "Inputs"))});
        } else if (named_before[*input]) {
            faults.push_back(
                {first, Complaint::twice, fmt::format("{} is given twice. Keep one of the two.", named(name))});
        }
        auto wiring = wiring_from_text(part.substr(equals + 1), here + equals + 1, scope, faults);
        if (!input || !wiring) continue;
        named_before[*input] = true;
        plan[*input] = std::move(*wiring);
    }
    return plan;
}

}  // namespace

Result<ArrayPlan> read_wiring(std::string_view text, const std::string& where, const Setup& setup) {
    if (text.size() > longest_text) {
        return Failure{Diagnostics{{where, 1, 1, Complaint::how_many,
                                    fmt::format("the wiring is {} bytes long. Write it in the short form, such "
                                                "as 3s2p.",
                                                text.size())}}};
    }
    if (const auto complaint = encoding_complaint(text, where)) return Failure{Diagnostics{*complaint}};
    std::vector<WiringFault> faults;
    auto plan = plan_from(text, scope_of(setup), faults);
    if (faults.empty() && plan) return std::move(*plan);
    Diagnostics complaints;
    for (WiringFault& fault : faults) {
        complaints.push_back({where, 1, column_at(text, fault.offset), fault.kind, std::move(fault.message)});
    }
    return Failure{in_order(std::move(complaints))};
}

}  // namespace plait::input
