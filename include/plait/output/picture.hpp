// Pictures, as SVG. Each says in words what it shows (a title and a description) and needs no colour to be read.
#pragma once

#include <plait/output/forward.hpp>

#include <string>
#include <string_view>

namespace plait::output {

/// How every picture's file begins, so that no other file is written over.
inline constexpr std::string_view picture_mark = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!-- a Plait picture -->";

/// A picture for a page (no style sheet of its own) or for a file.
enum class PictureUse { on_page, in_file };

// A picture in a file carries the verdict of the plan it belongs to and the deferral; one of a single wiring that must not
// be connected bears the word EXCEEDS across it.

/// Volts across, amps up: what the input takes, the line never to cross, each wiring's way through. `plan`: that of the
/// one wiring, or of the one advised.
[[nodiscard]] std::string window_map_svg(const Setup& setup, const study::WindowMap& map, const study::Verdict& plan,
                                         PictureUse use);

/// The wiring of one judged input: every panel with its polarity, links, fuses, blocking diodes, cables with size and
/// length, joints, the disconnect and the plug, volts and amps at each place.
[[nodiscard]] std::string wiring_svg(const Setup& setup, const study::InputJudgement& judged, const study::Verdict& plan,
                                     PictureUse use);

/// The wirings of `trade_offs` (at least one) as numbered points: harvest, harvest with one panel shaded, room in the
/// cold, joints; the advised one marked.
[[nodiscard]] std::string trade_off_svg(const Setup& setup, const search::Arrangement& arrangement,
                                        const study::Verdict& advised, PictureUse use);

/// Current and power over the voltage, with every maximum and where the input holds it.
[[nodiscard]] std::string curve_svg(const study::SystemModel& system, const study::InputCurve& curve,
                                    const study::Verdict& plan, PictureUse use);

/// A battery's day, or its days until the wanted charge: watts on offer and taken, the charge, and what sets the pace.
[[nodiscard]] std::string charge_svg(const Setup& setup, const study::ChargeSheet& sheet, const study::Verdict& plan,
                                     PictureUse use);

/// A log: what the array could give, what was expected, what was measured, the cause as a band below, and the account.
[[nodiscard]] std::string log_svg(const Setup& setup, const measured::LogAccount& account,
                                  const measured::LogSeries& series, const study::Verdict& plan, PictureUse use);

/// A bench sweep: every reading, the laws that fit, and between which readings something changes.
[[nodiscard]] std::string sweep_svg(const measured::LearnSheet& sheet, PictureUse use);

/// A day hour by hour: what the panels could give, what is delivered, and a band of what limits.
[[nodiscard]] std::string harvest_day_svg(const Setup& setup, const study::HarvestSheet& sheet, const study::Verdict& plan,
                                          PictureUse use);
/// A year by month: what is delivered, and on top of it every group of losses.
[[nodiscard]] std::string harvest_year_svg(const Setup& setup, const study::HarvestSheet& sheet, const study::Verdict& plan,
                                           PictureUse use);
/// Every hour of every day: dark, light, or limited, and by what.
[[nodiscard]] std::string harvest_carpet_svg(const Setup& setup, const study::HarvestSheet& sheet, const study::Verdict& plan,
                                             PictureUse use);
/// The sun's way on four days above the horizon that a plane states. The set-up has a location and that plane.
[[nodiscard]] std::string horizon_svg(const Setup& setup, std::size_t plane, const study::Verdict& plan, PictureUse use);

}  // namespace plait::output
