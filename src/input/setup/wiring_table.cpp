#include "wiring_table.hpp"

#include "place_from.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace plait::input {
namespace {

constexpr std::string_view how_wiring = "Write [wiring] and under it a line for each input, such as PV1 = \"3s2p\"";
constexpr std::string_view how_string =
    "Write each string as [[wiring.PV1.string]] with panels = [ \"meadow\", { panel = \"dune\", light = 0.5 } ]";

using S = Field<RawString>;
constexpr std::array string_table{
    S{{.key = "panels",
       .kind = Kind::by_hand,
       .meaning = "the panels in series, from + to −; ids, or tables as below",
       .form = "panels = [ \"meadow\", … ]",
       .required = true},
      {}},
    S{{.key = "blocking_diode",
       .kind = Kind::flag,
       .meaning = "a diode keeps the other strings from feeding this one",
       .if_missing = "false"},
      &RawString::blocking_diode},
    S{{.key = "fuse",
       .kind = Kind::current,
       .meaning = "the fuse in this string, where strings have fuses of different ratings",
       .if_missing = "`string_fuse` of [fittings]",
       .limits = {0.5, 400}},
      &RawString::fuse},
    S{{.key = "plane",
       .kind = Kind::text,
       .meaning = "the name of the [[plane]] its panels are on",
       .if_missing = "that of their kind",
       .limits = {1, 40}},
      &RawString::plane},
};

using P = Field<RawPlace>;
constexpr std::array place_table{
    P{{.key = "panel",
       .kind = Kind::text,
       .meaning = "the id of its kind",
       .limits = {1, 32},
       .required = true},
      &RawPlace::panel},
    P{{.key = "plane",
       .kind = Kind::text,
       .meaning = "the name of the [[plane]] it is on",
       .if_missing = "that of its string, else of its kind",
       .limits = {1, 40}},
      &RawPlace::plane},
    P{{.key = "light",
       .kind = Kind::by_hand,
       .meaning = "share of the irradiance, 0 to 2: one number, or one for each bypass group",
       .if_missing = "1, full light",
       .form = "light = 0.5 or light = [1, 0.2, 1]; cells as below"},
      {}},
    P{{.key = "warmer",
       .kind = Kind::by_hand,
       .meaning = "kelvins above the array's cell temperature, −50 to 100: one number, or one for each bypass group",
       .if_missing = "0",
       .form = "warmer = \"5 K\" or [0, \"5 K\", 0]"},
      {}},
};

using C = Field<RawShade>;
constexpr std::array shade_table{
    C{{.key = "cells",
       .kind = Kind::count,
       .meaning = "how many cells of the group; of half-cut panels half cells",
       .limits = {1, 300},
       .required = true},
      &RawShade::cells},
    C{{.key = "light",
       .kind = Kind::share,
       .meaning = "their share of the irradiance, no more than that of the others",
       .limits = {0, 2},
       .required = true},
      &RawShade::light},
    C{{.key = "others",
       .kind = Kind::share,
       .meaning = "share of the irradiance on the other cells of the group",
       .if_missing = "1, full light",
       .limits = {0, 2}},
      &RawShade::others},
};

constexpr Spec light_spec{.key = "light", .kind = Kind::share, .limits = {0, 2}};
constexpr Spec warmer_spec{
    .key = "warmer", .kind = Kind::warming, .limits = {-50, 100}};

class TableReader {
public:
    TableReader(const FileNotes& notes, const WiringScope& scope) : notes_(notes), scope_(scope) {}

    InputWiring input(const Entry& entry) {
        if (const auto* text = entry.value.as<std::string>()) return short_form(entry.value.at, *text);
        const Table* table = read_table(notes_, entry, "Write a wiring in quotes such as \"3s2p\", or \"unused\"");
        if (table == nullptr) return {};
        for (const Entry& key : *table) {
            if (key.key == "string") continue;
            notes_.complain(key.at, Complaint::unknown_word,
                            fmt::format("{} is not a key of a wiring. {}.", named(key.key), how_string));
        }
        const Entry* strings = find(*table, "string");
        if (strings == nullptr) {
            notes_.complain(entry.at, Complaint::wiring,
                            fmt::format("the wiring of {} holds no string. {}.", named(entry.key), how_string));
            return {};
        }
        const List* list = read_list(notes_, *strings, how_string);
        InputWiring wiring;
        if (list == nullptr) return wiring;
        for (const Node& node : *list) {
            if (const auto* string = node.as<Table>()) {
                wiring.strings.push_back(series_string(*string, node.at));
            } else {
                notes_.complain(node.at, Complaint::wrong_type,
                                fmt::format("a string is {}. {}.", type_name(node), how_string));
            }
        }
        if (wiring.panel_count() > most_panels) {
            notes_.complain(entry.at, Complaint::how_many,
                            fmt::format("the wiring of {} has {} panels; up to {} are taken. Check it.",
                                        named(entry.key), wiring.panel_count(), most_panels));
        }
        return wiring;
    }

private:
    InputWiring short_form(Place at, std::string_view text) {
        std::vector<WiringFault> faults;
        auto wiring = wiring_from_text(text, 0, scope_, faults);
        for (WiringFault& fault : faults) notes_.complain(at, fault.kind, std::move(fault.message));
        return wiring ? std::move(*wiring) : InputWiring{};
    }

    SeriesString series_string(const Table& table, Place at) {
        check_keys(notes_, table, at, "a string", specs_of(string_fields()));
        RawString raw;
        read_fields(notes_, table, string_fields(), raw);
        SeriesString string;
        string.blocking_diode = raw.blocking_diode && raw.blocking_diode->value;
        if (raw.fuse) string.fuse_a = raw.fuse->value;
        const Entry* panels = find(table, "panels");
        const List* list = panels == nullptr ? nullptr : read_list(notes_, *panels, how_string);
        if (list == nullptr) return string;
        if (list->empty()) {
            notes_.complain(panels->at, Complaint::wiring, fmt::format("this string has no panels. {}.", how_string));
        }
        std::optional<std::size_t> plane;
        if (raw.plane) plane = plane_named(notes_, *raw.plane, scope_.planes);
        for (const Node& node : *list) {
            string.panels.push_back(place(node));
            if (!string.panels.back().plane) string.panels.back().plane = plane;
        }
        return string;
    }

    PanelPlace place(const Node& node) {
        if (const auto* id = node.as<std::string>()) return {kind(node.at, *id).value_or(0), {}};
        const auto* table = node.as<Table>();
        if (table == nullptr) {
            notes_.complain(node.at, Complaint::wrong_type,
                            fmt::format("a panel of a string is {}. Write its id in quotes, or {{ panel = \"…\", "
                                        "light = 0.5 }}.",
                                        type_name(node)));
            return {};
        }
        check_keys(notes_, *table, node.at, "a panel of a string", specs_of(place_fields()));
        RawPlace raw;
        read_fields(notes_, *table, place_fields(), raw);
        const auto which = raw.panel ? kind(raw.panel->at, raw.panel->value) : std::nullopt;
        const std::size_t groups = which ? scope_.kinds[*which].groups : 0;
        const auto light = lights(*table, which ? scope_.kinds[*which] : WiringKind{});
        const auto warmer = values(*table, warmer_spec, groups);
        PanelPlace out{which.value_or(0), {}};
        if (raw.plane) out.plane = plane_named(notes_, *raw.plane, scope_.planes);
        if (light.empty() && warmer.empty()) return out;
        for (std::size_t i = 0; i < groups; ++i) {
            GroupState group = light.empty() ? GroupState{} : light[light.size() == 1 ? 0 : i];
            if (!warmer.empty()) group.warmer_k = warmer[warmer.size() == 1 ? 0 : i];
            out.groups.push_back(group);
        }
        return out;
    }

    std::optional<std::size_t> kind(Place at, std::string_view id) {
        auto index = scope_.kind(id);
        if (!index) {
            notes_.complain(
                at, Complaint::unknown_word,
                fmt::format("no panel has the id {}. {}", quoted(id), suggestion(id, scope_.kind_ids(), "Panels")));
        }
        return index;
    }

    // One light, or one for each group, where cells of a group may have their own; none if the key is missing or wrong.
    std::vector<GroupState> lights(const Table& table, const WiringKind& kind) {
        const Entry* entry = find(table, light_spec.key);
        if (entry == nullptr) return {};
        const auto* list = entry->value.as<List>();
        const bool by_cells = entry->value.as<Table>() != nullptr || (list != nullptr && std::any_of(list->begin(), list->end(), [](const Node& n) {
                                                   return n.as<Table>() != nullptr;
                                               }));
        std::vector<GroupState> out;
        if (entry->value.as<Table>() != nullptr && kind.groups > 1) {
            std::string others;
            for (std::size_t i = 1; i < kind.groups; ++i) others += ", 1";
            notes_.complain(entry->value.at, Complaint::wiring,
                            fmt::format("this panel has {} bypass groups, and light does not say in which of them the cells "
                                        "are. Write light = [{{ cells = 3, light = 0.2 }}{}].",
                                        kind.groups, others));
            return out;
        }
        if (!by_cells) {
            for (const double ratio : values(table, light_spec, kind.groups)) out.push_back({ratio, 0.0});
            return out;
        }
        const auto read = [&](const Node& node) {
            if (const auto* cells = node.as<Table>()) return shaded_cells(*cells, node.at, kind);
            const auto one = read_measure(notes_, light_spec, node);
            return one ? std::optional(GroupState{one->value, 0.0}) : std::nullopt;
        };
        if (list == nullptr) {
            if (const auto one = read(entry->value)) out.push_back(*one);
            return out;
        }
        for (const Node& node : *list) {
            const auto one = read(node);
            if (!one) return {};
            out.push_back(*one);
        }
        return fits(*entry, out.size(), kind.groups) ? out : std::vector<GroupState>{};
    }

    std::optional<GroupState> shaded_cells(const Table& table, Place at, const WiringKind& kind) {
        check_keys(notes_, table, at, "the cells of a bypass group", specs_of(shade_fields()));
        RawShade raw;
        read_fields(notes_, table, shade_fields(), raw);
        if (!raw.cells || !raw.light) return std::nullopt;
        if (kind.groups == 0) return GroupState{};  // complained of already
        if (kind.group_cells == 0) {
            notes_.complain(at, Complaint::wiring,
                            "what some shaded cells of a group do is known of crystalline silicon only. Give this panel "
                            "one light for the whole group.");
            return std::nullopt;
        }
        const int cells = static_cast<int>(raw.cells->value);
        if (cells > kind.group_cells) {
            notes_.complain(raw.cells->at, Complaint::wiring,
                            fmt::format("a bypass group of this panel has {} cells, not {}. Write how many of them are "
                                        "shaded, up to {}.",
                                        kind.group_cells, cells, kind.group_cells));
            return std::nullopt;
        }
        const double others_ratio = raw.others ? raw.others->value : 1.0;
        if (raw.light->value > others_ratio) {
            notes_.complain(raw.light->at, Complaint::wiring,
                            "these cells would get more light than the others. Count the darker cells instead, and "
                            "write the brighter light as others.");
            return std::nullopt;
        }
        if (raw.light->value == others_ratio) return GroupState{others_ratio, 0.0};
        return GroupState{others_ratio, 0.0, cells, raw.light->value / others_ratio};
    }

    bool fits(const Entry& entry, std::size_t count, std::size_t groups) {
        if (groups == 0 || count == groups) return count <= most_panels;
        notes_.complain(entry.value.at, Complaint::wiring,
                        fmt::format("{} lists {} values, but this panel has {} bypass group{}. Write one value for each, "
                                    "or a single number for the whole panel.",
                                    named(entry.key), count, groups, groups == 1 ? "" : "s"));
        return false;
    }

    // One value, or one for each group; none if the key is missing or wrong.
    std::vector<double> values(const Table& table, const Spec& spec, std::size_t groups) {
        const Entry* entry = find(table, spec.key);
        if (entry == nullptr) return {};
        const auto* list = entry->value.as<List>();
        if (list == nullptr) {
            const auto one = read_measure(notes_, spec, entry->value);
            return one ? std::vector<double>{one->value} : std::vector<double>{};
        }
        std::vector<double> out;
        for (const Node& node : *list) {
            const auto one = read_measure(notes_, spec, node);
            if (!one) return {};
            out.push_back(one->value);
        }
        return fits(*entry, out.size(), groups) ? out : std::vector<double>{};
    }

    const FileNotes& notes_;
    const WiringScope& scope_;
};

}  // namespace

std::span<const Field<RawString>> string_fields() { return string_table; }
std::span<const Field<RawPlace>> place_fields() { return place_table; }
std::span<const Field<RawShade>> shade_fields() { return shade_table; }

std::optional<ArrayPlan> wiring_from_table(const FileNotes& notes, const Entry& entry, const WiringScope& scope) {
    const std::size_t before = notes.complaint_count();
    const Table* table = read_table(notes, entry, how_wiring);
    if (table == nullptr) return std::nullopt;
    if (table->empty()) {
        notes.complain(entry.at, Complaint::wiring, fmt::format("'wiring' is empty. {}, or delete it.", how_wiring));
        return std::nullopt;
    }
    ArrayPlan plan(scope.inputs.size());
    TableReader reader(notes, scope);
    for (const Entry& line : *table) {
        const auto input = scope.input(line.key);
        if (!input && !scope.inputs.empty()) {
            notes.complain(line.at, Complaint::unknown_word,
                           fmt::format("no input is called {}. {}", named(line.key),
                                       suggestion(line.key, scope.input_names(), "Inputs")));
        }
        InputWiring wiring = reader.input(line);
        if (input) plan[*input] = std::move(wiring);
    }
    return notes.complaint_count() == before ? std::optional(std::move(plan)) : std::nullopt;
}

}  // namespace plait::input
