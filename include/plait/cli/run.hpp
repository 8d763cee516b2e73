// The program as a function: arguments and a way to read files in; two texts and an exit code out. Only main() touches
// the real streams, so a test can run every command without a process.
#pragma once

#include <plait/input/read_setup.hpp>
#include <plait/search/plan_search.hpp>

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::cli {

/// Hands the bytes of a file on, piece by piece; or a sentence why it cannot. For tables that may be too long to hold.
using ReadPieces = std::function<std::optional<std::string>(const std::string& path,
                                                            const std::function<void(std::string_view)>& take)>;

struct World {
    input::ReadFile read_file;
    bool colour = false;  ///< the output goes to a terminal that wants colour
    /// A watch over a search of at most so many seconds: shows progress and stops at Ctrl-C. Empty: searches run to their
    /// end.
    std::function<search::KeepGoing(double most_s)> watch = {};
    ReadPieces read_pieces = {};
    std::size_t columns = 80;                  ///< of the terminal
    std::function<std::string()> today = {};  ///< the date, for reports that are to bear one
    input::ReadFile read_named = {};           ///< for files that another file names; empty: as `read_file`
    /// Whether there is a file, or anything else, of that name; empty: whether `read_file` can read it.
    std::function<bool(const std::string& path)> is_there = {};
};

struct CommandResult {
    int exit_code = 0;
    std::string out;
    std::string err;
    /// Files to write when all else went well.
    struct File {
        std::string path;
        std::string text;
        std::string_view mark;  ///< a file that is there already is written over only if it begins like this
    };
    std::vector<File> files = {};
};

/// Exit codes: the plan may be connected as it is, and works; it may not, or not yet, or does not work; bad usage or
/// input; could not write; a bug.
enum Exit : int { all_within = 0, limit_broken = 1, bad_input = 2, cannot_write = 3, bug = 70 };

/// Runs one command line, without the program's name in front.
[[nodiscard]] CommandResult run(const std::vector<std::string>& arguments, const World& world);

}  // namespace plait::cli
