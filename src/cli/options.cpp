#include "options.hpp"

#include <plait/cli/run.hpp>

#include <CLI/CLI.hpp>

#include <algorithm>

namespace plait::cli {
namespace {

// More letters than anyone reads rows.
constexpr std::size_t most_compared = 20;

const char* const closing =
    "Exit codes: 0 nothing exceeds or falls short, 1 something does, 2 bad usage or input, 3 the output could not be\n"
    "written, 70 a bug in plait.\n\n"
    "Plait compares stated values with stated limits. It approves nothing: the local code, the makers' manuals and a\n"
    "licensed electrician have the last word.";

// CLI11 says only that a subcommand is missing; a slip of the fingers deserves the word itself.
std::string unknown_command(const std::string& typed) {
    return "plait: '" + typed +
           "' is not a command; write one of check, arrange, compare, curve, panel, expect, explain, learn, parts, "
           "steps (plait "
           "--help says what each "
           "does)\n";
}

}  // namespace

namespace {

void add_colour(CLI::App* command, Options& o) {
    command->add_option("--colour,--color", o.colour, "auto, always or never; NO_COLOR is heeded")
        ->check(CLI::IsMember({"auto", "always", "never"}));
}

CLI::Option* add_seconds(CLI::App* command, Options& o, const char* what) {
    return command->add_option("--seconds", o.most_seconds, what)->check([](const std::string& text) {
        double seconds = 0.0;
        const bool number = CLI::detail::lexical_cast(text, seconds);
        // Written so that what is not a number fails.
        return number && seconds >= 0.0 && seconds <= 86400.0
                   ? std::string()
                   : "'" + text + "' is no time; write seconds from 0 to 86400, such as --seconds 60";
    });
}

void add_arrange_options(CLI::App* arrange, Options& o) {
    arrange->add_flag("--all", o.all, "show every wiring of equal strings, the dangerous ones last");
    arrange->add_option("--why", o.why, "why not this wiring? such as 2s3p, or \"PV1=2s3p; PV2=unused\"; repeatable");
    arrange->add_flag("--trade-offs", o.trade_offs,
                      "wirings none of which is better in everything, shade on one panel included");
    add_seconds(arrange, o, "the longest to search mixed wirings (10); Ctrl-C stops earlier");
}

void add_compare_options(CLI::App* compare, Options& o) {
    compare->add_option("FILES", o.files, "two to twenty set-up files (docs/input.md)")->required();
    compare->add_flag("--json", o.json, "the report as JSON (schema: docs/report.schema.json)");
    compare->add_flag("--csv", o.csv, "a table for a spreadsheet, one line a set-up")
        ->excludes(compare->get_option("--json"));
    compare->add_flag("--as-wired", o.as_wired, "judge each file's own [wiring] instead of finding its best");
    add_seconds(compare, o, "the longest to search for each set-up's best wiring (10); Ctrl-C stops earlier")
        ->excludes(compare->get_option("--as-wired"));
    add_colour(compare, o);
}

void add_curve_options(CLI::App* curve, Options& o) {
    curve->add_option("--wiring", o.wiring, "draw this wiring instead of the file's: 2s3p, or \"PV1=2s3p; PV2=1s1p\"");
    curve->add_option("--input", o.input, "this input only; every one in use otherwise");
    CLI::Option* when =
        curve->add_option("--when", o.when, "cold-bright, stc (the default), warm-bright, hot-bright or weak-light")
            ->check(CLI::IsMember({"cold-bright", "stc", "warm-bright", "hot-bright", "weak-light"}));
    CLI::Option* sun =
        curve->add_option("--sun", o.sun, "instead: this light, such as \"800 W/m²\" or 800, and one of");
    CLI::Option* cell = curve->add_option("--cell", o.cell, "  … the temperature of all cells, \"45 °C\" or 45");
    CLI::Option* air = curve->add_option("--air", o.air, "  … that of the air, \"14 °F\" or -10; cells are warmer");
    CLI::Option* points = curve->add_option("--points", o.points, "even steps of voltage to list (101)");
    points->check(CLI::Range(2, 10001));
    CLI::Option* at = curve->add_option("--at", o.at, "list exactly these voltages: 10,20.5,30");
    CLI::Option* csv = curve->add_flag("--csv", o.csv, "the points as a table for a spreadsheet");
    CLI::Option* netlist = curve->add_flag("--netlist", o.netlist, "the wiring as a circuit for ngspice");
    curve->add_option("--plot", o.plot, "bars, ascii or none")->check(CLI::IsMember({"bars", "ascii", "none"}));
    when->excludes(sun)->excludes(cell)->excludes(air);
    cell->excludes(air)->needs(sun);
    air->needs(sun);
    at->excludes(points)->excludes(netlist);
    CLI::Option* json = curve->get_option("--json");
    csv->excludes(netlist)->excludes(json);
    netlist->excludes(json);
}

void add_expect_options(CLI::App* expect, Options& o) {
    expect->add_option("--air", o.field.air, "air temperature in the shade, °C");
    expect->add_option("--cell", o.field.cell, "instead of the air: cell temperature, on a panel's back, °C");
    expect->add_option("--sun", o.field.sun, "irradiance in the panels' plane, W/m²; without it voltages only");
    expect
        ->add_option(
            "--read", o.readings,
            "a reading: \"string 1 voc 61.2 V\", \"array isc 8.3 A\", \"display 410 W\", with the input's name "
            "in front where several are used; repeat it for each")
        ->allow_extra_args(false);
    expect->add_option("--wiring", o.wiring, "this wiring instead of the file's: 2s3p, or \"PV1=2s3p; PV2=unused\"");
    expect->add_option("--meter-accuracy", o.field.meter_accuracy, "of the meter, % of the reading (1)");
    expect->add_option("--display-accuracy", o.field.display_accuracy, "of the input's display, % of the reading (3)");
    expect->add_option("--sun-accuracy", o.field.sun_accuracy, "of the light sensor, % (5)");
    expect->add_option("--temperature-accuracy", o.field.temperature_accuracy, "of the thermometer, K (2)");
}

void add_learn_options(CLI::App* learn, Options& o) {
    CLI::Option* against =
        learn->add_option("--against", o.against, "compare with the printed limits in this set-up file");
    learn->add_option("--input", o.input, "which of its inputs was on the bench")->needs(against);
    learn->add_option("--out", o.out, "write the window as a controller file for the other commands");
    learn->add_flag("--force", o.force, "write over the file of --out");
    learn->add_option("--supply-limit", o.supply_limit,
                      "the current the supply was set to, A, where no column says so");
    learn->add_option("--accuracy", o.accuracy,
                      "error of the meters' scale, %, such as 1 or \"0.5 %\"; widens the intervals");
    CLI::Option* csv = learn->add_flag("--csv", o.csv, "the readings with their fit, for a spreadsheet");
    csv->excludes(learn->get_option("--json"));
}

bool starts_with_dash(const std::string& typed) { return typed.rfind('-', 0) == 0; }

// The flags that need no command.
bool for_itself(const std::string& typed) { return typed == "-h" || typed == "--help" || typed == "--version"; }

std::string flag_before_command(const std::string& typed) {
    return "plait: '" + typed +
           "' stands where a command is expected; write the command first and its flags after it, such as "
           "plait check FILE --json (plait --help says what there is)\n";
}

void add_explain_options(CLI::App* explain, Options& o) {
    explain->add_option("LOG", o.log, "a table of measured values (CSV; docs/explain.md)")->required();
    explain->add_option("--wiring", o.wiring, "the wiring that was logged, if not the file's: 2s3p");
    explain->add_option("--input", o.input, "the input that was logged; needed where several are in use");
    explain->add_flag("--csv", o.csv, "every row explained, as a table")->excludes(explain->get_option("--json"));
    explain->add_option("--volt-accuracy", o.volt_accuracy, "standard deviation of the volts (\"0.5 %\")");
    explain->add_option("--amp-accuracy", o.amp_accuracy, "… of the amps, % (1)");
    explain->add_option("--watt-accuracy", o.watt_accuracy, "… of the watts, % (1.5)");
    explain->add_option("--irradiance-accuracy", o.irradiance_accuracy, "… of the irradiance, % (5)");
    explain->add_option("--temperature-accuracy", o.temperature_accuracy, "… of temperatures, K (2)");
    explain->add_option("--display", o.display, "watts below which the display may show nothing (2)");
}

}  // namespace

Typed read_options(const std::vector<std::string>& arguments) {
    Options o;
    CLI::App app{"Which ways of wiring these solar panels stay within this input's limits."};
    app.name("plait");
    app.footer(closing);
    app.require_subcommand(1);
    app.set_version_flag("--version", "plait " PLAIT_VERSION);
    app.get_formatter()->column_width(30);

    const auto common = [&o](CLI::App* command, const char* what) {
        command->add_option("FILE", o.file, what)->required();
        command->add_flag("--json", o.json, "the report as JSON (schema: docs/report.schema.json)");
        add_colour(command, o);
    };
    const auto page = [&o](CLI::App* command) {
        command->add_option("--page", o.page, "write the report to this HTML file too");
    };
    const auto pages = [&](CLI::App* command, const std::vector<std::string>& pictures) {
        page(command);
        CLI::Option* svg = command->add_option("--svg", o.svg, "write one picture to this file");
        std::string names;
        for (const std::string& p : pictures) names += (names.empty() ? "" : ", ") + p;
        if (pictures.size() < 2) return;
        command
            ->add_option("--picture", o.picture,
                         "which: " + names + " (the first); with several inputs --input says whose")
            ->check(CLI::IsMember(pictures))
            ->needs(svg);
    };
    CLI::App* check = app.add_subcommand("check", "judge one wiring in full: verdict, rules, meter readings, cautions");
    common(check, "a set-up file (docs/input.md)");
    pages(check, {"window-map", "wiring"});
    check->add_option("--input", o.input, "whose picture --svg is of; the first in use otherwise");
    check->add_option("--wiring", o.wiring,
                      "judge this wiring instead of the file's: 2s3p, or \"PV1=2s3p; PV2=unused\"");
    CLI::App* arrange = app.add_subcommand("arrange", "every wiring of the panels on hand, best first");
    common(arrange, "a set-up file (docs/input.md)");
    arrange->add_option("--top", o.top, "how many to show (10)")->check(CLI::Range(1, 1000000));
    add_arrange_options(arrange, o);
    arrange->add_option("--input", o.input, "whose picture --svg is of; the first in use otherwise");
    pages(arrange, {"window-map", "wiring", "trade-offs"});
    CLI::App* compare =
        app.add_subcommand("compare", "several set-ups side by side: harvest, losses, room in the cold, money");
    add_compare_options(compare, o);
    page(compare);
    CLI::App* curve =
        app.add_subcommand("curve", "current and power of one wiring over the voltage, with every maximum");
    common(curve, "a set-up file (docs/input.md)");
    add_curve_options(curve, o);
    pages(curve, {"curve"});
    CLI::App* explain = app.add_subcommand("explain", "why a log shows what it shows: where the label's energy went");
    common(explain, "a set-up file (docs/input.md)");
    add_explain_options(explain, o);
    pages(explain, {"log"});
    CLI::App* panel = app.add_subcommand("panel", "what plait makes of one datasheet");
    common(panel, "a panel file (docs/input.md; the folder panels/ has examples)");
    page(panel);

    const auto of_wiring = [&](CLI::App* command) {
        common(command, "a set-up file (docs/input.md)");
        command->add_option("--wiring", o.wiring,
                            "of this wiring instead of the file's: 2s3p, or \"PV1=2s3p; PV2=unused\"");
    };
    CLI::App* parts =
        app.add_subcommand("parts", "what one wiring takes: panels, cable, connectors, fuses, disconnects");
    of_wiring(parts);
    page(parts);
    parts->add_flag("--csv", o.csv, "the list as comma-separated values")->excludes("--json");
    CLI::App* steps = app.add_subcommand("steps", "the order of work for one wiring, with the voltage at every step");
    of_wiring(steps);
    page(steps);
    CLI::App* expect = app.add_subcommand(
        "expect", "the commissioning card: what a meter must read right now, and what other readings mean");
    common(expect, "a set-up file (docs/input.md)");
    add_expect_options(expect, o);
    page(expect);
    CLI::App* learn = app.add_subcommand("learn", "what an input really takes, from a bench sweep");
    common(learn, "the readings: volts, and amps or watts (docs/learn.md)");
    add_learn_options(learn, o);
    pages(learn, {"sweep"});

    Typed typed;
    if (!arguments.empty() && starts_with_dash(arguments.front()) && !for_itself(arguments.front())) {
        typed.text = flag_before_command(arguments.front());
        typed.exit_code = Exit::bad_input;
        return typed;
    }
    if (!arguments.empty() && !starts_with_dash(arguments.front())) {
        const auto commands = app.get_subcommands([](CLI::App*) { return true; });
        const bool known = std::any_of(commands.begin(), commands.end(),
                                       [&](const CLI::App* c) { return c->get_name() == arguments.front(); });
        if (!known) {
            typed.text = unknown_command(arguments.front());
            typed.exit_code = Exit::bad_input;
            return typed;
        }
    }
    try {
        // CLI11 takes its arguments from the back of a vector.
        app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));
    } catch (const CLI::CallForHelp&) {
        const auto chosen = app.get_subcommands();
        typed.text = chosen.empty() ? app.help() : chosen.front()->help();
        return typed;
    } catch (const CLI::CallForVersion&) {
        typed.text = "plait " PLAIT_VERSION "\n";
        return typed;
    } catch (const CLI::ParseError& e) {
        const bool in_command = !arguments.empty() && !starts_with_dash(arguments.front());
        typed.text = std::string("plait: ") + e.what() + "; plait " + (in_command ? arguments.front() + " " : "") +
                     "--help says what is allowed\n";
        typed.exit_code = Exit::bad_input;
        return typed;
    }
    if (o.sun && !o.cell && !o.air) {
        typed.text = "plait: --sun needs a temperature too; add --cell 45 (of the cells) or --air 20\n";
        typed.exit_code = Exit::bad_input;
        return typed;
    }
    if (compare->parsed() && (o.files.size() < 2 || o.files.size() > most_compared)) {
        typed.text = "plait: compare wants two to twenty set-up files, and got " + std::to_string(o.files.size()) +
                     "; name them one after the other: plait compare A.toml B.toml\n";
        typed.exit_code = Exit::bad_input;
        return typed;
    }
    o.command = check->parsed()     ? Command::check
                : arrange->parsed() ? Command::arrange
                : compare->parsed() ? Command::compare
                : curve->parsed()   ? Command::curve
                : panel->parsed()   ? Command::panel
                : expect->parsed()  ? Command::expect
                : learn->parsed()   ? Command::learn
                : explain->parsed() ? Command::explain
                : parts->parsed()   ? Command::parts
                                    : Command::steps;
    typed.options = o;
    return typed;
}

}  // namespace plait::cli
