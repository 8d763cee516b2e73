// What has to be bought or found for a plan.
#pragma once

#include <plait/study/judgement.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::study {

enum class Measured { pieces, metres };

struct PartLine {
    std::string_view id;  ///< "panel", "cable", "string-fuse" …
    std::string what;     ///< "DC fuse made for PV, 15 A"
    std::string where;    ///< "each string of PV1"
    double count = 0.0;
    Measured measured = Measured::pieces;
    std::string note{};                           ///< how it is chosen, placed or fitted; may be empty
    std::optional<double> price{};                ///< of all of them, in the set-up's currency
    std::string_view source{};                    ///< of the note and the rating, where they have one
    std::optional<rules::ConditionKind> meets{};  ///< the condition of the verdict that it meets; empty: none
};

/// The list for a judged plan: panels, cable by length and size, connectors, branches, fuses, disconnects.
/// Cable and connectors are in it where the set-up states its cables.
[[nodiscard]] std::vector<PartLine> parts_of(const Setup& setup, const Judgement& judgement);

/// What the priced lines come to; empty where none has a price.
[[nodiscard]] std::optional<double> price_of(const std::vector<PartLine>& parts);

}  // namespace plait::study
