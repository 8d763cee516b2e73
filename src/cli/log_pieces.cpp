#include "log_pieces.hpp"

namespace plait::cli {
namespace {

// About a day of rows ten seconds apart, which is what is explained at one go: either side then has something to do in
// every step. Twice as many rows would need 3 MB more.
constexpr std::size_t piece_bytes = 192U << 10U;

}  // namespace

bool LogPieces::feed(std::string_view text) {
    text_ += text;
    if (text_.size() >= piece_bytes) step();
    return going_;
}

void LogPieces::step() {
    const auto explain = [&] {
        for (const measured::LogRow& row : rows_) hooks_.explain(row);
    };
    const auto read = [&] { going_ = going_ && hooks_.read(text_); };
    if (rows_.empty()) {
        read();
    } else if (text_.empty()) {
        explain();
    } else {
        run_jobs(in_parallel_, 2, [&](std::size_t job) { job == 0 ? explain() : read(); });
    }
    text_.clear();
    rows_.clear();
    rows_.swap(fresh_);
    hooks_.explained();
}

void LogPieces::end_of_text() {
    if (!text_.empty()) step();
}

void LogPieces::finish() {
    while (!rows_.empty() || !fresh_.empty()) step();
}

}  // namespace plait::cli
