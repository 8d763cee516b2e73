// The reports as pages: one file each, no network, no script, for a screen, a phone or paper.
#pragma once

#include <plait/output/compare.hpp>
#include <plait/output/expect.hpp>
#include <plait/study/arrangement.hpp>
#include <plait/study/curve_sheet.hpp>
#include <plait/study/judgement.hpp>

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

/// How every page begins; a file that begins otherwise is none of ours and is not written over.
inline constexpr std::string_view page_mark = "<!DOCTYPE html>\n<!-- a Plait page -->";
/// The same for a picture.
inline constexpr std::string_view picture_mark = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!-- a Plait picture -->";

[[nodiscard]] std::string check_page(const study::Bench& bench, const study::Judgement& judgement);
[[nodiscard]] std::string arrange_page(const study::Bench& bench, const study::Arrangement& arrangement,
                                       const std::vector<study::Asked>& asked, std::size_t top);
[[nodiscard]] std::string compare_page(const std::vector<NamedSetup>& named, const study::Comparison& comparison);
/// The card, with what readings say if there are any (null: none).
[[nodiscard]] std::string expect_page(const study::FieldModel& model, const study::Card& card,
                                      const study::Diagnosis* diagnosis);
/// Any other text report, under a picture (empty: none) as picture.hpp makes it for a page.
[[nodiscard]] std::string text_page(std::string_view title, std::string_view report, std::string_view svg = {});
[[nodiscard]] std::string curve_page(const study::Bench& bench, const study::CurveSheet& sheet);

}  // namespace plait::output
