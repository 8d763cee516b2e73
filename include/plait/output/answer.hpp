// The verdict of one wiring in short: what is said first, for who draws it anew at every change.
#pragma once

#include <plait/output/json_value.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/look_up.hpp>

namespace plait::output {

/// A part of `check_json`, with its names and values: verdict, conditions, what decides it and is not within, assumptions,
/// what to look up first, hot spots. Tables, rules that hold and cautions are left out.
[[nodiscard]] Json answer(const Setup& setup, const study::Judgement& judgement, const study::LookUpList& look_ups);

}  // namespace plait::output
