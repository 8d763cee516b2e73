// The commissioning card and what readings say, as text and as JSON.
#pragma once

#include <plait/output/text.hpp>
#include <plait/study/diagnosis.hpp>
#include <plait/study/expectation.hpp>

#include <string>

namespace plait::output {

/// The card, to be printed: 80 columns. Warnings first, then how to measure, what to read, and what else it may mean.
[[nodiscard]] std::string expect_text(const study::FieldModel& model, const study::Card& card, Colour colour);

/// What readings say: the verdict first, the likeliest faults, the bands; 80 columns.
[[nodiscard]] std::string readings_text(const study::FieldModel& model, const study::Card& card,
                                        const study::Diagnosis& diagnosis, Colour colour);

/// Card and readings (none: null) for programs.
[[nodiscard]] std::string expect_json(const study::FieldModel& model, const study::Card& card,
                                      const study::Diagnosis* diagnosis);

}  // namespace plait::output
