// A TOML text as plain data with places, so that the rest of the reader does not see the parser.
#pragma once

#include "quantity/notes.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace plait::input {

struct Node;
struct Entry;
struct Date {};  // dates and times have no use here; they are only told apart
using List = std::vector<Node>;
using Table = std::vector<Entry>;  // in the order of the file

struct Node {
    Place at;
    std::variant<std::string, std::int64_t, double, bool, Date, List, Table> value;

    template <class T>
    [[nodiscard]] const T* as() const {
        return std::get_if<T>(&value);
    }
};

struct Entry {
    std::string key;
    Place at;
    Node value;
};

[[nodiscard]] const Entry* find(const Table& table, std::string_view key);

/// "text", "a number", "a list" …, for messages.
[[nodiscard]] std::string_view type_name(const Node& node);

/// The whole text as a table; nothing, and one complaint, if it is no TOML.
[[nodiscard]] std::optional<Table> parse_document(std::string_view text, const FileNotes& notes);

}  // namespace plait::input
