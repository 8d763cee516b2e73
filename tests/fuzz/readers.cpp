#include "targets.hpp"

#include <plait/input/measured_table.hpp>
#include <plait/input/read_catalogue.hpp>
#include <plait/input/read_charging.hpp>
#include <plait/input/read_controller.hpp>
#include <plait/input/read_field.hpp>
#include <plait/input/read_panel.hpp>
#include <plait/input/read_setup.hpp>
#include <plait/input/read_station.hpp>
#include <plait/input/read_weather.hpp>
#include <plait/input/read_weather_file.hpp>
#include <plait/input/read_wiring.hpp>

#include <cmath>
#include <string>
#include <utility>

namespace plait::fuzz {
namespace {

const std::string panel_toml =
    "name = \"P\"\ntechnology = \"mono\"\ncells_in_series = 36\nbypass_diodes = 2\npmax = \"100 W\"\nvmp = \"20 V\"\n"
    "imp = \"5 A\"\nvoc = \"24 V\"\nisc = \"5.5 A\"\nvoc_coefficient = \"-0.3 %/K\"\n";

const std::string setup_toml =
    "[[panel]]\nid = \"meadow\"\nfile = \"p.toml\"\ncount = 6\n[controller]\nname = \"Box\"\ntype = \"wide-range\"\n"
    "[[controller.input]]\nname = \"PV1\"\nmax_voltage = \"60 V\"\ntracking_min = \"12 V\"\ntracking_max = \"58 V\"\n"
    "[[controller.input]]\nname = \"PV2\"\nmax_voltage = \"150 V\"\ntracking_min = \"12 V\"\ntracking_max = \"140 V\"\n"
    "[site]\ncoldest_air = \"-20 °C\"\n";

Result<std::string, std::string> one_file(const std::string& path) {
    if (path == "p.toml") return panel_toml;
    return Failure{std::string("cannot be opened")};
}

const Setup& usual_setup() {
    static const Setup setup = [] {
        auto read = input::read_setup(setup_toml, "setup.toml", one_file);
        if (!read) found("the usual set-up is refused", read.error().front().message);
        return *std::move(read);
    }();
    return setup;
}

void whole(const Diagnostics& complaints) {
    if (complaints.empty()) found("refused without a complaint");
    for (const Diagnostic& d : complaints) {
        if (d.message.empty()) found("a complaint without words");
        if (d.line < 0 || d.column < 0) found("a complaint nowhere", d.message);
        if (name_in(complaint_codes, d.kind).empty()) found("a complaint without a code", d.message);
        if (d.kind == Complaint::internal) found("a reader blames the program", d.message);
    }
}

template <class T>
void judge(const Result<T>& r) {
    if (!r) whole(r.error());
}

void finite(const Result<double>& r) {
    judge(r);
    if (r && !std::isfinite(*r)) found("a quantity that is not finite");
}

void setup(std::string_view text) { judge(input::read_setup(text, "x.toml", one_file)); }
void panel(std::string_view text) {
    judge(input::read_panel(text, "x.toml"));
    judge(input::read_catalogue_panel(text, "x.toml"));
}
void controller(std::string_view text) {
    judge(input::read_controller(text, "x.toml"));
    judge(input::read_catalogue_controller(text, "x.toml", one_file));
    judge(input::read_catalogue_site(text, "x.toml"));
    (void)input::sort_of_file(text, "x.toml");
}
void prices(std::string_view text) { judge(input::read_prices(text, "x.csv")); }

// A table is the same however its bytes come in.
void measured(std::string_view text) {
    std::size_t rows = 0;
    double sum = 0.0;
    const auto take = [&](const input::MeasuredRow& r) {
        ++rows;
        for (const auto& value : {r.voltage_v, r.current_a, r.power_w, r.time_s}) {
            if (value && !std::isfinite(*value)) found("a value of a row is not finite");
            sum += value.value_or(0.0);
        }
    };
    const auto at_once = input::read_measured(text, "x.csv", take);
    judge(at_once);
    const std::size_t rows_at_once = std::exchange(rows, 0);
    const double sum_at_once = std::exchange(sum, 0.0);
    input::MeasuredReader reader("x.csv", take);
    const std::size_t piece = 1 + text.size() % 7;
    for (std::size_t i = 0; i < text.size(); i += piece) {
        if (!reader.feed(text.substr(i, piece))) break;
    }
    const auto in_pieces = reader.finish();
    if (in_pieces.has_value() != at_once.has_value()) found("a table in pieces is read otherwise");
    if (rows != rows_at_once || (sum != sum_at_once)) found("a table in pieces has other rows");
    if (!at_once && at_once.error().front().message != in_pieces.error().front().message) {
        found("a table in pieces has another complaint", in_pieces.error().front().message);
    }
}

void weather(std::string_view text) {
    if (input::looks_like_epw(text)) return judge(input::read_epw(text, "x.epw"));
    input::WeatherTableForm form;
    form.location.latitude_deg = 52.0;
    form.location.from_utc_h = 1.0;
    for (const bool wall : {false, true}) {
        form.clock_has_summer_time = wall;
        judge(input::read_weather_table(text, "x.csv", form));
    }
}
void epw(std::string_view text) { judge(input::read_epw(text, "x.epw")); }
void station(std::string_view text) { judge(input::read_station(text, "x.dly")); }

void quantity(std::string_view text) {
    using input::OptionNumber;
    for (const OptionNumber meaning :
         {OptionNumber::accuracy, OptionNumber::deviation, OptionNumber::temperature_deviation_k,
          OptionNumber::least_shown_w, OptionNumber::supply_limit_a, OptionNumber::amps_step_a,
          OptionNumber::watts_step_w}) {
        finite(input::read_option_number(text, "--x", meaning));
    }
    finite(input::read_charge_ratio(text, "--from"));
    finite(input::read_time_of_day_h(text, "--at"));
    finite(input::read_clock_offset_s(text, "--clock-ahead"));
    finite(input::read_irradiance(text, "--sun"));
    judge(input::read_wall_power_w(text, "--wall"));
    judge(input::read_temperature(text, "--air"));
    judge(input::read_voltages(text, "--at"));
    const auto column = input::column_by_hand(text);
    if (!column && column.error().empty()) found("a column is refused without words");
    input::FieldTexts field;
    field.air = std::string(text);
    field.sun = std::string(text);
    field.meter_accuracy = std::string(text);
    judge(input::read_field_conditions(field));
}

void wiring(std::string_view text) {
    const Setup& setup = usual_setup();
    const auto plan = input::read_wiring(text, "--wiring", setup);
    judge(plan);
    if (plan && plan->size() != setup.controller.inputs.size()) found("a plan that is not of this controller");
}

void reading(std::string_view text) {
    const Setup& setup = usual_setup();
    static const ArrayPlan plan = *input::read_wiring("PV1=2s1p; PV2=2s2p", "--wiring", usual_setup());
    judge(input::read_readings({std::string(text)}, "--read", setup, plan));
}

}  // namespace

const std::vector<Target>& targets() {
    static const std::vector<Target> all{{"setup", &setup},   {"panel", &panel},       {"controller", &controller},
                                         {"prices", &prices}, {"measured", &measured}, {"weather", &weather},
                                         {"epw", &epw},       {"station", &station},   {"quantity", &quantity},
                                         {"wiring", &wiring}, {"reading", &reading}};
    return all;
}

}  // namespace plait::fuzz
