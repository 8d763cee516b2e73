#include <plait/cli/run.hpp>

#include "command.hpp"

#include <plait/input/clean_text.hpp>

#include <exception>
#include <string>
#include <utility>

namespace plait::cli {
namespace {

CommandResult run_typed(const std::vector<std::string>& arguments, const World& world) {
    try {
        const Typed typed = read_options(arguments);
        if (!typed.options) {
            const bool good = typed.exit_code == 0;
            return {typed.exit_code, good ? typed.text : "", good ? "" : typed.text};
        }
        Session session(world);
        return std::visit([&](const auto& options) { return run_command(options, session); }, *typed.options);
    } catch (const std::exception& e) {
        return {Exit::bug, "",
                std::string("plait: internal error, please report it with the files you used: ") + e.what() + "\n"};
    }
}

}  // namespace

CommandResult run(const std::vector<std::string>& arguments, const World& world) {
    CommandResult result = run_typed(arguments, world);
    result.out = input::clean_text(std::move(result.out), {result.coloured, false});
    result.err = input::clean_text(std::move(result.err));
    for (CommandResult::File& file : result.files) file.text = input::clean_text(std::move(file.text), {false, true});
    return result;
}

}  // namespace plait::cli
