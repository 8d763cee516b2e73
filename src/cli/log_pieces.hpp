// A long log, piece by piece: while the rows of one piece are explained, the text of the next is read. Either happens in the
// order of the file, so that the answer is the same, to the last digit, however many do the work.
#pragma once

#include <plait/base/parallel.hpp>
#include <plait/measured/log_explanation.hpp>

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace plait::cli {

class LogPieces {
public:
    struct Hooks {
        /// Reads text and hands its rows to `add`; false where no more is wanted.
        std::function<bool(std::string_view)> read;
        std::function<void(const measured::LogRow&)> explain;
        /// After some rows were explained, while nothing else is done.
        std::function<void()> explained;
    };
    LogPieces(InParallel in_parallel, Hooks hooks) : in_parallel_(std::move(in_parallel)), hooks_(std::move(hooks)) {}

    /// False: no more text is wanted.
    bool feed(std::string_view text);
    /// A row that was read, in the order of time.
    void add(const measured::LogRow& row) { fresh_.push_back(row); }
    /// Reads what is left of the text. More rows may be added before `finish`.
    void end_of_text();
    /// Explains what is left of the rows.
    void finish();

private:
    void step();

    InParallel in_parallel_;
    Hooks hooks_;
    std::string text_;
    std::vector<measured::LogRow> fresh_;  // read from the last piece
    std::vector<measured::LogRow> rows_;   // from the one before
    bool going_ = true;
};

}  // namespace plait::cli
