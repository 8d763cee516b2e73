#include "json_parts.hpp"

#include <plait/base/complaint.hpp>

namespace plait::output {
namespace {

Json place_in_file(int counted_from_one) { return counted_from_one > 0 ? Json(counted_from_one) : Json(nullptr); }

}  // namespace

std::string refused_json(const std::string& command, int exit_code, const Diagnostics& complaints) {
    Json j = head("refused");
    j["asked"] = command.empty() ? Json(nullptr) : Json(command);
    j["exit_code"] = exit_code;
    j["complaints"] = Json::array();
    for (const Diagnostic& d : complaints) {
        j["complaints"].push_back({{"file", d.file},
                                   {"line", place_in_file(d.line)},
                                   {"column", place_in_file(d.column)},
                                   {"code", std::string(name_in(complaint_codes, d.kind))},
                                   {"message", d.message},
                                   {"advice", std::string(name_in(complaint_advice, d.kind))}});
    }
    return printed(j);
}

}  // namespace plait::output
