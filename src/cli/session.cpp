#include "session.hpp"

#include <fmt/core.h>

namespace plait::cli {

Result<std::string, std::string> Session::read_file(const std::string& path) {
    Result<std::string, std::string> text = world_.read_file(path);
    if (text) sum_.process_bytes(text->data(), text->size());
    return text;
}

input::ReadFile Session::reader() {
    return [this](const std::string& path) {
        Result<std::string, std::string> text = world_.read_named ? world_.read_named(path) : world_.read_file(path);
        if (text) sum_.process_bytes(text->data(), text->size());
        return text;
    };
}

bool Session::is_there(const std::string& path) const {
    return world_.is_there ? world_.is_there(path) : static_cast<bool>(world_.read_file(path));
}

Result<std::string, std::string> Session::read_long_file(const std::string& path) {
    constexpr std::size_t most_bytes = std::size_t{64} << 20U;
    std::string text;
    bool too_long = false;
    const auto trouble = read_pieces(path, [&](std::string_view piece) {
        too_long = too_long || text.size() + piece.size() > most_bytes;
        if (!too_long) text += piece;
        return !too_long;
    });
    if (trouble) return Failure{*trouble};
    if (too_long) return Failure{std::string("is longer than 64 MiB; cut it to the years you need")};
    return text;
}

std::optional<std::string> Session::read_pieces(const std::string& path,
                                                const std::function<bool(std::string_view)>& take) {
    return world_.read_pieces(path, [&](std::string_view piece) {
        sum_.process_bytes(piece.data(), piece.size());
        return take(piece);
    });
}

output::Provenance Session::provenance(const std::string& file, const Form& form) const {
    return {"plait " PLAIT_VERSION, file, fmt::format("{:016x}", sum_.checksum()), form.changes,
            form.dated && world_.today ? world_.today() : std::string()};
}

output::TerminalStyle Session::style(const Form& form) const {
    const bool coloured = form.colour == "always" || (form.colour == "auto" && world_.colour);
    return {coloured ? output::Colour::on : output::Colour::off, world_.columns, form.full};
}

}  // namespace plait::cli
