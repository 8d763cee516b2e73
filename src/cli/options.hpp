// What was typed: a structure for each command. The only place that knows CLI11 is options.cpp.
#pragma once

#include <plait/input/read_field.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace plait::cli {

/// In which form the answer is wanted; the same for every command, as far as it has the form.
struct Form {
    bool json = false;
    bool csv = false;
    bool full = false;    ///< all of the report in the terminal
    bool dated = false;   ///< with the day's date
    std::string page;     ///< file to write a page to
    std::string svg;      ///< file to write one picture to
    std::string picture;  ///< which one; empty: the first
    std::string colour = "auto";
    std::vector<std::string> changes;  ///< the options that change what the files say, as typed
};

/// A set-up file and the wiring looked at; the file's own where none was typed.
struct WiringOptions {
    Form form;
    std::string file;
    std::optional<std::string> wiring;
    std::optional<std::string> input;  ///< whose picture, curve or log it is
};

struct CheckOptions : WiringOptions {};
struct PartsOptions : WiringOptions {};
struct StepsOptions : WiringOptions {};

/// In which weather, by which equations.
struct WeatherOptions {
    std::string file;                   ///< empty: clear days
    std::optional<std::string> stamps;  ///< of a table: begin or end
    bool wall_clock = false;            ///< of a table: its times follow the clock on the wall
    std::optional<std::string> sky;
    std::optional<std::string> glass;
    std::optional<std::string> warmth;
};

/// Over which time.
struct TimeOptions {
    std::optional<std::string> day;
    std::optional<std::string> month;
    bool year = false;
    WeatherOptions weather;
};

struct ArrangeOptions {
    Form form;
    std::string file;
    std::size_t top = 10;
    bool all = false;
    std::vector<std::string> why;
    bool trade_offs = false;
    double most_seconds = 10.0;
    std::optional<std::string> input;  ///< whose picture
    std::string by = "watts";          ///< or year, or day
    TimeOptions time;
};

struct CompareOptions {
    Form form;
    std::vector<std::string> files;
    bool as_wired = false;
    double most_seconds = 10.0;
    std::string by = "watts";
    TimeOptions time;
};

struct CurveOptions : WiringOptions {
    std::string when = "stc";
    std::optional<std::string> sun;
    std::optional<std::string> cell;
    std::optional<std::string> air;
    std::optional<std::size_t> points;
    std::optional<std::string> at;
    bool netlist = false;
    std::string plot = "bars";
};

struct ExpectOptions : WiringOptions {
    input::FieldTexts field;
    std::vector<std::string> readings;
};

struct ExplainOptions : WiringOptions {
    std::string log;
    std::optional<std::string> volt_accuracy;
    std::optional<std::string> amp_accuracy;
    std::optional<std::string> watt_accuracy;
    std::optional<std::string> sun_accuracy;
    std::optional<std::string> temperature_accuracy;
    std::optional<std::string> display;
    std::vector<std::string> columns;
    bool wall_clock = false;                 ///< the log's times follow the clock on the wall
    std::optional<std::string> clock_ahead;  ///< by how much the logger's clock was ahead
};

struct LearnOptions {
    Form form;
    std::string file;
    std::optional<std::string> against;
    std::optional<std::string> input;
    std::string out;
    bool force = false;
    std::optional<std::string> supply_limit;
    std::optional<std::string> accuracy;
    std::vector<std::string> resolution;
    bool cut_off = false;
    std::vector<std::string> columns;
    std::string plan;  ///< the controller file of a session that is still to come, instead of readings
};

struct ClimateOptions {
    Form form;
    std::vector<std::string> files;
    std::string station;  ///< which one, of a file with several
    bool south = false;
    bool north = false;
};

struct ChargeOptions : WiringOptions {
    std::optional<std::string> from;  ///< absent: as low as loads may draw it
    std::string to = "full";
    std::optional<std::string> day;
    std::optional<std::string> at;
    std::optional<std::string> wall;
    WeatherOptions weather;
};

struct HarvestOptions : WiringOptions {
    TimeOptions time;
    double most_seconds = 10.0;
};

struct MatchOptions {
    Form form;
    std::vector<std::string> files;  ///< panels, controllers, set-ups for their controller, folders of them
    int up_to = 4;
    std::optional<int> on_hand;
    std::string by = "harvest";
    std::string only = "usable";
    std::size_t top = 10;
    bool every = false;
    bool lines = false;
    std::vector<std::string> keep;  ///< "roof.toml=3"
    std::optional<std::string> site;
    std::optional<std::string> prices;
    std::vector<std::string> why;  ///< "roof on box"
};

struct NewOptions {
    Form form;
    std::string file;
};

struct PanelOptions {
    Form form;
    std::string file;
};

using Options = std::variant<CheckOptions, ArrangeOptions, CompareOptions, CurveOptions, ExpectOptions, ExplainOptions,
                             LearnOptions, ChargeOptions, ClimateOptions, HarvestOptions, MatchOptions, NewOptions, PanelOptions, PartsOptions,
                             StepsOptions>;

/// Either options, or a text to print (help or version), or with another exit code than 0 a sentence about what was
/// wrong.
struct Typed {
    std::optional<Options> options;
    std::string text;
    int exit_code = 0;
};

[[nodiscard]] bool is_command(const std::string& word);
[[nodiscard]] Typed read_options(const std::vector<std::string>& arguments);

}  // namespace plait::cli
