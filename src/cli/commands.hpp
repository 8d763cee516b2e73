// What the commands share, and those with a file of their own.
#pragma once

#include <plait/cli/run.hpp>
#include <plait/input/measured_table.hpp>
#include <plait/input/read_field.hpp>
#include <plait/output/text.hpp>

#include "options.hpp"

#include <string>

namespace plait::cli {

/// Complaints, one a line, for the error stream; exit code 2.
[[nodiscard]] CommandResult refused(const Diagnostics& complaints);
[[nodiscard]] CommandResult refused(const std::string& file, const std::string& message);

/// The number behind an option, if it was typed; what is wrong with it goes to `complaints`.
[[nodiscard]] std::optional<double> number_of(const std::optional<std::string>& text, const char* option,
                                              input::OptionNumber meaning, Diagnostics& complaints);

/// Names the columns of a table that nothing is made of.
void add_unused(const input::MeasuredTable& table, std::vector<std::string>& notes);

/// The wiring of the command line, or else that of the file. At least one input is used.
[[nodiscard]] Result<ArrayPlan> chosen_plan(const Options& o, const Setup& setup);

[[nodiscard]] CommandResult compare(const Options& o, const World& world, output::Colour colour);
[[nodiscard]] CommandResult learn(const Options& o, const World& world, output::Colour colour);
[[nodiscard]] CommandResult explain(const Options& o, const Setup& setup, const World& world, output::Colour colour);
[[nodiscard]] CommandResult curve(const Options& o, const Setup& setup, output::Colour colour);
[[nodiscard]] CommandResult expect(const Options& o, const Setup& setup, output::Colour colour);

}  // namespace plait::cli
