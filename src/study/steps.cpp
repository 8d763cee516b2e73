// The order: battery first, dead parts while they are dead, each string alone and in two halves, fuses and switch open
// until everything is measured, the switch last. Taking apart goes the other way.
#include <plait/rules/cold_methods.hpp>
#include <plait/rules/number_words.hpp>
#include <plait/study/steps.hpp>

#include <algorithm>
#include <set>

namespace plait::study {
namespace {

constexpr std::string_view practice = "common practice, no source";

const Caution battery_caution{
    "battery-short",
    "A battery drives thousands of amperes through a slipped spanner: insulated tools, no rings, fuse last.", practice};
const Caution lit_caution{
    "live-when-lit", "Panels are live whenever light falls on them, weak light too. Work by covered panels or at dusk.",
    practice};
const Caution measure_caution{"measure-first", "Reversed, or too high: do not go on. Find the wrong plug first.",
                              "IEC 62446-1 cl. 6.2 and 6.4: polarity before any other test"};
const Caution load_caution{
    "never-under-load",
    "PV connectors and fuse holders have no breaking capacity: nothing is pulled while current flows.", "IEC 62852"};
const Caution warm_caution{"warm-plugs",
                           "A warm, discoloured or crackling plug is an arc beginning: open the disconnect.", practice};

class StepMaker {
public:
    StepMaker(const Setup& setup, const Judgement& judgement) : setup_(setup), judgement_(judgement) {}

    StepList run() {
        if (judgement_.verdict.connection == Connection::forbidden) {
            add(list_.connect, "stop", "Do not build this wiring: it is outside the stated limits. See plait check.",
                {});
            return std::move(list_);
        }
        add(list_.connect, "lay-out",
            "Lay everything out: panels face down or covered, the disconnect open, every fuse holder open and empty. A "
            "single panel's plugs are live already.",
            highest_panel_v(), lit_caution);
        battery();
        for (const InputJudgement& one : judgement_.inputs) input(one);
        last();
        take_apart();
        return std::move(list_);
    }

private:
    // Each caution once, where it first matters: that of the voltage's band, and the step's own.
    void add(std::vector<Step>& list, std::string_view id, std::string text, std::optional<double> voltage_v,
             const std::optional<Caution>& own = {}) {
        Step step{id, std::move(text), voltage_v, {}};
        const auto say = [&](const Caution& c) {
            if (said_.insert(c.id).second) step.cautions.push_back(c);
        };
        if (voltage_v) say(voltage_caution(*voltage_v));
        if (own) say(*own);
        list.push_back(std::move(step));
    }

    const std::string& name(const InputJudgement& one) const { return setup_.controller.inputs[one.input].name; }

    void battery() {
        if (!setup_.controller.battery) {
            add(list_.connect, "controller", "Set up the controller or power station as its manual says; charging off.",
                {});
            return;
        }
        const double battery_v = setup_.controller.battery->max_voltage_v;
        add(list_.connect, "battery-cable",
            "Run the cable from the controller to the battery's fuse holder, which is empty; then the holder to the "
            "battery.",
            battery_v, battery_caution);
        add(list_.connect, "battery-fuse",
            "Measure polarity, then put in the battery's fuse. Battery first, panels second: the controller must know "
            "its "
            "voltage.",
            battery_v);
    }

    void input(const InputJudgement& one) {
        const std::size_t strings = one.wiring.strings.size();
        const double cold_v = one.wires.cold_voc_v;
        add(list_.connect, "dead-side",
            "Connect input " + name(one) + " to the open disconnect" +
                (strings > 1 ? ", and the disconnect to the joint of the strings" : std::string()) +
                ". No panel is connected yet.",
            {});
        for (std::size_t i = 0; i < strings; ++i) {
            // Equal strings are one step, wherever they stand: it is done for each of them.
            const auto begin = one.wiring.strings.begin();
            const auto here = begin + static_cast<std::ptrdiff_t>(i);
            if (std::find(begin, here, one.wiring.strings[i]) != here) continue;
            string(one, i);
        }
        if (strings > 1) {
            add(list_.connect, "compare",
                "Compare the " + std::to_string(strings) + " strings of " + name(one) +
                    ": their voltages agree within 5 %, all with the same polarity.",
                cold_v);
            add(list_.connect, "join",
                "Plug the strings into the joint, one after the other, the disconnect still open" +
                    (fuses_wanted(setup_, one.wires) ? std::string("; then put the fuses into their holders.")
                                                     : std::string(".")),
                cold_v, load_caution);
        } else {
            add(list_.connect, "join", "Plug the string into the cable to the disconnect, which is still open.", cold_v,
                load_caution);
        }
        add(list_.connect, "measure-at-disconnect",
            "Measure polarity and voltage at the open disconnect of " + name(one) + ", on the panels' side.", cold_v);
    }

    /// "the 3 strings", or by number where others stand beside them: "strings 1 and 3".
    static std::string these(const InputJudgement& one, const SeriesString& like) {
        std::vector<std::string> numbers;
        for (std::size_t i = 0; i < one.wiring.strings.size(); ++i) {
            if (one.wiring.strings[i] == like) numbers.push_back(std::to_string(i + 1));
        }
        if (numbers.size() == one.wiring.strings.size()) return "the " + std::to_string(numbers.size()) + " strings";
        std::string text = "strings " + numbers.front();
        for (std::size_t i = 1; i < numbers.size(); ++i) text += (i + 1 < numbers.size() ? ", " : " and ") + numbers[i];
        return text;
    }

    void string(const InputJudgement& one, std::size_t index) {
        const SeriesString& string = one.wiring.strings[index];
        const auto like =
            static_cast<std::size_t>(std::count(one.wiring.strings.begin(), one.wiring.strings.end(), string));
        const std::string which = like > 1 ? "each of " + these(one, string) + " of " + name(one)
                                  : one.wiring.strings.size() > 1
                                      ? "string " + std::to_string(index + 1) + " of " + name(one)
                                      : "the string of " + name(one);
        const std::size_t n = string.panels.size();
        const auto cold_of = [&](std::size_t from, std::size_t to) {
            SeriesString part;
            part.panels.assign(string.panels.begin() + static_cast<std::ptrdiff_t>(from),
                               string.panels.begin() + static_cast<std::ptrdiff_t>(to));
            return rules::string_cold_voc_v(setup_, part, setup_.site.cold_method);
        };
        const double whole_v = cold_of(0, n);
        if (n >= 2) {
            const std::size_t half = (n + 1) / 2;
            const double half_v = std::max(cold_of(0, half), cold_of(half, n));
            add(list_.connect, "halves",
                "In " + which + ", plug the panels together in two parts of " + std::to_string(half) + " and " +
                    std::to_string(n - half) + ", the plug between the parts open.",
                half_v);
            add(list_.connect, "close-string", "Close the plug in the middle of " + which + ". Both ends stay capped.",
                whole_v);
        }
        add(list_.connect, "measure-string",
            "Measure polarity and open-circuit voltage of " + which + " (" + rules::counted(n, "panel", "panels") +
                " in series).",
            whole_v, measure_caution);
    }

    void last() {
        add(list_.connect, "close-disconnect", "Uncover the panels and close the disconnect.", highest_v());
        add(list_.connect, "look",
            "Read the input's display against the meter readings of plait check; after an hour of sun feel that no "
            "plug is "
            "warm.",
            highest_v(), warm_caution);
    }

    void take_apart() {
        add(list_.take_apart, "stop-charging", "Stop the charging, then open the disconnect.", highest_v());
        add(list_.take_apart, "no-current", "See that no current flows, by the display or a clamp meter.", highest_v());
        add(list_.take_apart, "open-fuses",
            judgement_needs_fuses() ? "Open the string fuses, then pull the plugs at the joint."
                                    : "Pull the plugs between the strings and the disconnect.",
            highest_v());
        add(list_.take_apart, "cover-and-part",
            "Cover the panels; pull the plug in the middle of each string, then the others.", highest_v());
        if (setup_.controller.battery) {
            add(list_.take_apart, "battery-last", "Last, take out the battery's fuse and then its cable.",
                setup_.controller.battery->max_voltage_v);
        }
    }

    bool judgement_needs_fuses() const {
        return std::any_of(judgement_.inputs.begin(), judgement_.inputs.end(), [&](const InputJudgement& one) {
            return one.wiring.strings.size() > 1 && fuses_wanted(setup_, one.wires);
        });
    }

    double highest_panel_v() const {
        double v = 0.0;
        for (const InputJudgement& one : judgement_.inputs) {
            for (const SeriesString& string : one.wiring.strings) {
                for (const PanelPlace& place : string.panels) {
                    v = std::max(v, rules::string_cold_voc_v(setup_, {{place}, false}, setup_.site.cold_method));
                }
            }
        }
        return v;
    }

    double highest_v() const {
        double v = 0.0;
        for (const InputJudgement& one : judgement_.inputs) v = std::max(v, one.wires.cold_voc_v);
        return v;
    }

    const Setup& setup_;
    const Judgement& judgement_;
    StepList list_;
    std::set<std::string_view> said_;
};

}  // namespace

StepList steps_of(const Setup& setup, const Judgement& judgement) { return StepMaker(setup, judgement).run(); }

}  // namespace plait::study
