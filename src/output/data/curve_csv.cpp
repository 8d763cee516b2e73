#include <plait/output/data.hpp>
#include <plait/study/curve_sheet.hpp>
#include <plait/study/judgement.hpp>

#include "csv_field.hpp"
#include "report/curve_words.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace plait::output {

std::string curve_csv(const Setup& setup, const study::CurveSheet& sheet, const study::Judgement& judged) {
    std::size_t strings = 0;
    for (const study::InputCurve& c : sheet.inputs) strings = std::max(strings, c.wiring.strings.size());
    std::string out = csv_remark("curve", setup, judged.verdict) + "input,voltage_v,current_a,power_w";
    for (std::size_t s = 0; s < strings; ++s) out += fmt::format(",string_{}_a", s + 1);
    out += ",marks\n";
    for (const study::InputCurve& c : sheet.inputs) {
        const std::string name = csv_field(setup.controller.inputs[c.input].name);
        for (const study::CurvePoint& p : c.points) {
            // {} prints the shortest text that reads back as the same double.
            out += fmt::format("{},{},{},{}", name, p.point.voltage_v, p.point.current_a, p.point.power_w());
            for (std::size_t s = 0; s < strings; ++s) {
                out += s < p.string_a.size() ? fmt::format(",{}", p.string_a[s]) : ",";
            }
            std::string marks;
            for (const study::Mark m : p.marks) marks += fmt::format("{}{}", marks.empty() ? "" : " ", name_of(m));
            out += "," + marks + "\n";
        }
    }
    return out;
}

}  // namespace plait::output
