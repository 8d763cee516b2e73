#include "wiring_text.hpp"

#include <fmt/core.h>

namespace plait::input {
namespace {

// A piece of the text that knows where it stands.
struct Piece {
    std::string_view text;
    std::size_t offset = 0;

    [[nodiscard]] Piece trim() const {
        const std::string_view inner = trimmed(text);
        if (inner.empty()) return {inner, offset + text.size()};
        return {inner, offset + static_cast<std::size_t>(inner.data() - text.data())};
    }
    [[nodiscard]] std::vector<Piece> split(char by) const {
        std::vector<Piece> pieces;
        std::size_t begin = 0;
        for (std::size_t end = text.find(by); end != std::string_view::npos; end = text.find(by, begin)) {
            pieces.push_back({text.substr(begin, end - begin), offset + begin});
            begin = end + 1;
        }
        pieces.push_back({text.substr(begin), offset + begin});
        return pieces;
    }
    [[nodiscard]] Piece from(std::size_t i) const { return {text.substr(i), offset + i}; }
};

// Takes the digits at the front; counts past 10000 are all the same too many.
std::size_t take_count(Piece& piece) {
    std::size_t value = 0;
    std::size_t i = 0;
    for (; i < piece.text.size() && is_digit(piece.text[i]); ++i) {
        value = value * 10 + static_cast<std::size_t>(piece.text[i] - '0');
        if (value > 10000) value = 10000;
    }
    piece = piece.from(i);
    return value;
}

bool take_letter(Piece& piece, char lower, char upper) {
    const Piece at = piece.trim();
    if (at.text.empty() || (at.text[0] != lower && at.text[0] != upper)) return false;
    piece = at.from(1);
    return true;
}

class Parser {
public:
    Parser(const WiringScope& scope, std::vector<WiringFault>& faults) : scope_(scope), faults_(faults) {}

    std::optional<InputWiring> run(Piece text) {
        const std::size_t before = faults_.size();
        text = text.trim();
        if (text.text.empty()) {
            complain(text, Complaint::wiring, "the wiring is empty. Write one such as 3s2p, or unused.");
            return std::nullopt;
        }
        if (text.text == "unused") return InputWiring{};
        InputWiring wiring;
        if (equal_strings(text, wiring)) return faults_.size() == before ? std::optional(wiring) : std::nullopt;
        std::size_t total = 0;
        for (const Piece& part : text.split('|')) wiring.strings.push_back(series_string(part, total));
        if (faults_.size() == before && total > most_panels) too_many(text);
        return faults_.size() == before ? std::optional(wiring) : std::nullopt;
    }

private:
    void complain(const Piece& at, Complaint kind, std::string message) {
        faults_.push_back({at.offset, kind, std::move(message)});
    }

    void too_many(const Piece& at) {
        complain(at, Complaint::how_many,
                 fmt::format("{} asks for more than {} panels on one input. Check the numbers.", quoted(at.text),
                             most_panels));
    }

    // NsMp with an id where there are several kinds. True if the text is of this form, right or wrong.
    bool equal_strings(const Piece& text, InputWiring& wiring) {
        Piece rest = text;
        if (rest.text.empty() || !is_digit(rest.text[0])) return false;
        const std::size_t first = take_count(rest);
        const bool written_apart = !rest.text.empty() && rest.text[0] == ' ';
        const bool series = take_letter(rest, 's', 'S');
        if (!series && !take_letter(rest, 'p', 'P')) return false;
        const bool ends = rest.trim().text.empty();
        if (!ends && !is_digit(rest.trim().text[0])) return false;  // a word that begins with s or p
        if (ends && written_apart) return false;                    // "3 s": three of the panel called s
        if (ends || !series) {
            complain(
                text, Complaint::wiring,
                fmt::format("{} says only half. Write how many are in series and how many strings in parallel: {}.",
                            quoted(text.text), series ? fmt::format("{}s1p", first) : fmt::format("1s{}p", first)));
            return true;
        }
        rest = rest.trim();
        const std::size_t second = take_count(rest);
        if (!take_letter(rest, 'p', 'P')) {
            complain(rest, Complaint::wiring,
                     fmt::format("{} lacks its p. Write it as {}s{}p.", quoted(text.text), first, second));
            return true;
        }
        rest = rest.trim();
        if (rest.text.find_first_of("|+") != std::string_view::npos) {
            complain(text, Complaint::wiring,
                     fmt::format("{} mixes two forms. Where strings differ write them out, such as 3 {} | 2 {}.",
                                 quoted(text.text), example_id(0), example_id(1)));
            return true;
        }
        if (first == 0 || second == 0) {
            complain(text, Complaint::wiring,
                     fmt::format("{} has a nought in it. Write at least 1s1p, or unused.", quoted(text.text)));
            return true;
        }
        const auto kind = rest.text.empty() ? only_kind(text) : known_kind(rest);
        if (first * second > most_panels) {
            too_many(text);
        } else if (kind) {
            wiring = written_out({*kind, static_cast<int>(first), static_cast<int>(second)});
        }
        return true;
    }

    SeriesString series_string(const Piece& text, std::size_t& total) {
        SeriesString string;
        for (const Piece& part : text.split('+')) {
            Piece item = part.trim();
            if (item.text.empty()) {
                complain(item, Complaint::wiring,
                         "a panel is missing here. Write the id of one between each + and |, such as 2 " +
                             example_id(0) + ".");
                continue;
            }
            std::size_t count = 1;
            if (is_digit(item.text[0])) {
                const Piece whole = item;
                count = take_count(item);
                item = item.trim();
                if (count == 0) {
                    complain(
                        whole, Complaint::wiring,
                        fmt::format("{} is none at all. Write 1 or more, or leave the part out.", quoted(whole.text)));
                    continue;
                }
                if (item.text.empty()) {
                    complain(whole, Complaint::wiring,
                             fmt::format("{} of what? Write the id of a panel behind the number, such as {} {}, or "
                                         "equal strings such as {}s1p.",
                                         count, count, example_id(0), count));
                    continue;
                }
            }
            const auto kind = known_kind(item);
            total += count;
            if (!kind || total > most_panels) continue;  // `run` complains of the total
            string.panels.insert(string.panels.end(), count, PanelPlace{*kind, {}});
        }
        return string;
    }

    std::optional<std::size_t> only_kind(const Piece& text) {
        if (scope_.kinds.size() == 1) return 0;
        complain(text, Complaint::wiring,
                 fmt::format("{} does not say of which panel. Write {} {}; panels: {}.", quoted(text.text), text.text,
                             example_id(0), any_of(scope_.kind_ids())));
        return std::nullopt;
    }

    std::optional<std::size_t> known_kind(const Piece& id) {
        const auto kind = scope_.kind(id.text);
        if (kind) return kind;
        if (id.text == "unused") {
            complain(id, Complaint::wiring, "\"unused\" stands alone. Delete it, or all the rest.");
        } else {
            complain(id, Complaint::unknown_word,
                     fmt::format("no panel has the id {}. {}", quoted(id.text),
                                 suggestion(id.text, scope_.kind_ids(), "Panels")));
        }
        return std::nullopt;
    }

    [[nodiscard]] std::string example_id(std::size_t i) const {
        if (scope_.kinds.empty()) return "meadow";
        return scope_.kinds[i % scope_.kinds.size()].id;
    }

    const WiringScope& scope_;
    std::vector<WiringFault>& faults_;
};

}  // namespace

WiringKind wiring_kind(const std::string& id, const Panel& panel) {
    return {id, static_cast<std::size_t>(panel.bypass_groups()), panel.cells_of_a_group()};
}

Words WiringScope::kind_ids() const {
    Words ids;
    for (const WiringKind& kind : kinds) ids.push_back(kind.id);
    return ids;
}

Words WiringScope::input_names() const { return {inputs.begin(), inputs.end()}; }

std::optional<std::size_t> WiringScope::kind(std::string_view id) const {
    for (std::size_t i = 0; i < kinds.size(); ++i) {
        if (kinds[i].id == id) return i;
    }
    return std::nullopt;
}

std::optional<std::size_t> WiringScope::input(std::string_view name) const {
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        if (inputs[i] == name) return i;
    }
    return std::nullopt;
}

std::optional<InputWiring> wiring_from_text(std::string_view text, std::size_t offset, const WiringScope& scope,
                                            std::vector<WiringFault>& faults) {
    return Parser(scope, faults).run({text, offset});
}

}  // namespace plait::input
