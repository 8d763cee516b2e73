// The last look at the figures of a report before anybody reads them: what cannot be is a bug, and no report.
#pragma once

#include <plait/study/curve_sheet.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/panel_sheet.hpp>

#include <optional>
#include <string>

namespace plait::study {

/// Collects the first figure that cannot be: one that is not a number or has no end, a power below zero or above what the
/// panels can give. Other layers may use it for their own reports.
class FigureCheck {
public:
    void finite(const char* what, double value);
    /// Finite, and no more than `most_value` but for rounding.
    void at_most(const char* what, double value, double most_value);
    /// Finite and not below zero but for rounding; `scale_value` is what rounding is measured by.
    void not_negative(const char* what, double value, double scale_value);

    /// A plain sentence; empty if every figure can be.
    [[nodiscard]] const std::optional<std::string>& complaint() const { return complaint_; }

private:
    void complain(const char* what, double value, const std::string& why);

    std::optional<std::string> complaint_;
};

/// What cannot be in a report, as a plain sentence; empty if all of it can. The system must be the one that was judged.
[[nodiscard]] std::optional<std::string> impossible_figure(const SystemModel& system, const Judgement& judgement);
[[nodiscard]] std::optional<std::string> impossible_figure(const CurveSheet& sheet);
[[nodiscard]] std::optional<std::string> impossible_figure(const PanelSheet& sheet);

}  // namespace plait::study
