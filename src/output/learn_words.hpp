// Sentences about a learned window that several reports share.
#pragma once

#include <plait/study/window_comparison.hpp>

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

}  // namespace plait::output
