#include "measured_complaints.hpp"

#include "quantity/words.hpp"

#include <fmt/core.h>

#include <utility>

namespace plait::input {
namespace {

constexpr std::size_t most_complaints = 20;

}  // namespace

void MeasuredComplaints::add(int line, std::size_t column, Complaint kind, std::string message) {
    ++count_;
    if (first_.size() < most_complaints) {
        first_.push_back({file_, line, static_cast<int>(column), kind, std::move(message)});
    }
}

void MeasuredComplaints::add_at(std::string_view line, int number, std::size_t offset, Complaint kind,
                                std::string message) {
    const auto column = first_.size() < most_complaints ? static_cast<std::size_t>(column_at(line, offset)) : 1U;
    add(number, column, kind, std::move(message));
}

Diagnostics MeasuredComplaints::taken() {
    if (count_ > first_.size()) {
        const std::string until =
            stopped_line_ == 0 ? "" : fmt::format(" up to line {}, where reading stopped", stopped_line_);
        first_.push_back({file_, 0, 0, Complaint::left_out,
                          fmt::format("and {} more like these{}. Correct the first ones and run again.",
                                      count_ - first_.size(), until)});
    }
    return std::move(first_);
}

std::string shown(std::string_view bytes) {
    std::string text;
    bytes = bytes.substr(0, 200);
    for (std::size_t i = 0; i < bytes.size();) {
        const std::size_t length = utf8_length(bytes, i);
        if (length == 0) {
            text += '?';
            ++i;
        } else {
            text += bytes.substr(i, length);
            i += length;
        }
    }
    return quoted(text);
}

}  // namespace plait::input
