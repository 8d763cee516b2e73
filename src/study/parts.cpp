#include <plait/study/parts.hpp>

#include "plain_number.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/number_words.hpp>

#include <algorithm>
#include <cmath>

namespace plait::study {
namespace {

std::string least_amps(double a) { return plain(rounded_up(a * 10.0) / 10.0) + " A"; }

// IEC 62548 for blocking diodes [from memory].
constexpr double diode_current_ratio = 1.4;

using Kind = rules::ConditionKind;

class PartList {
public:
    PartList(const Setup& setup, const Judgement& judgement) : setup_(setup), judgement_(judgement) {}

    std::vector<PartLine> run() {
        panels();
        for (const InputJudgement& one : judgement_.inputs) {
            cables(one);
            string_plugs(one);
            joint(one);
            caps(one);
            fuses(one);
            blocking_diodes(one);
            disconnect(one);
        }
        battery();
        return std::move(lines_);
    }

private:
    // The same thing for several places is one line; half a price would be a wrong one, so what has none stays apart.
    void add(PartLine line) {
        const auto same = std::find_if(lines_.begin(), lines_.end(), [&](const PartLine& l) {
            return l.id == line.id && l.what == line.what && l.note == line.note && l.meets == line.meets &&
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
                const auto on_hand = static_cast<std::size_t>(setup_.kinds[kind].count);
                if (count > on_hand) {
                    line.note = std::to_string(count - on_hand) + " more than are on hand";
                    line.meets = Kind::more_panels;
                }
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
            halves.note = "of the panels' connectors' make and series, crimped with the tool its maker names";
            halves.source = "NEC 690.33, IEC 62852; crimping IEC 60352-2 [from memory]";
            halves.meets = asked(Kind::connectors, one.input);
            add(halves);
        }
    }

    // Without cables nothing is known of a string's ends; where their plugs are too small they are listed all the same.
    void string_plugs(const InputJudgement& one) {
        if (!asked(Kind::connectors, one.input) || !one.wires.cables.empty()) return;
        PartLine halves{"connector", "connector halves, " + least_amps(one.wires.connectors.leg.current_a) + " or more",
                        each_string(one, name(one)), 2.0 * static_cast<double>(one.wiring.strings.size())};
        halves.note = "of the panels' connectors' make and series, for the ends of a string";
        halves.source = "NEC 690.33, IEC 62852 [from memory]";
        halves.meets = Kind::connectors;
        add(std::move(halves));
    }

    // The condition of the headline that a part meets, where it is one.
    std::optional<Kind> asked(Kind kind, std::optional<std::size_t> input) const {
        const std::vector<rules::Condition>& all = judgement_.verdict.conditions;
        const bool there = std::any_of(all.begin(), all.end(), [&](const rules::Condition& c) {
            return c.kind == kind && (!input || !c.input || *c.input == *input);
        });
        return there ? std::optional(kind) : std::nullopt;
    }

    void joint(const InputJudgement& one) {
        const std::size_t strings = one.wiring.strings.size();
        if (strings < 2) return;
        PartLine line{"branch",
                      "branch connectors, " + std::to_string(strings) + " to 1, common leg " +
                          least_amps(one.wires.connectors.common.current_a) + " or more",
                      name(one), 2.0};
        line.note = "a pair: one for +, one for −; or a combiner box";
        line.meets = asked(Kind::branch_connectors, one.input);
        add(line);
    }

    static std::string each_string(const InputJudgement& one, const std::string& name) {
        return (one.wiring.strings.size() > 1 ? "each string of " : "the string of ") + name;
    }

    // The steps leave both ends of a string capped until it is joined.
    void caps(const InputJudgement& one) {
        add({"end-cap", "caps for open PV plugs, of the plugs' make", each_string(one, name(one)),
             2.0 * static_cast<double>(one.wiring.strings.size())});
    }

    // The file's fuse, unless it is too small for the string's own current.
    std::optional<double> string_fuse_a(const rules::StringFuse& f) const {
        const std::optional<double> chosen_a = chosen_fuse_a(setup_, f);
        if (!chosen_a || !f.fitted_a) return chosen_a;
        const bool by_nec = setup_.site.code == Code::iec || *chosen_a >= f.nec.least_a;
        const bool by_iec = setup_.site.code == Code::nec || *chosen_a >= f.iec.least_a;
        if (by_nec && by_iec) return chosen_a;
        rules::StringFuse without = f;
        without.fitted_a.reset();
        return chosen_fuse_a(setup_, without);
    }

    void fuses(const InputJudgement& one) {
        if (one.wiring.strings.size() < 2 || !fuses_wanted(setup_, one.wires)) return;
        // IEC practice guards both poles of an array that is not earthed, unless its voltage is extra-low.
        const bool high = one.wires.stand_v > extra_low_limit_v;
        const double poles = high && setup_.site.code == Code::iec ? 2.0 : 1.0;
        std::optional<Kind> condition = asked(Kind::string_fuses, one.input);
        if (!condition) condition = asked(Kind::larger_string_fuses, one.input);
        for (const rules::StringFuse& f : one.wires.fuses) {
            const std::optional<double> size_a = string_fuse_a(f);
            const std::string size = size_a ? plain(*size_a) + " A, " : std::string("no standard size suits, ");
            const std::string rated = size + whole_volts(one.wires.stand_v) + " or more";
            PartLine fuse{"string-fuse", "DC fuse made for PV, " + rated, each_string(one, name(one)),
                          poles * static_cast<double>(f.strings.size())};
            fuse.note = std::string(poles > 1.0 ? "in both poles" : "in the + pole") + ", between string and joint";
            if (high && setup_.site.code == Code::both) fuse.note += "; twice as many where IEC practice binds you";
            fuse.source =
                "IEC 60269-6; NEC 690.9, one pole; IEC 62548, both poles above extra-low voltage [from memory]";
            fuse.meets = condition;
            PartLine holder = fuse;
            holder.id = "fuse-holder";
            holder.what = "touch-proof DC holder for it, " + rated;
            holder.note = "never opened while current flows";
            holder.source = {};
            add(std::move(fuse));
            add(std::move(holder));
        }
    }

    void blocking_diodes(const InputJudgement& one) {
        const auto blocked = std::count_if(one.wiring.strings.begin(), one.wiring.strings.end(),
                                           [](const SeriesString& s) { return s.blocking_diode; });
        if (blocked == 0) return;
        PartLine line{
            "blocking-diode",
            "blocking diode, " +
                least_amps(diode_current_ratio * one.wires.connectors.leg.current_a / rules::bright_sky_factor) +
                " and " + whole_volts(2.0 * one.wires.stand_v) + " or more",
            "in the strings of " + name(one) + " that have one", static_cast<double>(blocked)};
        line.note = "no substitute for a string fuse";
        line.source = "IEC 62548: 1.4 × Isc and twice the highest voltage [from memory]";
        add(line);
    }

    void disconnect(const InputJudgement& one) {
        PartLine line{"disconnect",
                      "DC disconnect, load-breaking, not polarised, " + whole_volts(one.wires.stand_v) + " and " +
                          least_amps(one.wires.bright_isc_a) + " or more",
                      "at " + name(one), 1.0};
        line.note = "an AC switch does not put out a DC arc";
        if (setup_.site.code != Code::iec) {
            line.note += "; its screws tightened to the torque marked on it";
            line.source = "NEC 110.14(D) [from memory]";
        }
        add(line);
    }

    void battery() {
        const BatterySheet& b = judgement_.battery;
        if (!b.current) return;
        for (const rules::CableFigures& f : b.cables) cable(setup_.cables[f.cable], 1.0, "controller to battery");
        std::optional<double> fuse_a = b.current->fuse_a;
        if (setup_.fittings.battery_fuse_a && *setup_.fittings.battery_fuse_a >= b.current->fuse_least_a) {
            fuse_a = setup_.fittings.battery_fuse_a;
        }
        const std::string rated = (fuse_a ? plain(*fuse_a) + " A" : least_amps(b.current->fuse_least_a) + " or more") +
                                  ", " + whole_volts(setup_.controller.battery->max_voltage_v) + " or more";
        PartLine fuse{"battery-fuse", "DC fuse, " + rated, "at the battery", 1.0};
        fuse.note = "close to the battery, of a type that breaks its short-circuit current";
        fuse.meets = asked(Kind::battery_fuse, {});
        PartLine holder{"fuse-holder", "DC holder for it, " + rated, "at the battery", 1.0};
        holder.meets = fuse.meets;
        add(std::move(fuse));
        add(std::move(holder));
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

std::optional<double> price_of(const std::vector<PartLine>& parts) {
    std::optional<double> sum;
    for (const PartLine& p : parts) {
        if (p.price) sum = sum.value_or(0.0) + *p.price;
    }
    return sum;
}

}  // namespace plait::study
