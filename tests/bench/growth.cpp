// How the number of wirings and the time of the search grow with the panels, their kinds and the inputs. Not a test:
// prints the table of docs/performance.md.
#include <plait/input/read_panel.hpp>
#include <plait/search/plan_search.hpp>

#include <chrono>
#include <cstdio>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

using namespace plait;

namespace {

Panel panel_of(const std::string& stem) {
    const std::string path = std::string(PLAIT_SOURCE_DIR "/panels/") + stem + ".toml";
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    const auto read = input::read_panel(text.str(), path);
    if (!read) std::abort();
    return read->panel;
}

/// Inputs as on power stations: a small one and larger ones, none equal to another.
Input input_of(int i) {
    Input in;
    in.name = "PV" + std::to_string(i + 1);
    const double max_v[] = {60.0, 150.0, 100.0, 120.0};
    in.max_voltage_v = max_v[i % 4];
    in.tracking_min_v = 12.0 + 6.0 * i;
    in.tracking_max_v = 0.95 * *in.max_voltage_v;
    in.bands = {{0.0, 24.0, 8.0}, {24.0, 200.0, 15.0 + 5.0 * i}};
    in.max_power_w = 500.0 + 350.0 * i;
    in.over_current = OverCurrent::only_clips;
    return in;
}

Setup setup_of(int panels, int kinds, int inputs) {
    static const std::vector<Panel> shelf{panel_of("rigid-175w-perc"), panel_of("folding-180w-perc"),
                                          panel_of("flexible-110w-back-contact"), panel_of("rigid-275w-poly")};
    Setup setup;
    for (int k = 0; k < kinds; ++k) {
        PanelKind kind;
        kind.id = "k" + std::to_string(k);
        kind.panel = shelf[static_cast<std::size_t>(k)];
        kind.count = panels / kinds + (k < panels % kinds ? 1 : 0);
        setup.kinds.push_back(kind);
    }
    for (int i = 0; i < inputs; ++i) setup.controller.inputs.push_back(input_of(i));
    setup.site.coldest_air = Celsius{-15.0};
    setup.site.hottest_air = Celsius{36.0};
    return setup;
}

double now_ms() {
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

void row(int panels, int kinds, int inputs, double budget_s) {
    const Setup setup = setup_of(panels, kinds, inputs);
    const double start = now_ms();
    const study::SystemModel system(setup);
    search::PlanSearch search(system);
    const double ready = now_ms();
    search::SearchRequest request;
    request.keep_going = [&](const search::SearchProgress&) { return now_ms() - start < 1000.0 * budget_s; };
    const search::SearchResult found = search.run(request);
    const double end = now_ms();
    const double best = found.plans.empty() ? 0.0 : found.plans.front().european_w;
    std::printf("| %d | %d | %d | %.3g | %zu | %.1f | %.1f | %.1f W%s |\n", panels, kinds, inputs, search.count(),
                found.solved, ready - start, end - start, best,
                found.finished ? "" : (", gap " + std::to_string(100.0 * (found.bound_w / best - 1.0)) + " %").c_str());
    std::fflush(stdout);
}

}  // namespace

int main(int argc, char** argv) {
    std::printf(
        "| panels | kinds | inputs | wirings | solved | bounds ms | all ms | best "
        "|\n|---|---|---|---|---|---|---|---|\n");
    if (argc == 4) {
        row(std::atoi(argv[1]), std::atoi(argv[2]), std::atoi(argv[3]), 60.0);
        return 0;
    }
    for (const int panels : {4, 8, 12, 16, 20, 24, 30}) {
        for (const int kinds : {1, 2, 3, 4}) {
            for (const int inputs : {1, 2, 3, 4}) row(panels, kinds, inputs, 60.0);
        }
    }
}
