#include <plait/cli/run.hpp>

#include "command.hpp"

#include <plait/input/clean_text.hpp>
#include <plait/output/data.hpp>

#include <algorithm>
#include <exception>
#include <string>
#include <utility>
#include <variant>

namespace plait::cli {
namespace {

bool wants_json(const MatchOptions& o) { return o.form.json || o.lines; }
template <class O>
bool wants_json(const O& o) {
    return o.form.json;
}

/// Where the command line could not be read, what it seems to ask for.
bool seems_to_want_json(const std::vector<std::string>& arguments) {
    return std::any_of(arguments.begin(), arguments.end(),
                       [](const std::string& a) { return a == "--json" || a == "--lines"; });
}

CommandResult run_typed(const std::vector<std::string>& arguments, const World& world) {
    bool json = seems_to_want_json(arguments);
    CommandResult result;
    try {
        const Typed typed = read_options(arguments);
        if (!typed.options) {
            if (typed.exit_code == 0) return {typed.exit_code, typed.text, ""};
            result = refused("plait", Complaint::option, typed.text);
        } else {
            json = std::visit([](const auto& options) { return wants_json(options); }, *typed.options);
            Session session(world);
            result = std::visit([&](const auto& options) { return run_command(options, session); }, *typed.options);
        }
    } catch (const std::exception& e) {
        result = refused("plait", Complaint::internal,
                         std::string("internal error, please report it with the files you used: ") + e.what());
        result.exit_code = Exit::bug;
    }
    result.json = json;
    if (!arguments.empty() && is_command(arguments.front())) result.command = arguments.front();
    return result;
}

/// The result as it leaves the program.
CommandResult cleaned(CommandResult result) {
    if (result.json && !result.complaints.empty()) {
        for (Diagnostic& d : result.complaints) {
            d.file = input::clean_text(std::move(d.file));
            d.message = input::clean_text(std::move(d.message));
        }
        result.out = output::refused_json(result.command, result.exit_code, result.complaints);
    }
    result.out = input::clean_text(std::move(result.out), {result.coloured, false});
    result.err = input::clean_text(std::move(result.err));
    for (CommandResult::File& file : result.files) file.text = input::clean_text(std::move(file.text), {false, true});
    return result;
}

}  // namespace

CommandResult run(const std::vector<std::string>& arguments, const World& world) {
    return cleaned(run_typed(arguments, world));
}

CommandResult refused_output(const CommandResult& result, const std::string& file, const std::string& message) {
    CommandResult instead = refused(file, Complaint::in_the_way, message);
    instead.json = result.json;
    instead.command = result.command;
    return cleaned(std::move(instead));
}

}  // namespace plait::cli
