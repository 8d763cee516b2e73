// What a row of a log may be a case of, and what each case would cost.
#pragma once

#include <plait/measured/log_explanation.hpp>

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace plait::measured {

/// Hypotheses about one row; one of them holds.
enum class RowState : std::uint8_t {
    works,
    waiting,  ///< below the voltage at which the input starts
    tripped,
    slowing,  ///< the battery takes less
    stopped,  ///< … or nothing any more
    wall,
    display,
    shade_all,
    shade_part,
    bypassed,
    missing,
    local_maximum,
    fixed_voltage,
    slow_tracker,
    unexplained,
};
inline constexpr std::size_t state_count = 15;
template <class T>
using ByState = std::array<T, state_count>;
[[nodiscard]] constexpr std::size_t index_of(RowState s) { return static_cast<std::size_t>(s); }

/// The limits that may hold an array, as `StateAccount` counts them.
inline constexpr std::array limit_causes{Cause::power_limit, Cause::current_limit, Cause::below_window,
                                         Cause::above_window, Cause::no_tracker};

/// What the array would have given and the input taken, in the weather that a hypothesis makes most probable.
struct StateAccount {
    double irradiance_w_per_m2 = 0.0;
    double cell_degc = 0.0;
    double free_w = 0.0;
    double free2_w2 = 0.0;  ///< mean square of the same, where the weather is open
    double cool_w = 0.0;
    double cableless_w = 0.0;
    double held_w = 0.0;
    double held_v = 0.0;
    std::array<double, limit_causes.size()> limit_w{};  ///< what each limit takes
    std::size_t band = 0;
    Cause decided = Cause::less_light;  ///< what decides where everything works
};

/// What would be charged to shade of what `RowState::local_maximum` takes, and the shade that fits best.
struct RowShade {
    double possible_w = 0.0;  ///< with the shade, at the best of its maxima
    std::uint16_t family = 0;
    float light_ratio = 0.0F;
};

/// How the shares of time beforehand depend on a row.
struct RowPriors {
    float slowing = 0.0F;
    float stopped = 0.0F;
    bool wall = false;
    float little = 0.0F;  ///< how sure it is, in tenths, that less than the display shows is to be had
    bool light_known = false;
};

/// One row with everything the chain over the rows and the account need.
struct RowEvidence {
    LogRow row;
    double step_s = 0.0;  ///< since the row before
    bool first = false;   ///< nothing is known of the time before
    double measured_w = 0.0;
    RowPriors priors;
    ByState<float> like{};   ///< how probable the row is under each, up to a factor
    ByState<float> ahead{};  ///< of the chain: by what came before, then by all
    ByState<std::int32_t> account{};  ///< into the block's accounts; −1: none
    RowShade shade_part;
    RowShade local;
    bool lags = false;       ///< a slow tracker would be off its maximum here
    bool wall_holds = false;  ///< what the wall leaves is less than the input would draw
    Teller lacks = Teller::nothing;
};

struct RowBlock {
    std::vector<RowEvidence> rows;
    std::vector<StateAccount> accounts;

    void clear() {
        rows.clear();
        accounts.clear();
    }
};

}  // namespace plait::measured
