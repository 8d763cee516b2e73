// new: a set-up file to begin with.
#include "command.hpp"

#include <plait/output/data.hpp>

#include <fmt/core.h>

namespace plait::cli {

CommandResult run_command(const NewOptions& o, Session& session) {
    if (session.is_there(o.file)) {
        return refused(o.file, Complaint::in_the_way,
                       "there is a file of that name already, and it is left as it is; choose a new name");
    }
    CommandResult result{Exit::all_within,
                         fmt::format("A whole set-up with invented figures goes to {0}. Open it, put in yours, then:\n\n"
                                     "  plait arrange {0}    every wiring of your panels, best first\n"
                                     "  plait check {0}      the wiring in the file, judged\n\n"
                                     "Every key is explained in docs/input.md.\n",
                                     o.file),
                         ""};
    result.files.push_back({o.file, output::first_setup_toml(), never});
    return result;
}

}  // namespace plait::cli
