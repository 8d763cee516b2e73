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
    std::optional<bool> recovered;  ///< "recovered: yes", "came back by itself", "did not recover"
};
[[nodiscard]] SaidInWords said_in(std::string_view remark);
/// Whether a column of this title holds such remarks.
[[nodiscard]] bool titles_remarks(std::string_view title);
/// Whether it came back by itself after a trip, as far as a text says so: in one step, without the other states.
[[nodiscard]] std::optional<bool> recovered_in(std::string_view text);
/// Whether a column of this title says so, by yes and no.
[[nodiscard]] bool titles_recovery(std::string_view title);

/// Empty, dashes, "n/a", "null", "nan", "unavailable" and their like: not measured.
[[nodiscard]] bool says_not_measured(std::string_view cell);

/// Whether a line begins like one below a table: "Total", "Average", "Summe", "End of …".
[[nodiscard]] bool says_summary(std::string_view line);

}  // namespace plait::input
