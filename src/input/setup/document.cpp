#include "document.hpp"

#include "quantity/text_guard.hpp"
#include "toml.hpp"
#include "quantity/words.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace plait::input {
namespace {

Place place(const toml::source_region& region) {
    return {static_cast<int>(region.begin.line), static_cast<int>(region.begin.column)};
}

Node converted(const toml::node& node);

Table converted(const toml::table& table) {
    Table out;
    out.reserve(table.size());
    for (const auto& [key, value] : table) {
        out.push_back({std::string(key.str()), place(key.source()), converted(value)});
    }
    std::stable_sort(out.begin(), out.end(), [](const Entry& a, const Entry& b) { return a.at < b.at; });
    return out;
}

// Recursion is as deep as the text nests, which the guard has bounded.
Node converted(const toml::node& node) {
    Node out{place(node.source()), Date{}};
    if (const auto* text = node.as_string()) out.value = std::string(text->get());
    if (const auto* integer = node.as_integer()) out.value = integer->get();
    if (const auto* number = node.as_floating_point()) out.value = number->get();
    if (const auto* flag = node.as_boolean()) out.value = flag->get();
    if (const auto* table = node.as_table()) out.value = converted(*table);
    if (const auto* array = node.as_array()) {
        List list;
        list.reserve(array->size());
        for (const toml::node& element : *array) list.push_back(converted(element));
        out.value = std::move(list);
    }
    return out;
}

std::string_view line_of(std::string_view text, int line) {
    for (; line > 1; --line) {
        const std::size_t end = text.find('\n');
        if (end == std::string_view::npos) return {};
        text.remove_prefix(end + 1);
    }
    return text.substr(0, text.find_first_of("\r\n"));
}

// What to do about it, guessed from the line itself: nearly every slip is a value that wants quotes.
std::string advice(std::string_view description, std::string_view line) {
    if (description.find("redefine") != std::string_view::npos) {
        return "A key or table may stand only once: remove one of the two. Several panels are written as [[panel]] "
               "with "
               "double brackets, several inputs as [[controller.input]].";
    }
    if (description.find("64 bits") != std::string_view::npos) return "Write a smaller number.";
    const std::size_t equals = line.find('=');
    if (line.empty() || line.front() == '[') return "Compare the line with the examples in docs/input.md.";
    if (equals == std::string_view::npos) return "Write key = value.";
    const std::string_view key = trimmed(line.substr(0, equals));
    std::string_view value = trimmed(line.substr(equals + 1));
    value = trimmed(value.substr(0, value.find('#')));
    if (value.empty()) return "Write a value behind the =, or delete the line.";
    const bool simple =
        value.find_first_of("\"'[]{}=") == std::string_view::npos && key.size() < 40 && value.size() < 40;
    if (!simple) return "Look for a missing comma, quote or bracket, and give each key a line of its own.";
    const std::size_t comma = value.find(',');
    if (comma != std::string_view::npos) {
        std::string with_point(value);
        with_point[comma] = '.';
        const bool number = with_point.find_first_not_of("+-0123456789.") == std::string::npos;
        return fmt::format("Write decimals with a point: {} = {}{}{}.", key, number ? "" : "\"", with_point,
                           number ? "" : "\"");
    }
    if (value == "True" || value == "TRUE" || value == "yes" || value == "Yes") return "Write true in small letters.";
    if (value == "False" || value == "FALSE" || value == "no" || value == "No") return "Write false in small letters.";
    if (value.find_first_not_of("+-0123456789.eE_") == std::string_view::npos) {
        return "Write a plain number such as 0.5 or 12, with digits on both sides of the point.";
    }
    return fmt::format("Put text, and a number with its unit, in quotes: {} = \"{}\".", key, value);
}

std::string_view without_preamble(std::string_view description) {
    constexpr std::string_view preamble = "Error while parsing ";
    if (description.substr(0, preamble.size()) == preamble) description.remove_prefix(preamble.size());
    return description;
}

void complain_of_syntax(const toml::parse_error& error, std::string_view text, const FileNotes& notes) {
    const Place at = place(error.source());
    // It quotes the text it stumbled over, which may hold anything.
    std::string description(without_preamble(error.description()));
    if (description.size() > 300) description = "this";
    notes.complain(
        at, Complaint::grammar,
        printable(fmt::format("not valid TOML ({}). {}", description, advice(description, line_of(text, at.line)))));
}

}  // namespace

const Entry* find(const Table& table, std::string_view key) {
    for (const Entry& entry : table) {
        if (entry.key == key) return &entry;
    }
    return nullptr;
}

std::string_view type_name(const Node& node) {
    constexpr std::array<std::string_view, 7> names{"text",           "a whole number", "a number", "",
                                                    "a date or time", "a list",         "a table"};
    if (const auto* flag = node.as<bool>()) return *flag ? "true" : "false";
    return names[node.value.index()];
}

std::optional<Table> parse_document(std::string_view text, const FileNotes& notes) {
    if (auto trouble = guard(text)) {
        notes.complain(trouble->at, trouble->kind, std::move(trouble->message));
        return std::nullopt;
    }
#if TOML_EXCEPTIONS
    // The system's toml++ is built to throw; nothing it throws goes further than this.
    try {
        return converted(toml::parse(text));
    } catch (const toml::parse_error& error) {
        complain_of_syntax(error, text, notes);
        return std::nullopt;
    }
#else
    const toml::parse_result parsed = toml::parse(text);
    if (parsed) return converted(parsed.table());
    complain_of_syntax(parsed.error(), text, notes);
    return std::nullopt;
#endif
}

}  // namespace plait::input
