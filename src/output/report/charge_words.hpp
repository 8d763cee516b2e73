// Sentences and tables about charging that report and picture share.
#pragma once

#include <plait/output/report.hpp>
#include <plait/study/charge_sheet.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

/// "21 June", with the year where the weather's years say something.
[[nodiscard]] std::string day_words(const study::ChargeSheet& sheet, int day);
/// "80 %", "full"
[[nodiscard]] std::string charge_words(double ratio);
/// What sets the pace, for a list: "all that sun and wall offer".
[[nodiscard]] std::string limit_words(const study::ChargeSheet& sheet, study::ChargeLimit limit);

/// When, or how far: the answer, in a sentence or two.
[[nodiscard]] std::string charge_answer(const study::ChargeSheet& sheet);
/// The same without the wall; empty where there is none.
[[nodiscard]] std::string sun_alone_sentence(const study::ChargeSheet& sheet);
/// What clocks show while they are ahead of the times of the report; empty where they are not.
[[nodiscard]] std::string clock_sentence(const Setup& setup, const study::ChargeSheet& sheet);
/// Which way the panels are taken to look, where the set-up does not say it.
[[nodiscard]] std::string plane_sentence(const study::ChargeSheet& sheet);
/// What of the sun is turned away, and why; what the input does not take before that, if it is worth a word.
[[nodiscard]] std::string turned_away_sentence(const study::ChargeSheet& sheet);
[[nodiscard]] std::string input_sentence(const study::ChargeSheet& sheet);
/// Too cold to charge, loads not served: what should not be missed.
[[nodiscard]] std::vector<std::string> charge_warnings(const study::ChargeSheet& sheet);
[[nodiscard]] std::string autonomy_sentence(const study::ChargeSheet& sheet);
/// On which months' days it is reached.
[[nodiscard]] std::string months_sentence(const study::ChargeSheet& sheet);
/// What the light is made of, and what is left out.
[[nodiscard]] std::vector<std::string> charge_basis(const Setup& setup, const study::ChargeSheet& sheet);

/// The stretches of the day; its energy from panels to battery; every interval; the months.
[[nodiscard]] Table span_table(const study::ChargeSheet& sheet);
[[nodiscard]] Table energy_table(const study::ChargeSheet& sheet);
[[nodiscard]] Table interval_table(const study::ChargeSheet& sheet);
[[nodiscard]] Table month_table(const study::ChargeSheet& sheet);

}  // namespace plait::output
