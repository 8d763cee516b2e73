// Files of the real world: read whole or in pieces, written so that nothing is ever lost.
#pragma once

#include <plait/cli/run.hpp>

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::cli {

/// What one run reads and writes. "-" as a file to read is standard input: one whole file, which may be
/// asked for again, or one in pieces.
class Files {
public:
    /// A whole file, up to a little over a megabyte; or a sentence why not.
    [[nodiscard]] Result<std::string, std::string> read(const std::string& path);
    /// A file that another file names: an ordinary one only, so that a set-up from a stranger opens no device and waits
    /// for no pipe.
    [[nodiscard]] Result<std::string, std::string> read_named(const std::string& path);
    [[nodiscard]] static bool is_there(const std::string& path);
    /// As `World::files_of_folder`.
    [[nodiscard]] static std::optional<std::vector<std::string>> files_of_folder(const std::string& path);
    [[nodiscard]] std::optional<std::string> read_pieces(const std::string& path,
                                                         const std::function<bool(std::string_view)>& take);

    /// Writes all of them, or none if one may not be written: each beside its target first, and put in its place when
    /// it is whole. A refusal with the exit code, or nothing.
    struct Refusal {
        int exit_code = 0;
        std::string file;
        std::string message;
    };
    [[nodiscard]] std::optional<Refusal> write(const std::vector<CommandResult::File>& files) const;

private:
    [[nodiscard]] std::optional<Refusal> may_not_write(const std::vector<CommandResult::File>& files) const;

    std::vector<std::string> read_;  // paths of what was read
    std::optional<std::string> standard_input_;
    bool standard_input_is_used_ = false;
};

}  // namespace plait::cli
