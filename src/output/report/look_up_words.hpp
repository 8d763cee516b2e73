// Which assumed figures to look up first, in words.
#pragma once

#include <plait/output/report.hpp>
#include <plait/study/look_up.hpp>

#include <string>

namespace plait::output {

/// That an assumed figure could carry the plan past a limit, and which; empty where none could.
[[nodiscard]] std::string could_exceed_sentence(const study::Judgement& judgement, const study::LookUpList& look_ups);

/// The first three to look up, with what each would settle and where it is printed; the others as one line. Those beyond
/// the three are in the detail.
void add_look_ups(Report& report, const study::Judgement& judgement, const study::LookUpList& look_ups);

}  // namespace plait::output
