// The same reports for programs. The schema is docs/report.schema.json; `schema_version` goes up when a key changes its
// meaning or goes away.
#pragma once

#include <plait/search/arrangement.hpp>
#include <plait/study/curve_sheet.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/panel_sheet.hpp>

#include <cstddef>
#include <string>
#include <vector>

namespace plait::output {

inline constexpr int schema_version = 1;

[[nodiscard]] std::string check_json(const Setup& setup, const study::Judgement& judgement);
[[nodiscard]] std::string arrange_json(const study::SystemModel& system, const search::Arrangement& arrangement,
                                       const std::vector<search::Asked>& asked, std::size_t top, bool all);
[[nodiscard]] std::string curve_json(const study::SystemModel& system, const study::CurveSheet& sheet);
[[nodiscard]] std::string panel_json(const study::PanelSheet& sheet, const std::vector<Assumption>& assumptions,
                                     const std::vector<std::string>& doubts);

}  // namespace plait::output
