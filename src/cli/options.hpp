// What was typed. The only place that knows CLI11.
#pragma once

#include <plait/input/read_field.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace plait::cli {

enum class Command { check, arrange, panel, compare, curve, expect, explain, learn, parts, steps };

struct Options {
    Command command = Command::check;
    std::string file;
    std::vector<std::string> files;  ///< compare
    bool as_wired = false;           ///< compare
    std::optional<std::string> wiring;
    input::FieldTexts field;            ///< expect
    std::vector<std::string> readings;  ///< expect
    std::size_t top = 10;
    bool all = false;
    bool json = false;
    std::string page;  ///< file to write a page to
    std::string svg;   ///< file to write one picture to
    std::string picture;
    bool csv = false;  ///< curve, parts
    std::string colour = "auto";

    // arrange, compare
    std::vector<std::string> why;
    bool trade_offs = false;
    double most_seconds = 10.0;

    // curve
    std::optional<std::string> input;
    std::string when = "stc";
    std::optional<std::string> sun;
    std::optional<std::string> cell;
    std::optional<std::string> air;
    std::optional<std::size_t> points;
    std::optional<std::string> at;
    bool netlist = false;
    std::string plot = "bars";

    // learn
    std::optional<std::string> against;
    std::string out;
    bool force = false;
    std::optional<std::string> supply_limit;
    std::optional<std::string> accuracy;

    // explain
    std::string log;
    std::optional<std::string> volt_accuracy;
    std::optional<std::string> amp_accuracy;
    std::optional<std::string> watt_accuracy;
    std::optional<std::string> irradiance_accuracy;
    std::optional<std::string> temperature_accuracy;
    std::optional<std::string> display;
};

/// Either options, or a text to print with an exit code (help, version, or what was wrong).
struct Typed {
    std::optional<Options> options;
    std::string text;
    int exit_code = 0;
};

[[nodiscard]] Typed read_options(const std::vector<std::string>& arguments);

}  // namespace plait::cli
