// The commissioning card and what readings say, in sentences and tables that text and page share.
#pragma once

#include <plait/measured/diagnosis.hpp>
#include <plait/measured/commissioning_card.hpp>

#include <plait/output/report.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

/// For what weather the card holds, and what would narrow its bands.
[[nodiscard]] std::vector<std::string> weather_sentences(const measured::CommissioningCard& card);
inline constexpr std::string_view do_not_connect = "Do not connect anything";
/// When to stop, each the end of a sentence that begins with `do_not_connect`.
[[nodiscard]] std::vector<std::string> stop_signs(const measured::FieldModel& model, const measured::CommissioningCard& card);
inline constexpr std::string_view measuring_heading = "How to measure, in this order";
/// How to measure, in order.
[[nodiscard]] std::vector<std::string> measuring_steps(const measured::FieldModel& model, const measured::CommissioningCard& card);
/// The insulation test of each input.
[[nodiscard]] std::vector<std::string> insulation_lines(const measured::FieldModel& model, const measured::CommissioningCard& card);
/// A row for each reading that can be foretold.
[[nodiscard]] Table expected_table(const measured::FieldModel& model, const measured::CommissioningCard& card,
                                        const measured::InputCard& one);
/// What the display cannot tell in this weather; empty where it can, or without light.
[[nodiscard]] std::string operating_note(const measured::CommissioningCard& card, const measured::InputCard& one);
/// What the displays are foretold with: the limit that inputs share, the set-up's cables.
[[nodiscard]] std::vector<std::string> display_notes(const measured::FieldModel& model, const measured::CommissioningCard& card);
/// What the readings would be under each fault; those outside their bands bear a star. Empty without light.
[[nodiscard]] Table fault_table(const measured::FieldModel& model, const measured::CommissioningCard& card,
                                     const measured::InputCard& one);
inline constexpr std::string_view bands_heading = "How the bands come about";
[[nodiscard]] std::vector<std::string> band_sentences(const measured::FieldModel& model, const measured::CommissioningCard& card);

/// What readings come to.
struct ReadingVerdict {
    std::string_view word;               ///< "PASS", "OUTSIDE", "DO NOT CONNECT"
    Tone tone;                           ///< whose colour and shape it has
    std::vector<std::string> sentences;  ///< why, and what to do
    bool stop = false;                   ///< each sentence is a warning
};
[[nodiscard]] ReadingVerdict verdict_of(const measured::FieldModel& model, const measured::CommissioningCard& card,
                                        const measured::Diagnosis& diagnosis);
/// A row for each reading with its band.
[[nodiscard]] Table checked_table(const measured::FieldModel& model, const measured::Diagnosis& diagnosis);

inline constexpr std::string_view suspects_heading = "The likeliest explanations";
/// A likely fault.
struct SuspectWords {
    std::string head;                ///< where and what
    std::string share;               ///< "43 %"
    std::vector<std::string> lines;  ///< how it shows, what would read
    std::string remedy;
};
/// The likely faults, the likeliest first; none where nothing points to any.
[[nodiscard]] std::vector<SuspectWords> suspect_words(const measured::FieldModel& model,
                                                      const measured::Diagnosis& diagnosis);
/// What stands before them, or instead of them: chance, none of them, what cannot be ruled out. May be empty.
[[nodiscard]] std::string before_suspects(const measured::FieldModel& model, const measured::Diagnosis& diagnosis);
/// Which two cannot be told apart, and what would part them. May be empty.
[[nodiscard]] std::string doubt_sentence(const measured::FieldModel& model, const measured::Diagnosis& diagnosis);
/// The cells' temperature as the open voltages tell it.
[[nodiscard]] std::vector<std::string> cell_sentences(const measured::FieldModel& model, const measured::CommissioningCard& card,
                                                      const measured::Diagnosis& diagnosis);
inline constexpr std::string_view cells_heading = "The cells' temperature, if the wiring is right (IEC 60904-5)";

}  // namespace plait::output
