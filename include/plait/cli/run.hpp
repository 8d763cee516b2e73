// The program as a function: arguments and a way to read files in; two texts and an exit code out. Only main() touches
// the real streams, so a test can run every command without a process.
#pragma once

#include <plait/base/diagnostic.hpp>
#include <plait/base/parallel.hpp>
#include <plait/input/read_setup.hpp>
#include <plait/search/plan_search.hpp>

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::cli {

/// Hands the bytes of a file on, piece by piece, until `take` says that it wants no more (false); or a sentence why it
/// cannot. For tables that may be too long to hold, or have no end.
using ReadPieces = std::function<std::optional<std::string>(const std::string& path,
                                                            const std::function<bool(std::string_view)>& take)>;

/// What a long run asks while it goes on.
struct RunWatch {
    std::function<bool()> go_on;                    ///< false: stop. Asked from several threads.
    std::function<void(std::size_t done)> progress;  ///< shows how far it is
    std::function<void()> end;                      ///< shows nothing any more
};

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
    /// The files of a folder whose names end in .toml, with the folder in front and in the order of their bytes; nothing where the path is no
    /// folder. Empty: there are no folders.
    std::function<std::optional<std::vector<std::string>>(const std::string& path)> files_of_folder = {};
    InParallel in_parallel = {};
    /// A watch over a run of so many steps. Empty: it runs to its end and shows nothing.
    std::function<RunWatch(std::size_t steps)> watch_run = {};
    /// Puts text on the output at once, before the command has ended; false where it cannot be written. Empty: it is kept for
    /// `CommandResult::out`.
    std::function<bool(std::string_view)> put = {};
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
    bool coloured = false;  ///< `out` has colours that the program chose
    /// What `err` says, for programs: with --json, `out` is a document of it.
    Diagnostics complaints = {};
    bool json = false;    ///< JSON was asked for
    std::string command = {};  ///< that was typed; empty where it is none
};

/// Exit codes: the plan may be connected as it is, and works; it may not, or not yet, or does not work; bad usage or
/// input; could not write; a bug.
enum Exit : int { all_within = 0, limit_broken = 1, bad_input = 2, cannot_write = 3, bug = 70 };

/// Runs one command line, without the program's name in front.
[[nodiscard]] CommandResult run(const std::vector<std::string>& arguments, const World& world);

/// What takes the place of a result whose file must not be written: the complaint, in the form that was asked for.
[[nodiscard]] CommandResult refused_output(const CommandResult& result, const std::string& file,
                                           const std::string& message);

}  // namespace plait::cli
