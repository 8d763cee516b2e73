// The protocol of an input's protections: what a sweep saw each of them do, and whether that keeps to the print.
#pragma once

#include <plait/measured/window_comparison.hpp>

#include <optional>
#include <vector>

namespace plait::measured {

enum class Protection { start, current, power, trip, said_error, recovery };
enum class ProtectionResult {
    pass,
    not_pass,
    seen,      ///< seen, and nothing printed to hold it to
    not_seen,  ///< the sweep did not get there, or did not look
};

struct ProtectionCheck {
    Protection what = Protection::start;
    ProtectionResult result = ProtectionResult::not_seen;
    std::optional<double> printed_value;  ///< V, A or W
    std::optional<double> value;          ///< measured; of a voltage between two readings the middle
    std::optional<Interval> between_v;    ///< … and the two
    int line = 0;                         ///< of the reading that shows it; 0: of several
    bool said = false;                    ///< noted in words, without a voltage
};

/// One line for each protection, in the order in which a session meets them. An input passes that starts no later than
/// printed, takes no more than printed (`usual_error_ratio` more, where no accuracy of the meters was given), and trips
/// at the printed maximum or above. `recovered` is what was noted in words; empty: nothing was.
[[nodiscard]] std::vector<ProtectionCheck> protections_of(const LearnedWindow& window, const std::vector<Compared>& compared,
                                                          const std::optional<bool>& recovered, double usual_error_ratio);

}  // namespace plait::measured
