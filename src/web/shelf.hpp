// The files a page has at hand, in memory, by name.
#pragma once

#include <plait/cli/run.hpp>

#include <map>
#include <string>
#include <vector>

namespace plait::web {

/// Files that were dropped, typed or shipped. They stay until they are put away, so that a run need not bring the
/// panels along.
class Shelf {
public:
    void put(const std::string& path, std::string text) { files_[normal(path)] = std::move(text); }
    void put_away(const std::string& path) { files_.erase(normal(path)); }

    /// A whole file; or a sentence why not. What is not there is remembered in `missing`.
    [[nodiscard]] Result<std::string, std::string> read(const std::string& path);
    [[nodiscard]] bool has(const std::string& path) const { return files_.count(normal(path)) > 0; }

    /// Names asked for and not found since `forget_missing`, in the order they were asked for, each once.
    [[nodiscard]] const std::vector<std::string>& missing() const { return missing_; }
    void forget_missing() { missing_.clear(); }

    /// A path without "." and ".." parts, as far as they can be resolved: "docs/demo/../../panels/x" is "panels/x".
    [[nodiscard]] static std::string normal(const std::string& path);

private:
    std::map<std::string, std::string> files_;
    std::vector<std::string> missing_;
};

/// The world of one command line over this shelf. `today` is the date for dated reports; it may be empty.
[[nodiscard]] cli::World world_over(Shelf& shelf, std::string today, std::size_t columns);

}  // namespace plait::web
