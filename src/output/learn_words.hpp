// Sentences about a learned window that several reports share.
#pragma once

#include <plait/study/window_comparison.hpp>

#include "table_words.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

[[nodiscard]] std::string_view name_of(study::PieceKind kind);
[[nodiscard]] std::string_view name_of(study::RowUse use);
[[nodiscard]] std::string_view name_of(study::Agreement agreement);
[[nodiscard]] std::string_view name_of(study::ComparedFigure figure);

/// What a comparison means for wiring, in a sentence or two; empty when there is nothing to say.
[[nodiscard]] std::string meaning_of(const study::Compared& c, const study::LearnedWindow& window);
/// The short sentences a reviewer would quote.
[[nodiscard]] std::vector<std::string> summary_of(const study::LearnedWindow& window);

/// A row for each stretch of voltage.
[[nodiscard]] TableWords piece_table(const study::LearnedWindow& window);
/// A row for each voltage at which something changes.
[[nodiscard]] TableWords switch_table(const study::LearnedWindow& window);
/// A row for each printed figure; empty without a controller to compare with.
[[nodiscard]] TableWords compared_table(const study::LearnSheet& sheet);
/// What those rows mean for wiring, in sentences.
[[nodiscard]] std::vector<std::string> meanings(const study::LearnSheet& sheet);
/// A longer sweep is listed by --csv.
inline constexpr std::size_t most_rows_listed = 40;
[[nodiscard]] std::string rows_elsewhere(const study::LearnedWindow& window);
/// What one sweep does not tell.
inline constexpr std::string_view one_bench =
    "One input on one bench: the printed maximum stays the limit of every wiring.";
/// A row for each reading.
[[nodiscard]] TableWords fitted_table(const study::LearnedWindow& window);
/// How far the numbers may be trusted, in sentences.
[[nodiscard]] std::vector<std::string> how_sure(const study::LearnSheet& sheet);

}  // namespace plait::output
