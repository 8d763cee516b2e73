// What a cold open-circuit voltage is made of, for whoever has to check it by hand.
#pragma once

#include <plait/rules/cold_methods.hpp>
#include <plait/rules/rule.hpp>

#include <string>
#include <vector>

namespace plait::rules {

/// One kind of panel in one state, of those in the string that reaches the highest voltage.
struct ColdPart {
    std::size_t kind = 0;
    ColdVoltage voltage;
};

/// The parts of the highest string by a method, each once.
[[nodiscard]] std::vector<ColdPart> cold_parts(const Situation& s, ColdMethod method);
/// The basis of the least authority among them.
[[nodiscard]] ColdBasis least_authority(const std::vector<ColdPart>& parts);

/// "the code's table".
[[nodiscard]] std::string method_noun(const Site& site, ColdMethod method);
/// "Voc × 1.16 by the panels' own coefficient of −0.35 %/K": by the site's method, of every part.
[[nodiscard]] std::string cold_basis_words(const Situation& s);

}  // namespace plait::rules
