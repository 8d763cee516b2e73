// The same answers as data: JSON of every command by docs/report.schema.json, CSV where there are rows, TOML of what a
// sweep taught. Every one carries the verdict with its conditions, where there is one, and the deferral.
//
// CSV is RFC 4180 but for the line ends, which are plain line feeds, and one line with a # in front, before the header.
// Numbers are printed in full precision.
#pragma once

#include <plait/base/diagnostic.hpp>
#include <plait/output/forward.hpp>

#include <cstddef>
#include <string>
#include <vector>

namespace plait::output {

inline constexpr int schema_version = 2;

/// A set-up file to begin with, which every command takes as it is.
[[nodiscard]] std::string first_setup_toml();

[[nodiscard]] std::string check_json(const Setup& setup, const study::Judgement& judgement,
                                     const study::LookUpList& look_ups,
                                     const study::ClearDays* clear_days = nullptr);
[[nodiscard]] std::string arrange_json(const study::SystemModel& system, const search::Arrangement& arrangement,
                                       const search::Advised* advised,
                                       const std::vector<search::Asked>& asked, std::size_t top, bool all,
                                       const EnergyTime* time = nullptr);
[[nodiscard]] std::string curve_json(const study::SystemModel& system, const study::CurveSheet& sheet,
                                     const study::Judgement& judged);
/// Columns: input, voltage_v, current_a, power_w, string_1_a … (empty where an input has fewer strings than another),
/// marks (separated by blanks).
[[nodiscard]] std::string curve_csv(const Setup& setup, const study::CurveSheet& sheet, const study::Judgement& judged);
[[nodiscard]] std::string compare_json(const std::vector<NamedSetup>& named, const search::Comparison& comparison,
                                       const EnergyTime* time = nullptr);
[[nodiscard]] std::string compare_csv(const std::vector<NamedSetup>& named, const search::Comparison& comparison);
[[nodiscard]] std::string charge_json(const Setup& setup, const study::Judgement& judgement,
                                      const study::ChargeSheet& sheet);
/// A line for each interval from the start on: to the end of the day on which the wanted charge is reached, or of the
/// last. Columns: begins (standard time), hours, offered_w, solar_used_w, turned_away_w, wall_w, load_w, unserved_w,
/// charge_ratio (at its end), limit, air_degc.
[[nodiscard]] std::string charge_csv(const Setup& setup, const study::Judgement& judgement,
                                     const study::ChargeSheet& sheet);
[[nodiscard]] std::string climate_json(const std::vector<ClimateSource>& sources);
[[nodiscard]] std::string harvest_json(const HarvestSubject& subject);
/// An interval a line: its beginning in universal and in standard time, air, sun, light on each plane, what was possible,
/// what each input takes, what is delivered, and what limits.
[[nodiscard]] std::string harvest_csv(const HarvestSubject& subject);
[[nodiscard]] std::string panel_json(const study::PanelSheet& sheet, const std::vector<Assumption>& assumptions,
                                     const std::vector<std::string>& doubts);
/// What takes the place of every other document where the command had to refuse: who was asked, and each complaint.
[[nodiscard]] std::string refused_json(const std::string& command, int exit_code, const Diagnostics& complaints);
[[nodiscard]] std::string parts_json(const Setup& setup, const study::Judgement& judgement,
                                     const std::vector<study::PartLine>& parts);
[[nodiscard]] std::string parts_csv(const Setup& setup, const study::Judgement& judgement,
                                    const std::vector<study::PartLine>& parts);
[[nodiscard]] std::string steps_json(const Setup& setup, const study::Judgement& judgement, const study::StepList& steps);
/// `diagnosis`: null where nothing was read.
[[nodiscard]] std::string expect_json(const measured::FieldModel& model, const measured::CommissioningCard& card,
                                      const measured::Diagnosis* diagnosis);
[[nodiscard]] std::string explain_json(const study::SystemModel& system, const ExplainedLog& log);
/// The table of rows: its head, and a row at a time, so that it need not be held.
[[nodiscard]] std::string explain_csv_head(const Setup& setup, const study::Verdict& verdict);
void explain_csv_row(const measured::ExplainedRow& row, std::string& out);
[[nodiscard]] std::string learn_json(const measured::LearnSheet& sheet);
[[nodiscard]] std::string learn_csv(const measured::LearnSheet& sheet);
/// The blank sheet of a bench session as a table that `learn` reads once it is filled in.
[[nodiscard]] std::string bench_plan_csv(const measured::BenchPlan& plan);
[[nodiscard]] std::string bench_plan_json(const Controller& controller, const Input& input, const measured::BenchPlan& plan);
/// A controller file that the other commands read.
[[nodiscard]] std::string learn_toml(const measured::LearnSheet& sheet);

}  // namespace plait::output
