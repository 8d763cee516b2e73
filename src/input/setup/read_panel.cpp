#include <plait/input/read_panel.hpp>

#include "panel_completion.hpp"
#include "panel_fields.hpp"
#include "panel_from.hpp"
#include "quantity/plausibility.hpp"

#include <fmt/core.h>

namespace plait::input {

std::string stem_of(std::string_view path) {
    const std::size_t slash = path.find_last_of("/\\");
    if (slash != std::string_view::npos) path.remove_prefix(slash + 1);
    const std::size_t dot = path.find_last_of('.');
    if (dot != std::string_view::npos && dot > 0) path = path.substr(0, dot);
    return std::string(path);
}

std::optional<Panel> panel_from(const FileNotes& notes, const Table& table, Place at,
                                const std::string& fallback_name) {
    const std::size_t before = notes.complaint_count();
    const RawPanel raw = read_raw_panel(notes, table, at);
    std::optional<Panel> panel;
    // A key that is there but wrong must not be taken for missing, so gaps are filled only when all was read well.
    if (notes.complaint_count() == before) panel = completed(raw, fallback_name, notes);
    check_plausible(raw, panel, notes);
    return notes.complaint_count() == before ? panel : std::nullopt;
}

std::optional<Panel> panel_from_file(const FileNotes& notes, std::string_view text) {
    const auto table = parse_document(text, notes);
    if (!table) return std::nullopt;
    for (const std::string_view key : {"panel", "controller", "site", "wiring"}) {
        const Entry* entry = find(*table, key);
        if (entry == nullptr) continue;
        notes.complain(entry->at, Complaint::wrong_file,
                       fmt::format("{} makes this a whole set-up, but a panel file was wanted. A panel file has a "
                                   "panel's keys (name, pmax, voc …) and no more; open this one as a set-up.",
                                   named(key)));
        return std::nullopt;
    }
    constexpr Place top{1, 1};
    const std::size_t before = notes.complaint_count();
    check_keys(notes, *table, top, "a panel file", specs_of(panel_fields()));
    auto panel = panel_from(notes, *table, top, stem_of(notes.file()));
    return notes.complaint_count() == before ? std::move(panel) : std::nullopt;
}

Result<PanelFile> read_panel(std::string_view text, const std::string& file) {
    Notes notes;
    const auto panel = panel_from_file(FileNotes(file, notes), text);
    if (!panel) return Failure{in_order(std::move(notes.complaints))};
    return PanelFile{*panel, std::move(notes.assumptions), std::move(notes.doubts)};
}

}  // namespace plait::input
