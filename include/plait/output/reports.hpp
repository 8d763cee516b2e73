// What each command says, composed once for every form. What a report draws from must live as long as the report.
#pragma once

#include <plait/output/forward.hpp>
#include <plait/output/report.hpp>

#include <cstddef>
#include <string>
#include <vector>

namespace plait::output {

[[nodiscard]] Report check_report(const study::SystemModel& system, const study::Judgement& judgement,
                                  const study::LookUpList& look_ups, Provenance provenance,
                                  const study::ClearDays* clear_days = nullptr);

struct ArrangeView {
    std::size_t top = 10;  ///< how many of the usable plans to list
    bool all = false;      ///< every plan, the dangerous ones last
    const EnergyTime* time = nullptr;  ///< over which energy decides; null: watts do
};
/// `advised`: of that arrangement; null where it advises nothing.
[[nodiscard]] Report arrange_report(const study::SystemModel& system, const search::Arrangement& arrangement,
                                    const search::Advised* advised, const std::vector<search::Asked>& asked, const ArrangeView& view,
                                    Provenance provenance);

[[nodiscard]] Report compare_report(const std::vector<NamedSetup>& named, const search::Comparison& comparison,
                                    Provenance provenance, const EnergyTime* time = nullptr);

/// A plot of characters: bars of block characters, or plain ones for terminals that have none.
enum class Plot { none, bars, ascii };
/// Columns of the plot.
inline constexpr std::size_t plot_columns = 70;
struct CurveView {
    bool all_points = false;  ///< every point of the sheet, not only those where something changes
    Plot plot = Plot::bars;
};
/// `judged`: what judging the same plan says.
[[nodiscard]] Report curve_report(const study::SystemModel& system, const study::CurveSheet& sheet,
                                  const study::Judgement& judged, const CurveView& view, Provenance provenance);

/// `diagnosis`: null where nothing was read yet.
[[nodiscard]] Report expect_report(const measured::FieldModel& model, const measured::CommissioningCard& card,
                                   const measured::Diagnosis* diagnosis, Provenance provenance);
[[nodiscard]] Report explain_report(const study::SystemModel& system, const ExplainedLog& log,
                                    const measured::LogSeries& series, Provenance provenance);
[[nodiscard]] Report learn_report(const measured::LearnSheet& sheet, Provenance provenance);
[[nodiscard]] Report bench_plan_report(const Controller& controller, const Input& input, const measured::BenchPlan& plan,
                                       Provenance provenance);
[[nodiscard]] Report charge_report(const Setup& setup, const study::Judgement& judgement, const study::ChargeSheet& sheet,
                                   Provenance provenance);
[[nodiscard]] Report climate_report(const std::vector<ClimateSource>& sources, Provenance provenance);
[[nodiscard]] Report harvest_report(const HarvestSubject& subject, Provenance provenance);
[[nodiscard]] Report panel_report(const study::PanelSheet& sheet, const std::vector<Assumption>& assumptions,
                                  const std::vector<std::string>& doubts, Provenance provenance);
[[nodiscard]] Report parts_report(const Setup& setup, const study::Judgement& judgement,
                                  const std::vector<study::PartLine>& parts, Provenance provenance);
[[nodiscard]] Report steps_report(const Setup& setup, const study::Judgement& judgement, const study::StepList& steps,
                                  Provenance provenance);

}  // namespace plait::output
