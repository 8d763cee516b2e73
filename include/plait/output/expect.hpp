// The commissioning card and what readings say, as text and as JSON.
#pragma once

#include <plait/measured/diagnosis.hpp>
#include <plait/measured/commissioning_card.hpp>
#include <plait/output/text.hpp>

#include <string>

namespace plait::output {

/// The card, to be printed: 80 columns. Warnings first, then how to measure, what to read, and what else it may mean.
[[nodiscard]] std::string expect_text(const measured::FieldModel& model, const measured::CommissioningCard& card, Colour colour);

/// What readings say: the verdict first, the likeliest faults, the bands; 80 columns.
[[nodiscard]] std::string readings_text(const measured::FieldModel& model, const measured::CommissioningCard& card,
                                        const measured::Diagnosis& diagnosis, Colour colour);

/// CommissioningCard and readings (none: null) for programs.
[[nodiscard]] std::string expect_json(const measured::FieldModel& model, const measured::CommissioningCard& card,
                                      const measured::Diagnosis* diagnosis);

}  // namespace plait::output
