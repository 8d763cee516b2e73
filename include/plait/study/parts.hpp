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
    std::string note{};             ///< what to heed; may be empty
    std::optional<double> price{};  ///< of all of them, in the set-up's currency
};

/// The list for a judged plan: panels, cable by length and size, connectors, branches, fuses, disconnects.
[[nodiscard]] std::vector<PartLine> parts_of(const Setup& setup, const Judgement& judgement);

}  // namespace plait::study
