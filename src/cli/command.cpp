#include "command.hpp"

#include <plait/input/read_wiring.hpp>
#include <plait/output/picture.hpp>

#include <fmt/core.h>

#include <algorithm>
#include <string>
#include <vector>

namespace plait::cli {

CommandResult refused(const Diagnostics& complaints) {
    CommandResult result{Exit::bad_input, "", ""};
    result.complaints = complaints;
    for (const Diagnostic& d : complaints) {
        result.err += d.file;
        if (d.line > 0) result.err += ":" + std::to_string(d.line) + ":" + std::to_string(d.column);
        result.err += ": " + d.message + "\n";
    }
    return result;
}

CommandResult refused(const std::string& file, Complaint kind, const std::string& message) {
    return refused(Diagnostics{{file, 0, 0, kind, message}});
}

Result<Setup> setup_of(const std::string& file, Session& session) {
    const Result<std::string, std::string> text = session.read_file(file);
    if (!text) return Failure{Diagnostics{{file, 0, 0, Complaint::unreadable, text.error()}}};
    return input::read_setup(*text, file, session.reader());
}

std::optional<double> number_of(const std::optional<std::string>& text, const char* option, input::OptionNumber meaning,
                                Diagnostics& complaints) {
    if (!text) return std::nullopt;
    const Result<double> value = input::read_option_number(*text, option, meaning);
    if (value) return *value;
    complaints.insert(complaints.end(), value.error().begin(), value.error().end());
    return std::nullopt;
}

std::vector<input::ColumnByHand> columns_by_hand(const std::vector<std::string>& texts, Diagnostics& complaints) {
    std::vector<input::ColumnByHand> all;
    for (const std::string& text : texts) {
        const auto column = input::column_by_hand(text);
        if (column) {
            all.push_back(*column);
        } else {
            complaints.push_back({"--column", 1, 1, Complaint::grammar, column.error()});
        }
    }
    return all;
}

void add_unused(const input::MeasuredTable& table, std::vector<std::string>& notes) {
    if (table.ignored_columns.empty()) return;
    std::string names;
    for (const std::string& n : table.ignored_columns) names += (names.empty() ? "" : ", ") + n;
    notes.push_back("Not used: " + names + ".");
}

WiringExample wiring_example(const Setup& setup) {
    const std::string& input = setup.controller.inputs.front().name;
    const bool bare = input.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-") == std::string::npos;
    std::vector<std::string> ids;
    for (const PanelKind& kind : setup.kinds) ids.push_back(kind.id);
    const std::string wiring = label(written_out({0, std::min(2, setup.kinds.front().count), 1}), ids);
    const std::string key = bare ? input : "\"" + input + "\"";
    return {input + "=" + wiring, key + " = \"" + wiring + "\""};
}

Result<ArrayPlan> chosen_plan(const WiringOptions& o, const Setup& setup) {
    const auto fault = [&](const std::string& message) {
        return Failure{Diagnostics{{o.file, 0, 0, Complaint::wiring, message}}};
    };
    ArrayPlan plan;
    if (o.wiring) {
        Result<ArrayPlan> read = input::read_wiring(*o.wiring, "--wiring", setup);
        if (!read) return Failure{read.error()};
        plan = *std::move(read);
    } else if (setup.wiring) {
        plan = *setup.wiring;
    } else {
        const WiringExample example = wiring_example(setup);
        return fault(fmt::format("there is no [wiring] to look at; add one, such as [wiring] {}, or say --wiring \"{}\", or let 'plait arrange' "
                                 "find the best",
                                 example.in_file, example.text));
    }
    if (std::all_of(plan.begin(), plan.end(), [](const InputWiring& w) { return w.empty(); })) {
        return fault("the wiring uses no input; give at least one, such as " + wiring_example(setup).in_file);
    }
    return plan;
}

std::string joined(const std::vector<std::string>& parts, const std::string& separator) {
    std::string out;
    for (const std::string& part : parts) out += (out.empty() ? "" : separator) + part;
    return out;
}

UsedInputs used_inputs(const Setup& setup, const ArrayPlan& plan) {
    UsedInputs used;
    for (std::size_t i = 0; i < plan.size(); ++i) {
        if (plan[i].empty()) continue;
        used.inputs.push_back(i);
        used.names += (used.names.empty() ? "" : ", ") + setup.controller.inputs[i].name;
    }
    return used;
}

Result<std::size_t> used_input(const std::string& name, const Setup& setup, const ArrayPlan& plan) {
    const UsedInputs used = used_inputs(setup, plan);
    const auto named = std::find_if(used.inputs.begin(), used.inputs.end(),
                                    [&](std::size_t i) { return setup.controller.inputs[i].name == name; });
    if (named != used.inputs.end()) return *named;
    return Failure{Diagnostics{{"--input", 0, 0, Complaint::unknown_word,
                                "no input of that name has panels on it; write one of: " + used.names}}};
}

CommandResult impossible(const std::string& figure) {
    CommandResult result = refused(
        "plait", Complaint::internal,
        "internal error: " + figure +
            " Nothing of this report can be trusted, so it is not shown. Please report it with the files you used.");
    result.exit_code = Exit::bug;
    return result;
}

int exit_code_of(const study::Verdict& verdict) { return verdict.ready() ? Exit::all_within : Exit::limit_broken; }

CommandResult shown(int exit_code, const Form& form, Session& session, const output::Report& report,
                    const std::function<std::string()>& data) {
    const output::TerminalStyle style = session.style(form);
    CommandResult result{exit_code, data ? data() : output::terminal_text(report, style), ""};
    result.coloured = !data && style.colour == output::Colour::on;
    if (!form.page.empty()) result.files.push_back({form.page, output::page(report), output::page_mark});
    return result;
}

CommandResult::File picture_file(const Form& form, std::string svg) {
    return {form.svg, std::move(svg), output::picture_mark};
}

}  // namespace plait::cli
