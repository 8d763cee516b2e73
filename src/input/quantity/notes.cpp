#include "notes.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <tuple>

namespace plait::input {
namespace {

constexpr std::size_t most_complaints = 200;

}  // namespace

void FileNotes::doubt(Place at, const std::string& message) const {
    notes_->doubts.push_back(fmt::format("{}:{}:{}: {}", file_, at.line, at.column, message));
}

Diagnostics in_order(Diagnostics complaints) {
    std::map<std::string, std::size_t> rank;
    for (const Diagnostic& d : complaints) rank.emplace(d.file, rank.size());
    const auto key = [&](const Diagnostic& d) { return std::tuple(rank.at(d.file), d.line, d.column); };
    std::stable_sort(complaints.begin(), complaints.end(),
                     [&](const Diagnostic& a, const Diagnostic& b) { return key(a) < key(b); });
    const auto same = [&](const Diagnostic& a, const Diagnostic& b) {
        return key(a) == key(b) && a.message == b.message;
    };
    complaints.erase(std::unique(complaints.begin(), complaints.end(), same), complaints.end());
    if (complaints.size() > most_complaints) {
        const std::size_t left_out = complaints.size() - most_complaints;
        complaints.resize(most_complaints);
        complaints.push_back(
            {complaints.front().file, 0, 0, Complaint::left_out,
             fmt::format("{} more complaints are left out; mend these first and run again", left_out)});
    }
    return complaints;
}

}  // namespace plait::input
