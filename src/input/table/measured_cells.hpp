// The cells of a measured table that hold words: states, remarks, what was not measured.
#pragma once

#include <plait/input/measured_table.hpp>

#include <optional>
#include <string_view>

namespace plait::input {

/// The state a word stands for.
[[nodiscard]] std::optional<MeasuredState> written_state(std::string_view word);

/// What a remark in a person's own words says: "TRIP!", "still off", "supply in CC".
struct SaidInWords {
    MeasuredState state = MeasuredState::unsaid;
    bool supply_was_the_limit = false;
};
[[nodiscard]] SaidInWords said_in(std::string_view remark);
/// Whether a column of this title holds such remarks.
[[nodiscard]] bool titles_remarks(std::string_view title);

/// Empty, dashes, "n/a", "null", "nan", "unavailable" and their like: not measured.
[[nodiscard]] bool says_not_measured(std::string_view cell);

/// Whether a line begins like one below a table: "Total", "Average", "Summe", "End of …".
[[nodiscard]] bool says_summary(std::string_view line);

}  // namespace plait::input
