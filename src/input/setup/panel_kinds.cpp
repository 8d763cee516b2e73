#include "panel_kinds.hpp"

#include "panel_fields.hpp"
#include "panel_from.hpp"
#include "place_from.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace plait::input {
namespace {

constexpr std::size_t most_kinds = 50;
constexpr std::string_view how_panels = "Write each kind of panel under [[panel]] with double brackets";

bool lower_or_digit(char c) { return (c >= 'a' && c <= 'z') || is_digit(c); }

bool valid_id(std::string_view id) {
    if (id.empty() || id[0] < 'a' || id[0] > 'z' || id == "unused") return false;
    return std::all_of(id.begin(), id.end(), [](char c) { return lower_or_digit(c) || c == '-' || c == '_'; });
}

// "Meadow 100 W" → "meadow-100-w"; a name without a single plain letter or digit gives nothing.
std::string id_from(std::string_view name) {
    std::string id;
    for (const char c : name) {
        if (lower_or_digit(lower(c)))
            id += lower(c);
        else if (!id.empty() && id.back() != '-')
            id += '-';
        if (id.size() == 32) break;
    }
    while (!id.empty() && id.back() == '-') id.pop_back();
    if (!id.empty() && (id[0] < 'a' || id[0] > 'z')) id = ("panel-" + id).substr(0, 32);
    return valid_id(id) ? id : std::string();
}

class KindsReader {
public:
    KindsReader(const FileNotes& notes, Notes& all, const ReadFile& read_file, const std::vector<std::string>& planes)
        : notes_(notes), all_(all), read_file_(read_file), planes_(planes) {}

    void read(const Table& table, Place at, std::size_t index) {
        const auto* file_entry = find(table, "file");
        Specs known = specs_of(entry_fields());
        const Specs of_panel = specs_of(panel_fields());
        known.insert(known.end(), of_panel.begin(), of_panel.end());
        check_keys(notes_, table, at, "[[panel]]", known);
        RawEntry raw;
        read_fields(notes_, table, entry_fields(), raw);

        const std::size_t first_assumption = all_.assumptions.size();
        const Entry* name_entry = find(table, "name");
        const auto* name = name_entry == nullptr ? nullptr : name_entry->value.as<std::string>();
        const std::string id = id_of(raw, name, at, index);
        const std::string fallback_name = raw.id ? raw.id->value : id;
        std::optional<Panel> panel;
        if (file_entry != nullptr) {
            refuse_beside_file(table, of_panel);
            if (raw.file) panel = from_file(*raw.file);
        } else {
            panel = panel_from(notes_, table, at, fallback_name);
        }
        for (std::size_t i = first_assumption; i < all_.assumptions.size(); ++i) all_.assumptions[i].kind = index;

        out_.ids.push_back(panel ? wiring_kind(id, *panel) : WiringKind{id});
        if (!panel || !raw.count) return;
        PanelKind kind{id, std::move(*panel), static_cast<int>(raw.count->value), std::nullopt};
        if (raw.price) kind.price = raw.price->value;
        if (raw.plane) kind.plane = plane_named(notes_, *raw.plane, planes_);
        out_.kinds.push_back(std::move(kind));
    }

    PanelKinds take() { return std::move(out_); }

private:
    // As written; else from the file's name, else from the panel's.
    std::string id_of(const RawEntry& raw, const std::string* name, Place at, std::size_t index) {
        std::string id;
        if (raw.id) {
            id = raw.id->value;
            if (!valid_id(id)) {
                const std::string better = id_from(id);
                notes_.complain(
                    raw.id->at, Complaint::unknown_word,
                    fmt::format("'id' is {}. Write a letter a-z, then letters, digits, - or _{}.", quoted(id),
                                id == "unused"   ? "; \"unused\" has a meaning of its own in wirings"
                                : better.empty() ? ""
                                                 : fmt::format(", such as \"{}\"", better)));
            }
        } else {
            if (raw.file) id = id_from(stem_of(raw.file->value));
            if (id.empty() && name != nullptr) id = id_from(*name);
            if (id.empty()) id = fmt::format("panel-{}", index + 1);
        }
        const bool taken =
            std::any_of(out_.ids.begin(), out_.ids.end(), [&](const WiringKind& k) { return k.id == id; });
        if (taken) {
            notes_.complain(
                raw.id ? raw.id->at : at, Complaint::twice,
                fmt::format("two kinds of panel would be called {}. Give each an id of its own, such as id = "
                            "\"{}-2\".",
                            quoted(id), id.substr(0, 30)));
        }
        return id;
    }

    void refuse_beside_file(const Table& table, const Specs& of_panel) {
        for (const Entry& entry : table) {
            const bool of_the_panel =
                std::any_of(of_panel.begin(), of_panel.end(), [&](const Spec* s) { return s->key == entry.key; });
            if (!of_the_panel) continue;
            notes_.complain(entry.at, Complaint::without_effect,
                            fmt::format("{} stands beside 'file', which already describes the panel. Delete this "
                                        "line, or delete 'file' and write all of the panel's keys here; only id, "
                                        "count, plane and price may stand beside it.",
                                        named(entry.key)));
        }
    }

    std::optional<Panel> from_file(const Text& file) {
        const auto text = text_beside(notes_, file, "panel", read_file_);
        return text ? panel_from_file(notes_.about(beside(notes_.file(), file.value)), *text) : std::nullopt;
    }

    const FileNotes& notes_;
    Notes& all_;
    const ReadFile& read_file_;
    const std::vector<std::string>& planes_;
    PanelKinds out_;
};

}  // namespace

PanelKinds panel_kinds_from(const FileNotes& notes, Notes& all, const Entry& entry, const ReadFile& read_file,
                            const std::vector<std::string>& planes) {
    const List* list = read_list(notes, entry, how_panels);
    if (list == nullptr) return {};
    if (list->empty() || list->size() > most_kinds) {
        notes.complain(
            entry.at, Complaint::how_many,
            fmt::format("{} kinds of panel are listed; 1 to {} are read. {}.", list->size(), most_kinds, how_panels));
        return {};
    }
    KindsReader reader(notes, all, read_file, planes);
    for (std::size_t i = 0; i < list->size(); ++i) {
        const Node& node = (*list)[i];
        if (const auto* table = node.as<Table>()) {
            reader.read(*table, node.at, i);
        } else {
            notes.complain(node.at, Complaint::wrong_type,
                           fmt::format("a kind of panel is {}. {}.", type_name(node), how_panels));
        }
    }
    return reader.take();
}

std::string id_of_file(std::string_view path) {
    const std::string id = id_from(stem_of(path));
    return id.empty() ? "panel-1" : id;
}

namespace {

/// Whether a line begins with one of the keys that every such file has, or opens a table of that name.
bool looks_like(std::string_view text, const Words& keys) {
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        std::string_view line = trimmed(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
        while (!line.empty() && line.front() == '[') line.remove_prefix(1);
        const std::size_t word = std::min(line.find_first_of(" \t=]"), line.size());
        const std::string_view after = trimmed(line.substr(word));
        const bool opens = !after.empty() && (after.front() == '=' || after.front() == ']');
        if (opens && std::find(keys.begin(), keys.end(), lower(line.substr(0, word))) != keys.end()) return true;
    }
    return false;
}

}  // namespace

std::optional<std::string> text_beside(const FileNotes& notes, const Text& file, std::string_view what,
                                       const ReadFile& read_file) {
    const std::string path = beside(notes.file(), file.value);
    Result<std::string, std::string> text =
        read_file ? read_file(path)
                  : Result<std::string, std::string>(Failure{std::string("no files can be read here")});
    // A set-up from a stranger may name any file of this computer. What is no such file must not be read out in messages.
    Words keys = what == "panel" ? Words(panel_file_keys.begin(), panel_file_keys.end())
                                 : Words(controller_file_keys.begin(), controller_file_keys.end());
    keys.push_back(what);  // a whole set-up has a table of that name, and a message of its own
    if (text && (looks_like(*text, keys) || trimmed(*text).empty())) return *std::move(text);
    if (text) {
        notes.complain(file.at, Complaint::wrong_file,
                       fmt::format("the {} file {} is none: no line of it begins with {}. Name the file that holds "
                                   "the {}'s figures.",
                                   what, quoted_whole(path), any_of(keys), what));
        return std::nullopt;
    }
    notes.complain(file.at, Complaint::unreadable,
                   fmt::format("the {} file {} cannot be read: {}. The path starts from the folder of this "
                               "file.",
                               what, quoted_whole(path), text.error()));
    return std::nullopt;
}

std::string beside(std::string_view setup_file, std::string_view named_file) {
    const bool drive = named_file.size() > 1 && named_file[1] == ':';
    if (drive || named_file.substr(0, 1) == "/" || named_file.substr(0, 1) == "\\") return std::string(named_file);
    const std::size_t slash = setup_file.find_last_of("/\\");
    if (slash == std::string_view::npos) return std::string(named_file);
    return std::string(setup_file.substr(0, slash + 1)) + std::string(named_file);
}

}  // namespace plait::input
