#include <plait/model/wiring.hpp>

#include <algorithm>

namespace plait {

std::size_t InputWiring::panel_count() const {
    std::size_t n = 0;
    for (const SeriesString& s : strings) n += s.panels.size();
    return n;
}

std::size_t InputWiring::panel_count(std::size_t kind) const {
    std::size_t n = 0;
    for (const SeriesString& s : strings) {
        n += static_cast<std::size_t>(
            std::count_if(s.panels.begin(), s.panels.end(), [kind](const PanelPlace& p) { return p.kind == kind; }));
    }
    return n;
}

std::size_t InputWiring::longest_string() const {
    std::size_t n = 0;
    for (const SeriesString& s : strings) n = std::max(n, s.panels.size());
    return n;
}

bool InputWiring::part_shaded() const {
    return std::any_of(strings.begin(), strings.end(), [](const SeriesString& string) {
        return std::any_of(string.panels.begin(), string.panels.end(), [](const PanelPlace& place) {
            return std::any_of(place.groups.begin(), place.groups.end(),
                               [](const GroupState& group) { return group.part_shaded(); });
        });
    });
}

InputWiring written_out(const EqualStrings& equal) {
    InputWiring wiring;
    wiring.strings.assign(static_cast<std::size_t>(equal.in_parallel), SeriesString{});
    for (SeriesString& s : wiring.strings) {
        s.panels.assign(static_cast<std::size_t>(equal.in_series), PanelPlace{equal.kind, {}});
    }
    return wiring;
}

std::optional<EqualStrings> as_equal_strings(const InputWiring& wiring) {
    if (wiring.empty() || wiring.strings.front().panels.empty()) return std::nullopt;
    const SeriesString& first = wiring.strings.front();
    const PanelPlace& place = first.panels.front();
    if (first.blocking_diode || first.fuse_a || !place.groups.empty()) return std::nullopt;
    for (const PanelPlace& p : first.panels) {
        if (!(p == place)) return std::nullopt;
    }
    for (const SeriesString& s : wiring.strings) {
        if (!(s == first)) return std::nullopt;
    }
    return EqualStrings{place.kind, static_cast<int>(first.panels.size()), static_cast<int>(wiring.strings.size())};
}

std::string label(const InputWiring& wiring, const std::vector<std::string>& kind_ids) {
    if (wiring.empty()) return "unused";
    const auto alike = [](const PanelPlace& a, const PanelPlace& b) { return a.kind == b.kind; };
    const SeriesString& first = wiring.strings.front();
    const bool one_kind = std::all_of(first.panels.begin(), first.panels.end(),
                                      [&](const PanelPlace& p) { return alike(p, first.panels.front()); });
    const bool equal = one_kind && std::all_of(wiring.strings.begin(), wiring.strings.end(), [&](const SeriesString& s) {
                           return std::equal(s.panels.begin(), s.panels.end(), first.panels.begin(),
                                             first.panels.end(), alike);
                       });
    if (equal && !first.panels.empty()) {
        std::string text = std::to_string(first.panels.size()) + "s" + std::to_string(wiring.strings.size()) + "p";
        if (kind_ids.size() > 1) text += " " + kind_ids[first.panels.front().kind];
        return text;
    }
    std::string text;
    for (const SeriesString& s : wiring.strings) {
        if (!text.empty()) text += " | ";
        for (std::size_t i = 0; i < s.panels.size();) {
            std::size_t run = 1;
            while (i + run < s.panels.size() && alike(s.panels[i], s.panels[i + run])) ++run;
            if (i > 0) text += " + ";
            if (run > 1) text += std::to_string(run) + " ";
            text += kind_ids[s.panels[i].kind];
            i += run;
        }
    }
    return text;
}

}  // namespace plait
