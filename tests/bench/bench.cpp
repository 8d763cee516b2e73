// How fast the pieces are. Not a test: figures and how they were taken are in docs/performance.md.
#include <plait/input/read_setup.hpp>
#include <plait/output/reports.hpp>
#include <plait/physics/operating_point.hpp>
#include <plait/search/arrangement.hpp>
#include <plait/study/harvest_year.hpp>
#include <plait/study/judgement.hpp>

#include <benchmark/benchmark.h>

#include <fstream>
#include <sstream>
#include <vector>

using namespace plait;

namespace {

Result<std::string, std::string> read_file(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    if (!file) return Failure{std::string("cannot be opened")};
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

const std::string demo_file = PLAIT_SOURCE_DIR "/docs/demo/allotment.toml";

Setup demo() {
    const auto text = read_file(demo_file);
    auto setup = input::read_setup(*text, demo_file, read_file);
    if (!setup) std::abort();
    return *std::move(setup);
}

// A spread of light and temperature, so that no branch is learnt by heart.
std::vector<physics::DiodeCurve> curves() {
    const Setup setup = demo();
    const study::SystemModel system(setup);
    std::vector<physics::DiodeCurve> list;
    for (int g = 50; g <= 1200; g += 23) {
        for (int t = -30; t <= 80; t += 11) {
            list.push_back(system.fitted(0)
                               .model.at({static_cast<double>(g), {static_cast<double>(t)}})
                               .scaled(1 + g % 4, 1 + t % 3 * (t > 0)));
        }
    }
    return list;
}

void curve_point(benchmark::State& state) {
    const auto list = curves();
    std::size_t i = 0;
    for (auto _ : state) {
        benchmark::DoNotOptimize(list[i].current_a(17.0));
        i = i + 1 < list.size() ? i + 1 : 0;
    }
}
BENCHMARK(curve_point);

void maximum_power_point(benchmark::State& state) {
    const auto list = curves();
    std::size_t i = 0;
    for (auto _ : state) {
        benchmark::DoNotOptimize(list[i].maximum_power());
        i = i + 1 < list.size() ? i + 1 : 0;
    }
}
BENCHMARK(maximum_power_point);

void operating_point_with_bands(benchmark::State& state) {
    const auto list = curves();
    physics::AcceptanceWindow window;
    window.low_v = 12.0;
    window.high_v = 60.0;
    window.power_w = 400.0;
    window.bands = {{12.0, 24.0, 8.0}, {24.0, 60.0, 15.0}};
    std::size_t i = 0;
    for (auto _ : state) {
        benchmark::DoNotOptimize(physics::operating_point(list[i], window));
        i = i + 1 < list.size() ? i + 1 : 0;
    }
}
BENCHMARK(operating_point_with_bands);

void judged_wiring(benchmark::State& state) {
    const Setup setup = demo();
    const study::SystemModel system(setup);
    const ArrayPlan plan{written_out({0, 2, 1}), written_out({0, 4, 1})};
    for (auto _ : state) benchmark::DoNotOptimize(study::judge(system, plan));
}
BENCHMARK(judged_wiring);

void demo_arrange(benchmark::State& state) {
    for (auto _ : state) {
        const Setup setup = demo();
        const study::SystemModel system(setup);
        benchmark::DoNotOptimize(output::terminal_text(output::arrange_report(system, search::arrange(system), nullptr, {}, {}, {}), {}));
    }
}
BENCHMARK(demo_arrange)->Unit(benchmark::kMicrosecond);

void demo_arrange_without_reading(benchmark::State& state) {
    const Setup setup = demo();
    for (auto _ : state) {
        const study::SystemModel system(setup);
        benchmark::DoNotOptimize(search::arrange(system));
    }
}
BENCHMARK(demo_arrange_without_reading)->Unit(benchmark::kMicrosecond);

// A year of hours at the demo's place: the sun and its plane, one wiring, and all equal ones of twelve panels.
void harvest_light(benchmark::State& state) {
    const Setup setup = demo();
    const WeatherSeries weather = study::climate_year(setup);
    for (auto _ : state) benchmark::DoNotOptimize(study::light_series(setup, weather));
}
BENCHMARK(harvest_light)->Unit(benchmark::kMicrosecond);

void harvest_first_wiring(benchmark::State& state) {
    const Setup setup = demo();
    const study::SystemModel system(setup);
    const study::LightSeries light = study::light_series(setup, study::climate_year(setup));
    const ArrayPlan plan{written_out({0, 2, 1}), written_out({0, 4, 1})};
    for (auto _ : state) benchmark::DoNotOptimize(study::HarvestStudy(system, light).run(plan));
}
BENCHMARK(harvest_first_wiring)->Unit(benchmark::kMicrosecond);

void harvest_all_of_twelve(benchmark::State& state) {
    const Setup setup = demo();
    const study::SystemModel system(setup);
    const study::LightSeries light = study::light_series(setup, study::climate_year(setup));
    for (auto _ : state) {
        study::HarvestStudy harvest(system, light);
        for (int in_series = 1; in_series <= 12; ++in_series) {
            for (int in_parallel = 1; in_series * in_parallel <= 12; ++in_parallel) {
                benchmark::DoNotOptimize(harvest.run({InputWiring{}, written_out({0, in_series, in_parallel})}));
            }
        }
    }
}
BENCHMARK(harvest_all_of_twelve)->Unit(benchmark::kMicrosecond);

}  // namespace
