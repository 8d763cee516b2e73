#include "options.hpp"

#include <plait/cli/run.hpp>

#include <CLI/CLI.hpp>

#include <algorithm>
#include <array>
#include <locale>
#include <optional>
#include <sstream>
#include <string_view>

namespace plait::cli {
namespace {

// More letters than anyone reads rows.
constexpr std::size_t most_compared = 20;
// Panels of one kind, for `match`: as many as a large roof has strings of.
constexpr int most_matched = 60;

constexpr const char* closing =
    "Exit codes: 0 it may be connected as it is, and works; 1 it may not, or only once something is added or settled, or\n"
    "it falls short; 2 bad usage or input; 3 the output could not be written; 70 a bug in plait.\n\n"
    "Plait compares stated values with stated limits. It approves nothing: the local code, the makers' manuals and a\n"
    "licensed electrician have the last word.";

// What only says how the answer looks, not what it is.
constexpr std::array<std::string_view, 16> only_form{"--json", "--csv",  "--page", "--svg", "--picture",
                                                     "--full", "--dated", "--colour", "--color", "--out",
                                                     "--force", "--help", "--plot", "--top", "--all", "--lines"};

// An empty text, from a variable that is not set, would silently be no file.
std::string a_name(const std::string& text) { return text.empty() ? "an empty text is no file name; write one" : ""; }

void add_colour(CLI::App& app, Form& form) {
    app.add_option("--colour,--color", form.colour, "auto, always or never; NO_COLOR switches it off")
        ->check(CLI::IsMember({"auto", "always", "never"}));
}

void add_form(CLI::App& app, Form& form) {
    app.add_flag("--json", form.json, "the answer as JSON (schema: docs/report.schema.json)");
    app.add_flag("--full", form.full, "all of it: every rule, source and assumption");
    app.add_option("--page", form.page, "write the report to this HTML file too")->check(a_name);
    app.add_flag("--dated", form.dated, "with today's date, in the report's last line");
    add_colour(app, form);
}

void add_csv(CLI::App& app, Form& form, const char* what) {
    app.add_flag("--csv", form.csv, what)->excludes("--json");
}

void add_picture(CLI::App& app, Form& form, const std::vector<std::string>& pictures) {
    CLI::Option* svg = app.add_option("--svg", form.svg, "write one picture to this file")->check(a_name);
    if (pictures.size() < 2) return;
    std::string names;
    for (const std::string& p : pictures) names += (names.empty() ? "" : ", ") + p;
    app.add_option("--picture", form.picture, "which: " + names + " (the first); with several inputs --input says whose")
        ->check(CLI::IsMember(pictures))
        ->needs(svg);
}

void add_setup(CLI::App& app, std::string& file) {
    app.add_option("FILE", file, "a set-up file (docs/input.md)")->required();
}

void add_wiring(CLI::App& app, WiringOptions& o) {
    add_setup(app, o.file);
    add_form(app, o.form);
    app.add_option("--wiring", o.wiring, "this wiring instead of the file's: 2s3p, or \"PV1=2s3p; PV2=unused\"");
}

// CLI11 reads numbers by the C library, and so by the decimal mark of whatever language the host program chose.
std::optional<double> seconds_in(const std::string& text) {
    constexpr double most = 86400.0;
    std::istringstream in(text);
    in.imbue(std::locale::classic());
    double seconds = 0.0;
    const bool whole = !text.empty() && in >> std::noskipws >> seconds && in.peek() == std::istringstream::traits_type::eof();
    // Written so that what is not a number fails.
    return whole && seconds >= 0.0 && seconds <= most ? std::optional(seconds) : std::nullopt;
}

void add_seconds(CLI::App& app, double& most_seconds, const char* what) {
    app.add_option_function<std::string>(
           "--seconds", [&most_seconds](const std::string& text) { most_seconds = seconds_in(text).value_or(most_seconds); }, what)
        ->type_name("FLOAT")
        ->check([](const std::string& text) {
            return seconds_in(text) ? std::string()
                                    : "'" + text + "' is no time; write seconds from 0 to 86400, such as --seconds 60";
        });
}

constexpr const char* day_forms = "one day: 06-21, 2026-06-21, \"21 June\", june (its 21st), longest, shortest";

template <class Models>
std::vector<std::string> names_of(const Models& models) {
    std::vector<std::string> names;
    for (const auto m : models) names.emplace_back(name_of(m));
    return names;
}

void add_weather(CLI::App& app, WeatherOptions& o) {
    CLI::Option* weather =
        app.add_option("--weather", o.file, "a weather file, EPW or CSV (docs/weather.md); without it clear days, or clear and dull "
                                               "ones by daily_light under [site] if that is stated");
    app.add_option("--stamps", o.stamps, "times in a weather CSV are at the begin or the end of their interval")
        ->check(CLI::IsMember({"begin", "end"}))
        ->needs(weather);
    app.add_flag("--wall-clock", o.wall_clock, "… and follow the clock on the wall, summer time and all")->needs(weather);
    app.add_option("--sky", o.sky, "how light from the sky is spread: isotropic, hay-davies or perez")
        ->check(CLI::IsMember(names_of(sky_models)));
    app.add_option("--glass", o.glass, "what glass reflects: none, ashrae, physical or martin-ruiz")
        ->check(CLI::IsMember(names_of(incidence_models)));
    app.add_option("--warmth", o.warmth, "how cells warm: nominal, faiman or exponential")
        ->check(CLI::IsMember(names_of(warming_models)));
}

/// What puts wirings or set-ups in order.
void add_by(CLI::App& app, std::string& by, TimeOptions& o) {
    CLI::Option* order = app.add_option("--by", by, "what puts them in order: watts (the usual lights), or the energy of a year or a day");
    order->check(CLI::IsMember({"watts", "year", "day"}));
    app.add_option("--day", o.day, "with --by day, which; the longest otherwise")->needs(order);
    app.add_option("--weather", o.weather.file, "with --by, a weather file, EPW or CSV (docs/weather.md)")->needs(order);
}

void add(CLI::App& app, CheckOptions& o) {
    add_wiring(app, o);
    app.add_option("--input", o.input, "whose picture --svg is of; the first in use otherwise");
    add_picture(app, o.form, {"window-map", "wiring"});
}

void add(CLI::App& app, ArrangeOptions& o) {
    add_setup(app, o.file);
    add_form(app, o.form);
    app.add_option("--top", o.top, "how many to show (10)")->check(CLI::Range(1, 1000000));
    app.add_flag("--all", o.all, "show every wiring of equal strings, the dangerous ones last");
    app.add_option("--why", o.why, "why not this wiring? such as 2s3p, or \"PV1=2s3p; PV2=unused\"; repeatable");
    app.add_flag("--trade-offs", o.trade_offs,
                 "wirings none of which is better in everything, shade on one panel included");
    add_seconds(app, o.most_seconds, "the longest to search mixed wirings (10); Ctrl-C stops earlier");
    add_by(app, o.by, o.time);
    app.add_option("--input", o.input, "whose picture --svg is of; the first in use otherwise");
    add_picture(app, o.form, {"window-map", "wiring", "trade-offs"});
}

void add(CLI::App& app, CompareOptions& o) {
    app.add_option("FILES", o.files, "two to twenty set-up files (docs/input.md)")->required();
    add_form(app, o.form);
    add_csv(app, o.form, "a table for a spreadsheet, one line a set-up");
    CLI::Option* as_wired =
        app.add_flag("--as-wired", o.as_wired, "judge each file's own [wiring] instead of finding its best");
    add_seconds(app, o.most_seconds, "the longest to search for each set-up's best wiring (10); Ctrl-C stops earlier");
    app.get_option("--seconds")->excludes(as_wired);
    add_by(app, o.by, o.time);
}

void add(CLI::App& app, CurveOptions& o) {
    add_wiring(app, o);
    app.add_option("--input", o.input, "this input only; every one in use otherwise");
    CLI::Option* when =
        app.add_option("--when", o.when, "cold-bright, stc (the default), warm-bright, hot-bright or weak-light")
            ->check(CLI::IsMember({"cold-bright", "stc", "warm-bright", "hot-bright", "weak-light"}));
    CLI::Option* sun = app.add_option("--sun", o.sun, "instead: this light, such as \"800 W/m²\" or 800, and one of");
    CLI::Option* cell = app.add_option("--cell", o.cell, "  … the temperature of all cells, \"45 °C\"");
    CLI::Option* air = app.add_option("--air", o.air, "  … that of the air, \"-10 °C\" or \"14 °F\"; cells are warmer");
    CLI::Option* points = app.add_option("--points", o.points, "even steps of voltage to list (101)");
    points->check(CLI::Range(2, 10001));
    CLI::Option* at = app.add_option("--at", o.at, "list exactly these voltages: 10,20.5,30");
    add_csv(app, o.form, "the points as a table for a spreadsheet");
    CLI::Option* netlist = app.add_flag("--netlist", o.netlist, "the wiring as a circuit for ngspice");
    app.add_option("--plot", o.plot, "bars, ascii or none")->check(CLI::IsMember({"bars", "ascii", "none"}));
    when->excludes(sun)->excludes(cell)->excludes(air);
    cell->excludes(air)->needs(sun);
    air->needs(sun);
    at->excludes(points)->excludes(netlist);
    netlist->excludes("--json")->excludes("--csv");
    add_picture(app, o.form, {"curve"});
}

void add(CLI::App& app, ExpectOptions& o) {
    add_wiring(app, o);
    app.add_option("--air", o.field.air, "air temperature in the shade, \"31 °C\"");
    app.add_option("--cell", o.field.cell, "instead of the air: cell temperature, on a panel's back, \"47 °C\"");
    app.add_option("--sun", o.field.sun, "irradiance in the panels' plane, W/m²; without it voltages only");
    app.add_option("--read", o.readings,
                   "a reading: \"string 1 voc 61.2 V\", \"array isc 8.3 A\", \"display 410 W\", with the input's name in "
                   "front where several are used; repeat it for each")
        ->allow_extra_args(false);
    app.add_option("--meter-accuracy", o.field.meter_accuracy, "of the meter, ±% of the reading (1)");
    app.add_option("--display-accuracy", o.field.display_accuracy, "of the input's display, ±% of the reading (3)");
    app.add_option("--sun-accuracy", o.field.sun_accuracy, "of the light sensor, ±% (5)");
    app.add_option("--temperature-accuracy", o.field.temperature_accuracy, "of the thermometer, ±K (2)");
}

void add(CLI::App& app, ExplainOptions& o) {
    add_wiring(app, o);
    app.add_option("LOG", o.log, "a table of measured values (CSV; docs/explain.md)")->required();
    app.add_option("--input", o.input, "the input that was logged; needed where several are in use");
    add_csv(app, o.form, "every row explained, as a table");
    app.add_option("--volt-accuracy", o.volt_accuracy, "of the volts, ±% in 95 of 100 cases (1)");
    app.add_option("--amp-accuracy", o.amp_accuracy, "of the amps, ±% (2)");
    app.add_option("--watt-accuracy", o.watt_accuracy, "of the watts, ±% (3)");
    app.add_option("--sun-accuracy", o.sun_accuracy, "of the light sensor, ±% (10)");
    app.add_option("--temperature-accuracy", o.temperature_accuracy, "of the thermometers, ±K (4)");
    app.add_option("--display", o.display, "watts below which the display may show nothing (2)");
    app.add_option("--column", o.columns, "name a column by hand, \"wall=AC in\"; repeat it for each (docs/explain.md has the names)")
        ->allow_extra_args(false);
    app.add_flag("--wall-clock", o.wall_clock, "the log's times follow the clock on the wall, summer time and all; standard time otherwise");
    app.add_option("--clock-ahead", o.clock_ahead, "by how much the logger's clock was ahead: \"3 min\", or \"-40 s\" if it was behind");
    add_picture(app, o.form, {"log"});
}

void add(CLI::App& app, LearnOptions& o) {
    CLI::Option* file = app.add_option("FILE", o.file, "the readings: volts, and amps or watts (docs/learn.md)");
    app.add_option("--plan", o.plan, "instead of readings: a sheet for the session, from this controller or set-up file")->excludes(file);
    add_form(app, o.form);
    app.add_option("--against", o.against, "compare with the printed limits in this controller or set-up file");
    app.add_option("--input", o.input, "which of its inputs was on the bench");
    CLI::Option* out =
        app.add_option("--out", o.out, "write the window as a controller file for the other commands")->check(a_name);
    app.add_flag("--force", o.force, "write over the file of --out")->needs(out);
    app.add_option("--supply-limit", o.supply_limit, "the current the supply was set to, A, where no column says so");
    app.add_option("--accuracy", o.accuracy, "error of the meters' scale, ±%, such as 1 or \"0.5 %\"; widens the intervals");
    app.add_option("--resolution", o.resolution, "the steps readings come in, \"0.5 A\" or \"10 W\"; repeat it for both (found from the digits)")
        ->allow_extra_args(false);
    app.add_flag("--cut-off", o.cut_off, "the display cuts off digits instead of rounding: 8.9 is shown as 8");
    app.add_option("--column", o.columns, "name a column by hand, \"wall=AC in\"; repeat it for each (docs/explain.md has the names)")
        ->allow_extra_args(false);
    add_csv(app, o.form, "the readings with their fit, for a spreadsheet");
    add_picture(app, o.form, {"sweep"});
}

void add(CLI::App& app, ClimateOptions& o) {
    app.add_option("FILES", o.files, "daily station records (GHCN-Daily .dly or CSV) or weather files (EPW)")->required();
    add_form(app, o.form);
    app.add_option("--station", o.station, "which station, of a file with several");
    CLI::Option* south = app.add_flag("--south", o.south, "the station is in the southern hemisphere, where the file does not say");
    app.add_flag("--north", o.north, "… in the northern")->excludes(south);
}

void add(CLI::App& app, ChargeOptions& o) {
    add_wiring(app, o);
    app.add_option("--from", o.from, "how full it is to begin with, \"20 %\" or empty; as low as loads may draw it otherwise");
    app.add_option("--to", o.to, "how full it is to become, \"80 %\" or full (the default)");
    app.add_option("--day", o.day, std::string(day_forms) + "; midsummer otherwise");
    app.add_option("--at", o.at, "time of day at which it begins, standard time, \"08:00\"; first light otherwise");
    app.add_option("--wall", o.wall, "what the wall or vehicle gives at most, \"600 W\", or none; as in the file otherwise");
    add_weather(app, o.weather);
    add_csv(app, o.form, "every interval of the run, as a table");
    add_picture(app, o.form, {"day"});
}

void add(CLI::App& app, HarvestOptions& o) {
    add_wiring(app, o);
    CLI::Option* day = app.add_option("--day", o.time.day, day_forms);
    CLI::Option* month = app.add_option("--month", o.time.month, "one month: june, or 6");
    CLI::Option* year = app.add_flag("--year", o.time.year, "a year (the default)");
    day->excludes(month)->excludes(year);
    month->excludes(year);
    add_weather(app, o.time.weather);
    add_csv(app, o.form, "every hour as a table");
    add_seconds(app, o.most_seconds, "the longest to look for what would bring more (10); Ctrl-C stops earlier");
    CLI::Option* svg = app.add_option("--svg", o.form.svg, "write one picture to this file");
    app.add_option("--picture", o.form.picture,
                   "which: day, year, carpet (a tile for each hour) or horizon; otherwise that of the time asked for")
        ->check(CLI::IsMember({"day", "year", "carpet", "horizon"}))
        ->needs(svg);
}

void add(CLI::App& app, MatchOptions& o) {
    app.add_option("FILES", o.files, "panel files and controller files, set-ups for their controller, or folders of them; one controller alone: what it wants")
        ->required();
    add_form(app, o.form);
    CLI::Option* up_to = app.add_option("--up-to", o.up_to, "at most so many of each panel (4; for a controller alone 12)");
    up_to->check(CLI::Range(1, most_matched));
    app.add_option("--on-hand", o.on_hand, "instead: so many of each panel are there already")->check(CLI::Range(1, most_matched))->excludes(up_to);
    app.add_option("--keep", o.keep, "panels that are there and stay, in every pair: \"roof.toml=3\"; repeatable")->allow_extra_args(false);
    app.add_option("--by", o.by, "what comes first: harvest (watts over a year's light), cost (watts for the money) or fill (what suits the input's size)")
        ->check(CLI::IsMember({"harvest", "cost", "fill"}));
    app.add_option("--only", o.only, "list only pairs that are: usable (the default), ready (nothing to add), fits (all is taken) or proven")
        ->check(CLI::IsMember({"usable", "ready", "fits", "proven"}));
    app.add_option("--top", o.top, "how many to list (10)")->check(CLI::Range(1, 1000));
    app.add_flag("--every", o.every, "solve every pair, also those that cannot be on the list");
    app.add_option("--site", o.site, "the weather: [site] of this file; otherwise a cautious one is assumed");
    app.add_option("--prices", o.prices, "a table: file, price, currency (docs/match.md)");
    app.add_option("--why", o.why, "why is this pair not the first? \"PANEL on CONTROLLER\"; repeatable")->allow_extra_args(false);
    add_csv(app, o.form, "every pair as a line of a table, as soon as it is settled");
    app.add_flag("--lines", o.lines, "every pair as a line of JSON, as soon as it is settled")->excludes("--json")->excludes("--csv");
    CLI::Option* svg = app.add_option("--svg", o.form.svg, "write one picture to this file: of the first pair, or of what a controller alone wants")->check(a_name);
    app.add_option("--picture", o.form.picture, "of the first pair: window-map (the first) or wiring")->check(CLI::IsMember({"window-map", "wiring"}))->needs(svg);
}

void add(CLI::App& app, NewOptions& o) {
    app.add_option("FILE", o.file, "the set-up file to write, such as mine.toml")->required();
}

void add(CLI::App& app, PanelOptions& o) {
    app.add_option("FILE", o.file, "a panel file (docs/input.md; the folder panels/ has examples)")->required();
    add_form(app, o.form);
}

void add(CLI::App& app, PartsOptions& o) {
    add_wiring(app, o);
    add_csv(app, o.form, "the list as comma-separated values");
}

void add(CLI::App& app, StepsOptions& o) { add_wiring(app, o); }

/// A command: its options are made only when it is the one typed.
struct Entry {
    const char* name;
    const char* does;
    Options (*fresh)();
};

template <class O>
Options fresh() {
    return O{};
}

constexpr std::array commands{
    Entry{"new", "a set-up file to begin with: put in the figures of your panels and your input", &fresh<NewOptions>},
    Entry{"check", "judge one wiring: may it be connected, what does it take, what to do", &fresh<CheckOptions>},
    Entry{"arrange", "every wiring of the panels on hand, best first", &fresh<ArrangeOptions>},
    Entry{"compare", "several set-ups side by side: watts, losses, room in the cold, money", &fresh<CompareOptions>},
    Entry{"curve", "current and power of one wiring over the voltage, with every maximum", &fresh<CurveOptions>},
    Entry{"expect", "the commissioning card: what a meter must read right now, and what other readings mean",
          &fresh<ExpectOptions>},
    Entry{"explain", "why a log shows what it shows: where the label's energy went", &fresh<ExplainOptions>},
    Entry{"learn", "what an input really takes, from a bench sweep", &fresh<LearnOptions>},
    Entry{"charge", "when the battery is full, and what keeps it from being so earlier", &fresh<ChargeOptions>},
    Entry{"climate", "how cold and how hot it gets, from a station's daily record",
          &fresh<ClimateOptions>},
    Entry{"harvest", "what one wiring brings in a year, a month or a day, and what limits leave of it", &fresh<HarvestOptions>},
    Entry{"match", "which panels fill which input, and what an input wants", &fresh<MatchOptions>},
    Entry{"panel", "what plait makes of one datasheet", &fresh<PanelOptions>},
    Entry{"parts", "what one wiring takes: panels, cable, connectors, fuses, disconnects", &fresh<PartsOptions>},
    Entry{"steps", "the order of work for one wiring, with the voltage at every step", &fresh<StepsOptions>},
};

Typed wrong(std::string text) { return {std::nullopt, std::move(text), Exit::bad_input}; }

std::string command_names() {
    std::string names;
    for (const Entry& c : commands) names += (names.empty() ? "" : ", ") + std::string(c.name);
    return names;
}

const char* const first_steps =
    "plait says which ways of wiring solar panels stay within an input's limits. Three steps to begin with:\n\n"
    "  1. plait new mine.toml       writes a set-up; put in the figures of your panels and of your input\n"
    "  2. plait arrange mine.toml   every wiring of your panels, best first\n"
    "  3. plait check mine.toml     one wiring, judged; then plait parts, plait steps and plait expect\n\n"
    "plait --help lists every command, plait check --help the options of one.\n";

/// What was typed of the options that change the answer, for the report's last line.
std::vector<std::string> changes(const CLI::App& command) {
    std::vector<std::string> out;
    for (const CLI::Option* option : command.get_options()) {
        const std::string name = option->get_name();
        const bool form = std::find(only_form.begin(), only_form.end(), name) != only_form.end();
        if (option->count() == 0 || option->get_positional() || form || name.rfind("--", 0) != 0) continue;
        if (option->get_expected_max() == 0) {
            out.push_back(name);
            continue;
        }
        for (const std::string& value : option->results()) {
            const bool quoted = value.find_first_of(" ;\"") != std::string::npos;
            out.push_back(name + " " + (quoted ? "\"" + value + "\"" : value));
        }
    }
    return out;
}

std::string misuse(const Options& options) {
    if (const auto* curve = std::get_if<CurveOptions>(&options); curve != nullptr && curve->sun && !curve->cell && !curve->air) {
        return "--sun needs a temperature too; add --cell \"45 °C\" (of the cells) or --air \"20 °C\"";
    }
    const auto* compare = std::get_if<CompareOptions>(&options);
    if (compare != nullptr && (compare->files.size() < 2 || compare->files.size() > most_compared)) {
        return "compare wants two to twenty set-up files, and got " + std::to_string(compare->files.size()) +
               "; name them one after the other: plait compare A.toml B.toml";
    }
    return "";
}

bool starts_with_dash(const std::string& typed) { return typed.rfind('-', 0) == 0; }

}  // namespace

bool is_command(const std::string& word) {
    return std::any_of(std::begin(commands), std::end(commands), [&](const Entry& c) { return c.name == word; });
}

Typed read_options(const std::vector<std::string>& arguments) {
    if (arguments.empty()) return {std::nullopt, first_steps, 0};
    const std::string& first = arguments.front();
    if (starts_with_dash(first) && first != "-h" && first != "--help" && first != "--version") {
        return wrong("'" + first +
                     "' comes where a command is expected; write the command first and its flags after it, such as plait "
                     "check FILE --json (plait --help says what there is)");
    }
    CLI::App app{"Which ways of wiring these solar panels stay within this input's limits."};
    app.name("plait");
    app.footer(closing);
    app.require_subcommand(1);
    app.set_version_flag("--version", "plait " PLAIT_VERSION);
    app.get_formatter()->column_width(30);
    std::optional<Options> options;
    CLI::App* chosen = nullptr;
    for (const Entry& c : commands) {
        CLI::App* command = app.add_subcommand(c.name, c.does);
        if (first != c.name) continue;
        chosen = command;
        options = c.fresh();
        std::visit([&](auto& o) { add(*command, o); }, *options);
    }
    if (chosen == nullptr && !starts_with_dash(first)) {
        // CLI11 says only that a subcommand is missing; a slip of the fingers deserves the word itself.
        return wrong("'" + first + "' is not a command; write one of " + command_names() +
                     " (plait --help says what each does)");
    }
    try {
        // CLI11 takes its arguments from the back of a vector.
        app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));
    } catch (const CLI::CallForHelp&) {
        return {std::nullopt, chosen == nullptr ? app.help() : chosen->help("plait"), 0};
    } catch (const CLI::CallForVersion&) {
        return {std::nullopt, "plait " PLAIT_VERSION "\n", 0};
    } catch (const CLI::ParseError& e) {
        return wrong(std::string(e.what()) + "; plait " + (chosen == nullptr ? "" : first + " ") +
                     "--help says what is allowed");
    }
    if (std::string message = misuse(*options); !message.empty()) return wrong(std::move(message));
    std::visit([&](auto& o) { o.form.changes = changes(*chosen); }, *options);
    return {std::move(options), "", 0};
}

}  // namespace plait::cli
