#include "measured_cells.hpp"

#include "quantity/words.hpp"

#include <algorithm>
#include <array>
#include <initializer_list>
#include <string>

namespace plait::input {
namespace {

bool same_word(std::string_view a, std::string_view small) {
    const auto equal = [](char x, char y) { return lower(x == '_' || x == '-' ? ' ' : x) == y; };
    return a.size() == small.size() && std::equal(a.begin(), a.end(), small.begin(), equal);
}

template <std::size_t N>
bool is_one_of(std::string_view word, const std::array<std::string_view, N>& words) {
    return std::any_of(words.begin(), words.end(), [&](std::string_view w) { return same_word(word, w); });
}

}  // namespace

std::optional<MeasuredState> written_state(std::string_view word) {
    static constexpr std::array<std::string_view, 15> charging{
        "charging", "charge", "on",         "running", "run",      "working",      "active", "ok",
        "bulk",     "float",  "absorption", "mppt",    "tracking", "taking power", "1"};
    static constexpr std::array<std::string_view, 13> idle{"idle",     "standby",      "off",  "waiting", "wait",
                                                           "sleep",    "not charging", "none", "stopped", "ready",
                                                           "starting", "no power",     "0"};
    static constexpr std::array<std::string_view, 13> error{
        "error", "err",   "fault",   "trip",       "tripped",  "overvoltage", "over voltage",
        "ovp",   "alarm", "failure", "protection", "shutdown", "shut down"};
    if (is_one_of(word, charging)) return MeasuredState::charging;
    if (is_one_of(word, idle)) return MeasuredState::idle;
    if (is_one_of(word, error)) return MeasuredState::error;
    return std::nullopt;
}

SaidInWords said_in(std::string_view remark) {
    // Lower case, every word between two blanks. Bytes beyond ASCII are letters.
    std::string words = " ";
    for (const char c : remark.substr(0, 400)) {
        const auto byte = static_cast<unsigned char>(c);
        const char small = lower(c);
        const bool letter = (small >= 'a' && small <= 'z') || (c >= '0' && c <= '9') || byte >= 0x80U;
        if (letter) words += small;
        if (!letter && words.back() != ' ') words += ' ';
    }
    if (words.back() != ' ') words += ' ';
    const auto says = [&](std::initializer_list<std::string_view> any) {
        return std::any_of(any.begin(), any.end(),
                           [&](std::string_view w) { return words.find(" " + std::string(w) + " ") != words.npos; });
    };
    SaidInWords said;
    if (says({"trip", "trips", "tripped", "tripping", "ovp", "error", "err", "fault", "alarm", "overvoltage",
              "over voltage", "shutdown", "shut down", "shuts down", "protection", "fehler", "störung"})) {
        said.state = MeasuredState::error;
    } else if (says({"off", "nothing", "idle", "standby", "stand by", "dead", "no power", "no charging", "not charging",
                     "stopped", "stops", "waiting", "aus", "nichts"})) {
        said.state = MeasuredState::idle;
    } else if (says({"charging", "charge", "charges", "on", "running", "runs", "working", "works", "active", "ok",
                     "tracking", "mppt", "bulk", "absorption", "float", "lädt"})) {
        said.state = MeasuredState::charging;
    }
    said.recovered = recovered_in(remark);
    said.supply_was_the_limit =
        words == " cc " || words == " in cc " || words == " cc mode " ||
        (says({"supply", "psu", "netzteil"}) &&
         says({"cc", "limit", "limits", "limited", "limiting", "max", "maxed", "gave out", "current limited"}));
    return said;
}

std::optional<bool> recovered_in(std::string_view text) {
    std::string words = " ";
    for (const char c : text.substr(0, 200)) {
        const char small = lower(c);
        const bool letter = (small >= 'a' && small <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80U;
        if (letter) words += small;
        if (!letter && words.back() != ' ') words += ' ';
    }
    if (words.back() != ' ') words += ' ';
    const auto says = [&](std::initializer_list<std::string_view> any) {
        return std::any_of(any.begin(), any.end(),
                           [&](std::string_view w) { return words.find(" " + std::string(w) + " ") != words.npos; });
    };
    const bool speaks = says({"recovered", "recovers", "recover", "recovery", "came back by itself", "comes back by itself",
                              "restarted by itself", "kam von selbst wieder", "erholt"});
    if (!speaks) return std::nullopt;
    if (says({"no", "not", "never", "nein", "nicht", "n"})) return false;
    const bool asked = says({"recovery", "recover"});  // a heading by itself, such as "recovery:"
    if (asked && !says({"yes", "ja", "y", "ok"})) return std::nullopt;
    return true;
}

bool titles_recovery(std::string_view title) {
    static constexpr std::array<std::string_view, 4> words{"recovered", "recovers", "recovery", "recovered?"};
    return is_one_of(title, words);
}

bool titles_remarks(std::string_view title) {
    static constexpr std::array<std::string_view, 13> words{
        "note",      "notes",       "comment",   "comments", "remark", "remarks",  "notiz",
        "bemerkung", "bemerkungen", "kommentar", "remarque", "nota",   "opmerking"};
    return is_one_of(title, words);
}

bool says_not_measured(std::string_view cell) {
    static constexpr std::array<std::string_view, 17> words{
        "n/a",  "na",        "null",    "nan",         " nan",   "n.a.",    "n.v.",     "k.a.", "#n/a",
        "none", "undefined", "unknown", "unavailable", "#wert!", "#value!", "nan(ind)", "?"};
    if (cell.empty()) return true;
    if (cell.front() >= '0' && cell.front() <= '9') return false;
    const bool dashes = cell.find_first_not_of('-') == std::string_view::npos;
    return dashes || cell == "–" || cell == "—" || cell == "−" || cell == "..." || is_one_of(cell, words);
}

bool says_summary(std::string_view line) {
    static constexpr std::array<std::string_view, 18> words{
        "total",   "totals", "sum",   "summe",    "average",    "avg",    "mean", "mittelwert", "durchschnitt",
        "moyenne", "somme",  "media", "promedio", "gemiddelde", "totaal", "max",  "min",        "end"};
    const std::size_t begin = line.find_first_not_of(" \t\",;");
    if (begin == std::string_view::npos) return false;
    std::size_t end = begin;
    while (end < line.size() && lower(line[end]) >= 'a' && lower(line[end]) <= 'z') ++end;
    return end > begin && is_one_of(line.substr(begin, end - begin), words);
}

}  // namespace plait::input
