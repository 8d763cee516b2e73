#include "commands.hpp"

#include <plait/input/read_wiring.hpp>

#include <algorithm>

namespace plait::cli {

CommandResult refused(const Diagnostics& complaints) {
    CommandResult result{Exit::bad_input, "", ""};
    for (const Diagnostic& d : complaints) {
        result.err += d.file;
        if (d.line > 0) result.err += ":" + std::to_string(d.line) + ":" + std::to_string(d.column);
        result.err += ": " + d.message + "\n";
    }
    return result;
}

CommandResult refused(const std::string& file, const std::string& message) { return refused(Diagnostics{{file, 0, 0, message}}); }

std::optional<double> number_of(const std::optional<std::string>& text, const char* option, input::OptionNumber meaning,
                                Diagnostics& complaints) {
    if (!text) return std::nullopt;
    const Result<double> value = input::read_option_number(*text, option, meaning);
    if (value) return *value;
    complaints.insert(complaints.end(), value.error().begin(), value.error().end());
    return std::nullopt;
}

void add_unused(const input::MeasuredTable& table, std::vector<std::string>& notes) {
    if (table.ignored_columns.empty()) return;
    std::string names;
    for (const std::string& n : table.ignored_columns) names += (names.empty() ? "" : ", ") + n;
    notes.push_back("Not used: " + names + ".");
}

Result<ArrayPlan> chosen_plan(const Options& o, const Setup& setup) {
    const auto fault = [&](const char* message) { return Failure{Diagnostics{{o.file, 0, 0, message}}}; };
    ArrayPlan plan;
    if (o.wiring) {
        Result<ArrayPlan> read = input::read_wiring(*o.wiring, "--wiring", setup);
        if (!read) return Failure{read.error()};
        plan = *std::move(read);
    } else if (setup.wiring) {
        plan = *setup.wiring;
    } else {
        return fault(
            "there is no [wiring] to look at; add one, such as [wiring] PV1 = \"2s1p\", or say --wiring 2s1p, or let "
            "'plait arrange' find the best");
    }
    if (std::all_of(plan.begin(), plan.end(), [](const InputWiring& w) { return w.empty(); })) {
        return fault("the wiring uses no input; give at least one, such as PV1 = \"2s1p\"");
    }
    return plan;
}

}  // namespace plait::cli
