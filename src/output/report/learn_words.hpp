// Sentences about a learned window that several reports share.
#pragma once

#include <plait/measured/window_comparison.hpp>

#include <plait/output/report.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

[[nodiscard]] std::string_view name_of(measured::PieceKind kind);
[[nodiscard]] std::string_view name_of(measured::RowUse use);
[[nodiscard]] std::string_view name_of(measured::Agreement agreement);
[[nodiscard]] std::string_view name_of(measured::ComparedFigure figure);

/// What a comparison means for wiring, in a sentence or two; empty when there is nothing to say.
[[nodiscard]] std::string meaning_of(const measured::Compared& c, const measured::LearnedWindow& window);
/// The short sentences a reviewer would quote.
[[nodiscard]] std::vector<std::string> summary_of(const measured::LearnSheet& sheet);

/// A row for each stretch of voltage.
[[nodiscard]] Table piece_table(const measured::LearnedWindow& window);
/// A row for each voltage at which something changes.
[[nodiscard]] Table switch_table(const measured::LearnedWindow& window);
/// A row for each printed figure; empty without a controller to compare with.
[[nodiscard]] Table compared_table(const measured::LearnSheet& sheet);
/// What those rows mean for wiring, in sentences.
[[nodiscard]] std::vector<std::string> meanings(const measured::LearnSheet& sheet);
/// A longer sweep is listed by --csv.
inline constexpr std::size_t most_rows_listed = 40;
[[nodiscard]] std::string rows_elsewhere(const measured::LearnedWindow& window);
/// What one sweep does not tell.
inline constexpr std::string_view one_bench =
    "One input on one bench: the printed maximum stays the limit of every wiring.";
/// Before a sweep, not after it.
inline constexpr std::string_view stay_below =
    "Do not step past the printed maximum on an input that you mean to keep: what it survives once it need not survive twice.";
/// A row for each reading.
[[nodiscard]] Table fitted_table(const measured::LearnedWindow& window);
/// How far the numbers may be trusted, in sentences.
[[nodiscard]] std::vector<std::string> how_sure(const measured::LearnSheet& sheet);

}  // namespace plait::output
