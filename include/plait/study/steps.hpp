// The order of work that keeps hands away from live parts.
#pragma once

#include <plait/study/site_state.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::study {

struct Step {
    std::string_view id;  ///< of the last of its actions
    std::string text;
    std::optional<double> voltage_v;     ///< the most there can be at the hands, DC; empty: nothing there is live
    std::vector<Caution> cautions;       ///< each once in the list, where it first matters; that of the voltage first
    std::vector<Action> actions{};       ///< in this order
    std::optional<std::size_t> input{};  ///< which of the judgement's inputs; empty: the whole site
    Contact contact = Contact::none;     ///< the barest of its actions
    SiteState before{};
    SiteState after{};
    /// Bare parts above the touch limit, or a voltage hazardous to life: not for the owner.
    bool for_qualified_person = false;
};

struct StepList {
    std::vector<Step> connect;
    std::vector<Step> take_apart;
};

/// What the set-up's file does not say.
struct WorkChoice {
    bool disconnect = true;  ///< there is one before each input, as `parts_of` lists it
};

/// The steps for a judged plan; of a plan outside the limits one: do not build it. Each step begins in the state that
/// the one before it left.
[[nodiscard]] StepList steps_of(const Setup& setup, const Judgement& judgement, const WorkChoice& choice = {});

}  // namespace plait::study
