#include "csv_field.hpp"

#include "report/parts_of_reports.hpp"
#include "report/verdict_words.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace plait::output {
namespace {

std::string without_commas(std::string text) {
    std::replace(text.begin(), text.end(), ',', ';');
    std::replace(text.begin(), text.end(), '\n', ' ');
    std::replace(text.begin(), text.end(), '"', '\'');
    return text;
}

}  // namespace

std::string csv_remark(std::string_view what) {
    return without_commas(fmt::format("# plait {}. {}", what, deferral)) + "\n";
}

std::string csv_remark(std::string_view what, const Setup& setup, const study::Verdict& verdict) {
    return without_commas(fmt::format("# plait {}. Verdict: {}. {}", what, headline_of(setup, verdict), deferral)) + "\n";
}

}  // namespace plait::output
