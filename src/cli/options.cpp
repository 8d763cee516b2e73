#include "options.hpp"

#include <plait/cli/run.hpp>

#include <CLI/CLI.hpp>

#include <algorithm>

namespace plait::cli {
namespace {

const char* const closing =
    "Exit codes: 0 nothing exceeds or falls short, 1 something does, 2 bad usage or input, 3 the output could not be\n"
    "written, 70 a bug in plait.\n\n"
    "Plait compares stated values with stated limits. It approves nothing: the local code, the makers' manuals and a\n"
    "licensed electrician have the last word.";

// CLI11 says only that a subcommand is missing; a slip of the fingers deserves the word itself.
std::string unknown_command(const std::string& typed) {
    return "plait: '" + typed +
           "' is not a command; write one of check, arrange, panel (plait --help says what each does)\n";
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
        command->add_option("--colour,--color", o.colour, "auto, always or never; NO_COLOR is heeded")
            ->check(CLI::IsMember({"auto", "always", "never"}));
    };
    CLI::App* check = app.add_subcommand("check", "judge one wiring in full: verdict, rules, meter readings, cautions");
    common(check, "a set-up file (docs/input.md)");
    check->add_option("--wiring", o.wiring,
                      "judge this wiring instead of the file's: 2s3p, or \"PV1=2s3p; PV2=unused\"");
    CLI::App* arrange = app.add_subcommand("arrange", "every wiring of the panels on hand, best first");
    common(arrange, "a set-up file (docs/input.md)");
    arrange->add_option("--top", o.top, "how many to show (10)")->check(CLI::Range(1, 1000000));
    arrange->add_flag("--all", o.all, "show every wiring, the dangerous ones last");
    CLI::App* panel = app.add_subcommand("panel", "what plait makes of one datasheet");
    common(panel, "a panel file (docs/input.md; the folder panels/ has examples)");

    Typed typed;
    if (!arguments.empty() && arguments.front().rfind('-', 0) != 0) {
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
        typed.text = std::string("plait: ") + e.what() + "; plait --help says what is allowed\n";
        typed.exit_code = Exit::bad_input;
        return typed;
    }
    o.command = check->parsed() ? Command::check : arrange->parsed() ? Command::arrange : Command::panel;
    typed.options = o;
    return typed;
}

}  // namespace plait::cli
