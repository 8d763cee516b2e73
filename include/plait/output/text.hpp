#pragma once

#include <plait/search/arrangement.hpp>
#include <plait/study/curve_sheet.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/panel_sheet.hpp>

#include <cstddef>
#include <string>
#include <vector>

namespace plait::output {

enum class Colour { off, on };

/// The report on one plan: verdict first, then each rule, the meter readings, what was assumed, the cautions.
[[nodiscard]] std::string check_text(const Setup& setup, const study::Judgement& judgement, Colour colour);

/// The ranking, one line a plan. `top`: how many usable plans to show; `all`: every plan, the dangerous ones last.
[[nodiscard]] std::string arrange_text(const study::SystemModel& system, const search::Arrangement& arrangement,
                                       std::size_t top, bool all, Colour colour);

/// Why a wiring is not the first of the ranking, or was never built: one line a reason.
[[nodiscard]] std::vector<std::string> why_reasons(const study::SystemModel& system, const search::Arrangement& arrangement,
                                                   const study::Judgement& judged, const ArrayPlan& plan);
[[nodiscard]] std::string why_text(const study::SystemModel& system, const search::Arrangement& arrangement,
                                   const std::vector<search::Asked>& asked, Colour colour);

/// What the program makes of one datasheet.
[[nodiscard]] std::string panel_text(const study::PanelSheet& sheet, const std::vector<Assumption>& assumptions,
                                     const std::vector<std::string>& doubts, Colour colour);

/// How the power is drawn over the voltage.
enum class Plot { none, bars, ascii };
/// Columns of a plot; `PointChoice::columns` of a sheet that is to be drawn.
inline constexpr std::size_t plot_columns = 72;

/// The curve of a wiring: its maxima, where the input holds it, what every string and panel gives. `all_points`: every
/// point of the sheet, not only the marked ones.
[[nodiscard]] std::string curve_text(const study::SystemModel& system, const study::CurveSheet& sheet, bool all_points,
                                     Plot plot, Colour colour);

}  // namespace plait::output
