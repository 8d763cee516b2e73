#include <plait/cli/run.hpp>

#include "command.hpp"

#include <exception>
#include <string>

namespace plait::cli {

CommandResult run(const std::vector<std::string>& arguments, const World& world) {
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

}  // namespace plait::cli
