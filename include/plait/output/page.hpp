// The reports as pages: one file each, no network, no script, for a screen, a phone or paper.
#pragma once

#include <plait/measured/log_series.hpp>
#include <plait/measured/window_comparison.hpp>
#include <plait/output/compare.hpp>
#include <plait/output/expect.hpp>
#include <plait/output/explain.hpp>
#include <plait/search/arrangement.hpp>
#include <plait/study/curve_sheet.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/panel_sheet.hpp>
#include <plait/study/parts.hpp>
#include <plait/study/steps.hpp>

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

/// How every page begins; a file that begins otherwise is none of ours and is not written over.
inline constexpr std::string_view page_mark = "<!DOCTYPE html>\n<!-- a Plait page -->";
/// The same for a picture.
inline constexpr std::string_view picture_mark = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!-- a Plait picture -->";

[[nodiscard]] std::string check_page(const study::SystemModel& system, const study::Judgement& judgement);
[[nodiscard]] std::string arrange_page(const study::SystemModel& system, const search::Arrangement& arrangement,
                                       const std::vector<search::Asked>& asked, std::size_t top);
[[nodiscard]] std::string compare_page(const std::vector<NamedSetup>& named, const search::Comparison& comparison);
/// The card, with what readings say if there are any (null: none).
[[nodiscard]] std::string expect_page(const measured::FieldModel& model, const measured::CommissioningCard& card,
                                      const measured::Diagnosis* diagnosis);
[[nodiscard]] std::string parts_page(const Setup& setup, const study::Judgement& judgement,
                                     const std::vector<study::PartLine>& parts);
[[nodiscard]] std::string steps_page(const Setup& setup, const study::Judgement& judgement,
                                     const study::StepList& steps);
/// What the file says is doubtful comes with `doubts`; what the curve misses is added.
[[nodiscard]] std::string panel_page(const study::PanelSheet& sheet, const std::vector<Assumption>& assumptions,
                                     const std::vector<std::string>& doubts);
[[nodiscard]] std::string learn_page(const measured::LearnSheet& sheet);
[[nodiscard]] std::string explain_page(const study::SystemModel& system, const ExplainedLog& log,
                                       const measured::LogSeries& series);
[[nodiscard]] std::string curve_page(const study::SystemModel& system, const study::CurveSheet& sheet);

}  // namespace plait::output
