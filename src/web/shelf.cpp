#include "shelf.hpp"

#include <algorithm>
#include <chrono>
#include <string_view>

namespace plait::web {
namespace {

// As on the command line, the reader itself says that a file is too large, so that a little more than that is handed on.
constexpr std::size_t most_bytes = (1U << 20U) + 4096U;

// Stops a search after so many seconds. Nobody can interrupt it from outside but by ending the worker it runs in.
search::KeepGoing watch(double most_s) {
    const auto start = std::chrono::steady_clock::now();
    return [start, most_s](const search::SearchProgress&) {
        return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count() < most_s;
    };
}

}  // namespace

Result<std::string, std::string> Shelf::read(const std::string& path) {
    const auto found = files_.find(normal(path));
    if (found != files_.end()) return found->second;
    if (std::find(missing_.begin(), missing_.end(), path) == missing_.end()) missing_.push_back(path);
    return Failure{std::string("is not among the files on this page; drop it here as well")};
}

std::string Shelf::normal(const std::string& path) {
    std::vector<std::string_view> parts;
    const std::string_view all(path);
    for (std::size_t from = 0; from <= all.size();) {
        const std::size_t slash = std::min(all.find('/', from), all.size());
        const std::string_view part = all.substr(from, slash - from);
        if (part == ".." && !parts.empty() && parts.back() != "..") {
            parts.pop_back();
        } else if (!part.empty() && part != ".") {
            parts.push_back(part);
        }
        from = slash + 1;
    }
    std::string out;
    for (const std::string_view part : parts) out += (out.empty() ? "" : "/") + std::string(part);
    return out;
}

cli::World world_over(Shelf& shelf, std::string today, std::size_t columns) {
    const auto whole = [&shelf](const std::string& path) -> Result<std::string, std::string> {
        const Result<std::string, std::string> text = shelf.read(path);
        if (text && text->size() > most_bytes) return text->substr(0, most_bytes);
        return text;
    };
    cli::World world{whole};
    world.watch = &watch;
    world.read_pieces = [&shelf](const std::string& path, const std::function<bool(std::string_view)>& take) {
        const Result<std::string, std::string> text = shelf.read(path);
        if (!text) return std::optional<std::string>(text.error());
        take(*text);
        return std::optional<std::string>();
    };
    world.columns = columns;
    world.today = [today = std::move(today)] { return today; };
    world.is_there = [&shelf](const std::string& path) { return shelf.has(path); };
    return world;
}

}  // namespace plait::web
