#include <plait/measured/window_comparison.hpp>

#include "render/style.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace plait::output {
namespace {

// A name as TOML text: no quote, backslash or control character goes through unescaped.
std::string text(std::string_view name) {
    std::string out = "\"";
    for (const char c : name) {
        if (c == '"' || c == '\\') out += '\\';
        out += static_cast<unsigned char>(c) < 0x20U || c == '\x7F' ? ' ' : c;
    }
    return out + "\"";
}

// Half a hundredth is far below what a bench resolves; down, so that a measured figure is never rounded into a promise.
double down(double value) { return std::floor(value * 100.0 + 1e-6) / 100.0; }

std::string quantity(const char* key, double value, const char* unit) {
    return fmt::format("{} = \"{:.10g} {}\"", key, value, unit);
}

std::string maybe(const char* key, const std::optional<double>& value, const char* unit) {
    return value ? quantity(key, *value, unit) + "\n" : "";
}

std::string gap(const measured::SwitchVoltage& s) {
    return fmt::format("between {:.2f} and {:.2f} V", s.between_v.lower(), s.between_v.upper());
}

std::string bands_text(const std::vector<CurrentBand>& bands) {
    if (bands.empty()) return "";
    if (bands.size() == 1) return quantity("max_current", bands[0].limit_a, "A") + "\n";
    std::string out = "bands = [\n";
    for (const CurrentBand& b : bands) {
        out += fmt::format("  {{ from = \"{:.10g} V\", to = \"{:.10g} V\", current = \"{:.10g} A\" }},\n", b.from_v,
                           b.to_v, b.limit_a);
    }
    return out + "]\n";
}

/// The lowest and the highest voltage at which anything was read.
std::pair<double, double> read_volts(const measured::LearnedWindow& w) {
    std::pair<double, double> range{w.lowest_working_v, w.highest_working_v};
    for (const measured::FittedRow& r : w.rows) {
        if (std::isnan(r.row.voltage_v) || std::isnan(r.row.current_a)) continue;
        range = {std::min(range.first, r.row.voltage_v), std::max(range.second, r.row.voltage_v)};
    }
    return range;
}

// What the bench could not tell stays as printed; the file says where.
std::string kept_comments(const measured::LearnedWindow& w, const Input& printed) {
    std::string out;
    const auto is_power = [](const measured::LearnedPiece& p) { return p.kind == measured::PieceKind::constant_power; };
    if (!printed.bands.empty() && std::all_of(w.pieces.begin(), w.pieces.end(), is_power)) {
        out += "# The power limit came first at every voltage: the current limits are the printed ones.\n";
    }
    if (!w.start && !w.stop && printed.tracking_min_v && *printed.tracking_min_v < w.lowest_working_v) {
        out += fmt::format("# Below {:.2f} V {}: the limits there are the printed ones.\n", w.lowest_working_v,
                           read_volts(w).first < w.lowest_working_v ? "the readings tell nothing" : "nobody measured");
    }
    const auto [lowest_v, highest_v] = read_volts(w);
    if (!w.trip && printed.tracking_max_v && *printed.tracking_max_v > w.highest_working_v) {
        out += fmt::format("# Above {:.2f} V {}: the limits there are the printed ones.\n", w.highest_working_v,
                           highest_v > w.highest_working_v ? "nothing tells where it trips with the voltage rising" : "nobody measured");
    }
    return out;
}

std::string measured_comments(const measured::LearnSheet& sheet) {
    const measured::LearnedWindow& w = sheet.window;
    std::string out;
    if (!sheet.controller) {
        out +=
            "# No max_voltage: a bench shows what the input bore once, not what its maker allows. Ask the maker\n"
            "# for the highest open-circuit voltage and write it here; until then no wiring can be called within.\n";
    } else if (sheet.printed()->max_voltage_v) {
        out += "# max_voltage is the printed one. What the bench showed above it is no permission.\n";
    }
    if (w.trip) out += fmt::format("# It tripped {}, voltage rising.\n", gap(*w.trip));
    if (w.recovery) out += fmt::format("# It recovered {}, voltage falling.\n", gap(*w.recovery));
    if (!w.power_w) {
        out += fmt::format("# No power limit was reached on the bench; it took up to {:.4g} W.\n", w.most_power_w);
    }
    if (sheet.controller) out += kept_comments(w, *sheet.printed());
    for (const measured::LearnedPiece& p : w.pieces) {
        if (p.kind != measured::PieceKind::at_least) continue;
        out += fmt::format("# From {:.2f} to {:.2f} V the supply was the limit: the input takes {:.4g} A or more.\n",
                           p.from_v, p.to_v, p.level.value);
    }
    return out;
}

std::string input_text(const measured::LearnSheet& sheet, const Input& in, bool measured) {
    std::string out = "\n[[input]]\n";
    if (measured) out += measured_comments(sheet);
    out += "name = " + text(in.name) + "\n";
    out += maybe("max_voltage", in.max_voltage_v, "V");
    out += maybe("tracking_min", in.tracking_min_v, "V");
    out += maybe("tracking_max", in.tracking_max_v, "V");
    out += maybe("start_voltage", in.start_voltage_v, "V");
    out += bands_text(in.bands);
    out += maybe("max_power", in.max_power_w, "W");
    out += maybe("max_short_circuit_current", in.max_short_circuit_a, "A");
    out += maybe("max_array_power", in.max_array_power_w, "W");
    out += maybe("plug_rating", in.plug_rating_a, "A");
    if (in.over_current != OverCurrent::unsaid) out += "over_current = " + text(name_of(in.over_current)) + "\n";
    return out;
}

}  // namespace

std::string learn_toml(const measured::LearnSheet& sheet) {
    Controller c = measured::learned_controller(sheet);
    Input& measured = c.inputs[sheet.input];
    for (CurrentBand& b : measured.bands) b.limit_a = down(b.limit_a);
    if (measured.max_power_w) measured.max_power_w = down(*measured.max_power_w);
    std::string file = sheet.file;
    for (char& ch : file) {
        if (static_cast<unsigned char>(ch) < 0x20U || ch == '\x7F') ch = ' ';
    }
    std::string out = fmt::format("# Learned by plait from the bench sweep {}.\n", file);
    out += "# One input on one bench: the maker's manual has the last word.\n\n";
    out += "name = " + text(c.name) + "\n";
    out += "type = " + text(name_of(c.type)) + "\n";
    if (c.type == ControllerType::step_down) {
        out += quantity("running_headroom", c.running_headroom_v, "V") + "\n";
        out += quantity("starting_headroom", c.starting_headroom_v, "V") + "\n";
    }
    if (c.type == ControllerType::direct_connect) out += quantity("drop", c.direct_connect_drop_v, "V") + "\n";
    if (c.battery || c.efficiency_ratio != 1.0)
        out += fmt::format("efficiency = \"{:.10g} %\"\n", 100.0 * c.efficiency_ratio);
    out += maybe("max_total_power", c.max_total_power_w, "W");
    if (c.price) {
        out += fmt::format("# The set-up gives its price, beside the name of this file: price = {:.10g}\n", *c.price);
    }
    if (c.battery) {
        out += "\n[battery]\n";
        out += quantity("min_voltage", c.battery->min_voltage_v, "V") + "\n";
        out += quantity("nominal_voltage", c.battery->nominal_voltage_v, "V") + "\n";
        out += quantity("max_voltage", c.battery->max_voltage_v, "V") + "\n";
        out += maybe("max_charge_current", c.battery->max_charge_current_a, "A");
    }
    for (std::size_t i = 0; i < c.inputs.size(); ++i) out += input_text(sheet, c.inputs[i], i == sheet.input);
    return out;
}

}  // namespace plait::output
