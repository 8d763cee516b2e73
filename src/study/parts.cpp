#include <plait/study/parts.hpp>

#include <plait/rules/number_words.hpp>

#include <algorithm>
#include <cmath>

namespace plait::study {
namespace {

// Two decimals at most, no trailing zeros.
std::string plain(double value) {
    const double hundredths = std::round(value * 100.0);
    std::string text = std::to_string(static_cast<long>(hundredths) / 100);
    const long rest = static_cast<long>(hundredths) % 100;
    if (rest == 0) return text;
    text += "." + std::to_string(rest / 10);
    if (rest % 10 != 0) text += std::to_string(rest % 10);
    return text;
}
std::string least_amps(double a) { return plain(std::ceil(a * 10.0 - 1e-9) / 10.0) + " A"; }
std::string least_volts(double v) { return plain(std::ceil(v - 1e-9)) + " V"; }

class PartList {
public:
    PartList(const Setup& setup, const Judgement& judgement) : setup_(setup), judgement_(judgement) {}

    std::vector<PartLine> run() {
        panels();
        for (const InputJudgement& one : judgement_.inputs) {
            cables(one);
            joint(one);
            fuses(one);
            disconnect(one);
        }
        battery();
        return std::move(lines_);
    }

private:
    // The same thing for several places is one line; half a price would be a wrong one, so what has none stays apart.
    void add(PartLine line) {
        const auto same = std::find_if(lines_.begin(), lines_.end(), [&](const PartLine& l) {
            return l.id == line.id && l.what == line.what && l.note == line.note &&
                   l.price.has_value() == line.price.has_value();
        });
        if (same == lines_.end()) {
            places_.push_back({line.where});
            lines_.push_back(std::move(line));
            return;
        }
        same->count += line.count;
        if (line.price) *same->price += *line.price;
        std::vector<std::string>& places = places_[static_cast<std::size_t>(same - lines_.begin())];
        if (std::find(places.begin(), places.end(), line.where) != places.end()) return;
        same->where += ", " + line.where;
        places.push_back(std::move(line.where));
    }

    void panels() {
        for (std::size_t kind = 0; kind < setup_.kinds.size(); ++kind) {
            std::size_t count = 0;
            for (const InputJudgement& one : judgement_.inputs) count += one.wiring.panel_count(kind);
            for (const InputJudgement& one : judgement_.inputs) {
                const std::size_t here = one.wiring.panel_count(kind);
                if (here == 0) continue;
                PartLine line{"panel", setup_.kinds[kind].panel.name, name(one), static_cast<double>(here)};
                if (setup_.kinds[kind].price) line.price = *setup_.kinds[kind].price * static_cast<double>(here);
                if (count > static_cast<std::size_t>(setup_.kinds[kind].count)) line.note = "more than are on hand";
                add(line);
            }
        }
    }

    const std::string& name(const InputJudgement& one) const { return setup_.controller.inputs[one.input].name; }

    void cable(const Cable& cable, double times, const std::string& where) {
        PartLine line{"cable", rules::size_text(cable.size) + " " + std::string(plait::name_of(cable.kind)) + " copper",
                      where, 2.0 * cable.length_m * times};
        line.measured = Measured::metres;
        line.note = cable.run == CableRun::battery ? "" : "double-insulated PV cable";
        add(line);
    }

    void cables(const InputJudgement& one) {
        for (const rules::CableFigures& f : one.wires.cables) {
            const Cable& c = setup_.cables[f.cable];
            const double strings = static_cast<double>(one.wiring.strings.size());
            const double times = c.run == CableRun::panel_leads ? static_cast<double>(one.wiring.panel_count())
                                 : c.run == CableRun::string    ? strings
                                                                : 1.0;
            cable(c, times, c.name + " of " + name(one));
            // Both conductors end in a plug or socket at both ends; the trunk's far end is the disconnect's.
            const double ends = c.run == CableRun::trunk ? 2.0 : 4.0;
            PartLine halves{
                "connector",
                "connector halves for " + rules::size_text(c.size) + ", " +
                    least_amps(c.run == CableRun::trunk ? one.wires.bright_isc_a : one.wires.connectors.leg.current_a) +
                    " or more",
                c.name + " of " + name(one), ends * times};
            halves.note = "of the panels' connectors' make and series, crimped with its tool";
            add(halves);
        }
    }

    void joint(const InputJudgement& one) {
        const std::size_t strings = one.wiring.strings.size();
        if (strings < 2) return;
        PartLine line{"branch",
                      "branch connectors, " + std::to_string(strings) + " to 1, common leg " +
                          least_amps(one.wires.connectors.common.current_a) + " or more",
                      name(one), 2.0};
        line.note = "a pair: one for +, one for −; or a combiner box";
        add(line);
    }

    void fuses(const InputJudgement& one) {
        if (one.wiring.strings.size() < 2 || !fuses_wanted(setup_, one.wires)) return;
        for (const rules::StringFuse& f : one.wires.fuses) {
            const std::optional<double> size_a = chosen_fuse_a(setup_, f);
            PartLine line{"string-fuse",
                          (size_a ? "DC fuse made for PV with holder, " + plain(*size_a) + " A, "
                                  : std::string("DC fuse made for PV: no standard size suits, ")) +
                              least_volts(one.wires.stand_v) + " or more",
                          "each string of " + name(one), static_cast<double>(f.count)};
            line.note = "in the + pole, between string and joint; both poles by IEC practice above extra-low voltage";
            add(line);
        }
    }

    void disconnect(const InputJudgement& one) {
        PartLine line{"disconnect",
                      "DC disconnect, load-breaking, not polarised, " + least_volts(one.wires.stand_v) + " and " +
                          least_amps(one.wires.bright_isc_a) + " or more",
                      "at " + name(one), 1.0};
        line.note = "an AC switch does not put out a DC arc";
        add(line);
    }

    void battery() {
        const BatterySheet& b = judgement_.battery;
        if (!b.current) return;
        for (const rules::CableFigures& f : b.cables) cable(setup_.cables[f.cable], 1.0, "controller to battery");
        const std::optional<double> fuse_a =
            setup_.fittings.battery_fuse_a ? setup_.fittings.battery_fuse_a : b.current->fuse_a;
        PartLine line{"battery-fuse",
                      "DC fuse with holder, " +
                          (fuse_a ? plain(*fuse_a) + " A" : least_amps(b.current->fuse_least_a) + " or more") + ", " +
                          least_volts(setup_.controller.battery->max_voltage_v) + " or more",
                      "at the battery", 1.0};
        line.note = "close to the battery, of a type that breaks its short-circuit current";
        add(line);
    }

    const Setup& setup_;
    const Judgement& judgement_;
    std::vector<PartLine> lines_;
    std::vector<std::vector<std::string>> places_;  // of each line
};

}  // namespace

std::vector<PartLine> parts_of(const Setup& setup, const Judgement& judgement) {
    return PartList(setup, judgement).run();
}

}  // namespace plait::study
