// Words for meter readings, places and faults.
#pragma once

#include <plait/measured/diagnosis.hpp>

#include <optional>
#include <string>

namespace plait::output {

/// A reading's value in its unit.
[[nodiscard]] std::string in_unit(double value, MeterPoint point);
/// "open voltage", "short-circuit current", "voltage" …
[[nodiscard]] std::string_view quantity_of(MeterPoint point);
/// "string 2, open voltage", with the input's name in front where several are used.
[[nodiscard]] std::string words_of(const measured::FieldModel& model, const ReadingPlace& place);
/// "string 2 of PV1", "all strings" … as the subject of a fault.
[[nodiscard]] std::string where_of(const measured::FieldModel& model, const measured::FaultPlace& place);
/// "43 % of the light left", "−0.45 %/K" …; empty for a fault without degrees.
[[nodiscard]] std::string amount_of(const measured::FieldModel& model, const measured::Fault& fault,
                                    const measured::FaultPlace& place, double amount_factor);
/// The same as a number for programs.
[[nodiscard]] std::string_view name_of(measured::AmountKind kind);
[[nodiscard]] std::string_view name_of(measured::StopReason reason);
/// Why not to connect, as a sentence.
[[nodiscard]] std::string sentence_of(const measured::FieldModel& model, const measured::Diagnosis& diagnosis,
                                      const measured::Stop& stop);

}  // namespace plait::output
