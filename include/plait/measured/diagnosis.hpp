// What readings say: within their bands or not, when not to connect, and which fault explains them best.
//
// Every fault's readings come from the same curves as the expectation. Readings are taken to scatter around them with
// one Gaussian, the same for every fault: what the strings differ from their datasheet, light, temperature and meter,
// each at half its stated (95 %) accuracy. Errors that strike several readings at once strike them together: light and
// temperature all, a string's own deviation what that string feeds; half of its variance is shared by all strings [our
// choice, no source]. A fault that comes in degrees counts with all its degrees, equally likely. No reading is compared
// with a threshold to choose a fault.
#pragma once

#include <plait/measured/commissioning_card.hpp>

#include <optional>
#include <vector>

namespace plait::measured {

struct CheckedReading {
    MeterReading reading;
    Expectation expected;
    bool within = false;  ///< the band
};

struct SuspectedFault {
    const Fault* fault = nullptr;
    FaultPlace place;
    std::optional<double> amount_factor;  ///< the likeliest, of a fault that comes in degrees
    double probability_ratio = 0.0;
    std::vector<double> would_read;  ///< at the places of the readings given
};

/// Two explanations that the readings given do not tell apart: less than two standard deviations of them lie between.
struct Ambiguity {
    std::size_t first = 0;  ///< of the suspects
    std::size_t second = 0;
    std::optional<ReadingPlace> further;  ///< the reading that would part them best; none: no reading does today
    double first_reading_value = 0.0;
    double second_reading_value = 0.0;
};

/// Why nothing may be connected.
enum class StopReason {
    reversed,              ///< a minus sign
    over_maximum,          ///< more than the input's absolute maximum
    over_maximum_in_cold,  ///< … on the coldest morning, scaled from this reading
    strings_unlike,        ///< strings to be joined differ by more than the array's accuracy
    over_short_circuit,    ///< more than the input's short-circuit rating
    fault_first,           ///< the likeliest explanation is a fault to be put right before
};

struct Stop {
    StopReason reason = StopReason::reversed;
    ReadingPlace place;
    std::optional<ReadingPlace> other;
    double value = 0.0;
    double limit = 0.0;
};

/// The cells' temperature from an open-circuit voltage, as IEC 60904-5 does it: the temperature at which the curve has
/// this voltage.
struct CellFromVoc {
    ReadingPlace place;
    Celsius cell;
    double half_k = 0.0;              ///< ± of it all, 95 % of cases
    double voltage_half_k = 0.0;      ///< from datasheet and meter
    double light_half_k = 0.0;        ///< from the irradiance
    double coefficient_half_k = 0.0;  ///< from the Voc coefficient
};

struct Diagnosis {
    std::vector<CheckedReading> readings;
    bool all_within = false;
    double sound_ratio = 0.0;              ///< probability that nothing is wrong
    double unknown_ratio = 0.0;            ///< that something is which no fault of the list describes
    std::vector<SuspectedFault> suspects;  ///< likeliest first; 1 % and more, the first two always
    std::optional<Ambiguity> ambiguity;            ///< about the first suspect
    std::vector<Stop> stops;
    std::vector<CellFromVoc> cell_temperatures;

    [[nodiscard]] bool pass() const { return all_within && stops.empty(); }
};

/// Readings at places of the plan, each place once; at least one.
[[nodiscard]] Diagnosis diagnose(const FieldModel& model, const std::vector<MeterReading>& readings);

/// What a Voc coefficient may be off by: ±10 % of it [common practice, no source].
inline constexpr double coefficient_accuracy_ratio = 0.10;

}  // namespace plait::measured
