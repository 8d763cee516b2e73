// The commands, each in a file of its own, and what they share.
#pragma once

#include <plait/cli/run.hpp>
#include <plait/input/measured_table.hpp>
#include <plait/input/read_field.hpp>
#include <plait/output/report.hpp>
#include <plait/study/look_up.hpp>

#include "options.hpp"
#include "session.hpp"

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::cli {

[[nodiscard]] CommandResult run_command(const CheckOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const ArrangeOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const CompareOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const CurveOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const ExpectOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const ExplainOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const LearnOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const ChargeOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const ClimateOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const HarvestOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const MatchOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const NewOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const PanelOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const PartsOptions& o, Session& session);
[[nodiscard]] CommandResult run_command(const StepsOptions& o, Session& session);

/// Complaints, one a line, for the error stream; exit code 2.
[[nodiscard]] CommandResult refused(const Diagnostics& complaints);
/// No report, where a figure of it cannot be: `figure` is what `study::impossible_figure` says of it.
[[nodiscard]] CommandResult impossible(const std::string& figure);
[[nodiscard]] CommandResult refused(const std::string& file, Complaint kind, const std::string& message);

/// The set-up of a file, or every complaint about it.
[[nodiscard]] Result<Setup> setup_of(const std::string& file, Session& session);

/// The number behind an option, if it was typed; what is wrong with it goes to `complaints`.
[[nodiscard]] std::optional<double> number_of(const std::optional<std::string>& text, const char* option,
                                              input::OptionNumber meaning, Diagnostics& complaints);

/// The columns named by hand, or complaints about how they were written.
[[nodiscard]] std::vector<input::ColumnByHand> columns_by_hand(const std::vector<std::string>& texts, Diagnostics& complaints);
/// Names the columns of a table that nothing is made of.
void add_unused(const input::MeasuredTable& table, std::vector<std::string>& notes);

/// How a wiring of this set-up's first panels on its first input is written.
struct WiringExample {
    std::string text;     ///< PV=2s1p deck, behind an option
    std::string in_file;  ///< PV = "2s1p deck", for [wiring]
};
[[nodiscard]] WiringExample wiring_example(const Setup& setup);

/// The wiring of the command line, or else that of the file. At least one input is used.
[[nodiscard]] Result<ArrayPlan> chosen_plan(const WiringOptions& o, const Setup& setup);

/// "a.toml, b.toml"
[[nodiscard]] std::string joined(const std::vector<std::string>& parts, const std::string& separator);

/// The inputs in use, and their names for a message.
struct UsedInputs {
    std::vector<std::size_t> inputs;
    std::string names;
};
[[nodiscard]] UsedInputs used_inputs(const Setup& setup, const ArrayPlan& plan);
/// The input of that name among those in use; or a complaint about --input.
[[nodiscard]] Result<std::size_t> used_input(const std::string& name, const Setup& setup, const ArrayPlan& plan);

/// 0 where the plan may be connected as it is, and works; else 1.
/// The mark of a file that is written only where none is: no file begins like this.
inline constexpr std::string_view never = "\n\n(never)";

[[nodiscard]] int exit_code_of(const study::Verdict& verdict);

/// The report in the form that was asked for: the data where there is any, else text; and the page.
[[nodiscard]] CommandResult shown(int exit_code, const Form& form, Session& session, const output::Report& report,
                                  const std::function<std::string()>& data = {});
/// One picture as a file to write.
[[nodiscard]] CommandResult::File picture_file(const Form& form, std::string svg);

}  // namespace plait::cli
