// The words column names are made of, in the languages meters and loggers speak.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace plait::input {

/// What a word says of a column; a fused word ("vin", "Modultemperatur") says several things.
namespace says {
inline constexpr std::uint32_t volts = 1U << 0U;
inline constexpr std::uint32_t amps = 1U << 1U;
inline constexpr std::uint32_t watts = 1U << 2U;
inline constexpr std::uint32_t temperature = 1U << 3U;
inline constexpr std::uint32_t irradiance = 1U << 4U;
inline constexpr std::uint32_t charge_state = 1U << 5U;
inline constexpr std::uint32_t state = 1U << 6U;
inline constexpr std::uint32_t limit = 1U << 7U;
inline constexpr std::uint32_t time = 1U << 8U;
inline constexpr std::uint32_t date = 1U << 9U;
inline constexpr std::uint32_t elapsed = 1U << 10U;  ///< a time that counts from the start
inline constexpr std::uint32_t pv = 1U << 11U;       ///< of the panels, or of the input they feed
inline constexpr std::uint32_t panel = 1U << 12U;    ///< the same, and what a temperature may be of
inline constexpr std::uint32_t air = 1U << 13U;
inline constexpr std::uint32_t battery = 1U << 14U;
inline constexpr std::uint32_t wall = 1U << 15U;
inline constexpr std::uint32_t charging = 1U << 16U;
inline constexpr std::uint32_t supply = 1U << 17U;
inline constexpr std::uint32_t light = 1U << 18U;   ///< of the sun, in names of an irradiance only
inline constexpr std::uint32_t filler = 1U << 19U;  ///< "measured", "of the"
inline constexpr std::uint32_t display = 1U << 21U;  ///< of the input's own display
inline constexpr std::uint32_t number = 1U << 20U;  ///< of an input: "1"
inline constexpr std::uint32_t horizontal = 1U << 24U;  ///< on flat ground, in names of an irradiance only
}  // namespace says

/// What a word in small letters without accents says; empty for words that are not known.
[[nodiscard]] std::optional<std::uint32_t> word_says(std::string_view word);

/// Small letters without accents, blanks for _ - . and tabs, single blanks; ° and ² also from the one-byte encodings
/// of older loggers. "MW" stays in capitals, as it is not "mW".
[[nodiscard]] std::string normal_name(std::string_view text);

/// Words run together ("PvVoltage") parted at their capitals; what stands in brackets is left alone.
[[nodiscard]] std::string parted_at_capitals(std::string_view text);

}  // namespace plait::input
