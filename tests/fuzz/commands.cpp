#include "targets.hpp"

#include <plait/base/complaint.hpp>
#include <plait/cli/run.hpp>
#include <plait/input/clean_text.hpp>

#include <nlohmann/json.hpp>

#include <algorithm>
#include <atomic>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <memory>
#include <string>

namespace plait::fuzz {
namespace {

using Files = std::map<std::string, std::string>;

std::string source_file(const char* path) {
    std::ifstream in(std::string(PLAIT_SOURCE_DIR "/") + path, std::ios::binary);
    if (!in) found("a file of the tree is missing", path);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// Short names for files of the tree, beside those of the input.
const Files& usual_files() {
    static const Files files{{"van.toml", source_file("docs/demo/van.toml")},
                             {"hut.toml", source_file("docs/demo/hut.toml")},
                             {"barn.toml", source_file("docs/demo/barn.toml")},
                             {"mixed.toml", source_file("docs/demo/mixed.toml")},
                             {"bench.toml", source_file("docs/demo/workshop.toml")},
                             {"sweep.csv", source_file("docs/demo/workshop-sweep.csv")},
                             {"log.csv", source_file("docs/demo/van-log.csv").substr(0, 3000)},
                             {"box.toml", source_file("docs/demo/inputs/small-station.toml")},
                             {"roof.toml", source_file("panels/rigid-200w-perc-half-cut.toml")}};
    return files;
}

/// The shipped panels, which the demo's set-ups name as "../../panels/…".
const Files& panels() {
    static const Files files = [] {
        Files all;
        for (const auto& entry : std::filesystem::directory_iterator(PLAIT_SOURCE_DIR "/panels")) {
            if (entry.path().extension() != ".toml") continue;
            const std::string name = "panels/" + entry.path().filename().string();
            all["../../" + name] = source_file(name.c_str());
        }
        return all;
    }();
    return files;
}

/// "ARG\nARG\n=== name\ntext…=== name\ntext…": the arguments behind the command, a line each, then files.
struct Case {
    std::vector<std::string> arguments;
    Files files;
};

Case case_of(std::string_view text) {
    constexpr std::string_view mark = "=== ";
    constexpr std::size_t most_arguments = 12;
    Case c;
    std::string* file = nullptr;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        const std::string_view line = text.substr(0, end);
        if (line.substr(0, mark.size()) == mark) {
            file = &c.files[std::string(line.substr(mark.size()))];
        } else if (file != nullptr) {
            file->append(line).append(end == std::string_view::npos ? "" : "\n");
        } else if (c.arguments.size() < most_arguments) {
            c.arguments.emplace_back(line);
        }
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    }
    return c;
}

bool passes_gate(const std::string& text, bool coloured, bool isolates) {
    return input::clean_text(text, {coloured, isolates}) == text;
}

void judge_json(const cli::CommandResult& r, const std::vector<std::string>& arguments) {
    const bool lines = std::find(arguments.begin(), arguments.end(), "--lines") != arguments.end();
    for (std::size_t at = 0; at < r.out.size();) {
        const std::size_t end = lines && r.complaints.empty() ? r.out.find('\n', at) : r.out.size();
        const std::string_view document = std::string_view(r.out).substr(at, end - at);
        const nlohmann::json j = nlohmann::json::parse(document, nullptr, false);
        if (j.is_discarded()) found("what was to be JSON is none", document);
        if (!j.contains("schema_version")) found("a document without its schema", document);
        if (r.complaints.empty() != (j.at("command") != "refused")) found("a refusal that does not say so", document);
        at = end == std::string::npos ? r.out.size() : end + 1;
    }
}

void judge(const cli::CommandResult& r, const std::vector<std::string>& arguments) {
    if (r.exit_code == cli::Exit::bug) found("the program says that it has a fault", r.err);
    if (r.exit_code != 0 && r.exit_code != cli::Exit::limit_broken && r.exit_code != cli::Exit::bad_input)
        found("another exit code");
    if (!passes_gate(r.out, r.coloured, false) || !passes_gate(r.err, false, false))
        found("what is printed is not clean");
    for (const cli::CommandResult::File& f : r.files) {
        if (!passes_gate(f.text, false, true)) found("a file that is not clean", f.path);
    }
    const bool refused = r.exit_code == cli::Exit::bad_input;
    if (refused == r.complaints.empty()) found("refused without a complaint, or not refused with one", r.err);
    if (refused == r.err.empty()) found("refused without a word, or not refused with one", r.err);
    if (refused && !r.files.empty()) found("refused, and files are to be written");
    if (!refused && r.out.empty()) found("neither an answer nor a refusal");
    if (r.json) judge_json(r, arguments);
}

void run_case(std::vector<std::string> arguments, const Files& own) {
    // A search that is cut short gives the same kinds of answers.
    constexpr int most_asked = 40;
    cli::World world{[&](const std::string& path) -> Result<std::string, std::string> {
        if (const auto at = own.find(path); at != own.end()) return at->second;
        if (const auto at = panels().find(path); at != panels().end()) return at->second;
        if (const auto at = usual_files().find(path); at != usual_files().end()) return at->second;
        return Failure{std::string("cannot be opened; check the path")};
    }};
    world.watch = [](double) {
        return [asked = std::make_shared<std::atomic<int>>(0)](const search::SearchProgress&) {
            return ++*asked < most_asked;
        };
    };
    world.read_pieces = [&](const std::string& path, const std::function<bool(std::string_view)>& take) {
        const auto text = world.read_file(path);
        if (!text) return std::optional<std::string>(text.error());
        constexpr std::size_t piece = 1000;
        for (std::size_t i = 0; i < text->size(); i += piece) {
            if (!take(std::string_view(*text).substr(i, piece))) break;
        }
        return std::optional<std::string>();
    };
    judge(cli::run(arguments, world), arguments);
}

void run_command(const char* command, std::string_view text) {
    Case c = case_of(text);
    c.arguments.insert(c.arguments.begin(), command);
    run_case(std::move(c.arguments), c.files);
}

template <const char* Command>
void command(std::string_view text) {
    run_command(Command, text);
}

void options(std::string_view text) {
    Case c = case_of(text);
    run_case(std::move(c.arguments), {});
}

constexpr char check[] = "check";
constexpr char arrange[] = "arrange";
constexpr char charge[] = "charge";
constexpr char climate[] = "climate";
constexpr char compare[] = "compare";
constexpr char curve[] = "curve";
constexpr char expect[] = "expect";
constexpr char explain[] = "explain";
constexpr char harvest[] = "harvest";
constexpr char learn[] = "learn";
constexpr char match[] = "match";
constexpr char new_setup[] = "new";
constexpr char panel[] = "panel";
constexpr char parts[] = "parts";
constexpr char steps[] = "steps";

}  // namespace

const std::vector<Target>& targets() {
    static const std::vector<Target> all{{"options", &options},
                                         {"run-check", &command<check>},
                                         {"run-arrange", &command<arrange>},
                                         {"run-charge", &command<charge>},
                                         {"run-climate", &command<climate>},
                                         {"run-compare", &command<compare>},
                                         {"run-curve", &command<curve>},
                                         {"run-expect", &command<expect>},
                                         {"run-explain", &command<explain>},
                                         {"run-harvest", &command<harvest>},
                                         {"run-learn", &command<learn>},
                                         {"run-match", &command<match>},
                                         {"run-new", &command<new_setup>},
                                         {"run-panel", &command<panel>},
                                         {"run-parts", &command<parts>},
                                         {"run-steps", &command<steps>}};
    return all;
}

}  // namespace plait::fuzz
