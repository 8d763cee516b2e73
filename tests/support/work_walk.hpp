// Walks through an order of work as a person with a meter would, with a circuit of its own: which plug is closed, which
// source drives which metal. It knows what an action does to plugs, switches and fuses, and nothing of how the steps
// were made.
#pragma once

#include <plait/study/steps.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace support {

using namespace plait;
using namespace plait::study;

/// Pieces of metal and the sources between them.
class Circuit {
public:
    std::size_t node() {
        edges_.emplace_back();
        return edges_.size() - 1;
    }
    /// `to` stands `v` above `from`; 0: a closed plug.
    void connect(std::size_t from, std::size_t to, double v) {
        edges_[from].push_back({to, v});
        edges_[to].push_back({from, -v});
    }
    /// The widest difference of potential in everything that hangs together with one of these.
    [[nodiscard]] double range_v(const std::vector<std::size_t>& touched) const {
        double widest = 0.0;
        for (const std::size_t start : touched) {
            std::map<std::size_t, double> at{{start, 0.0}};
            std::vector<std::size_t> open{start};
            while (!open.empty()) {
                const std::size_t here = open.back();
                open.pop_back();
                for (const auto& [to, v] : edges_[here]) {
                    if (at.emplace(to, at[here] + v).second) open.push_back(to);
                }
            }
            double low = 0.0;
            double high = 0.0;
            for (const auto& entry : at) {
                low = std::min(low, entry.second);
                high = std::max(high, entry.second);
            }
            widest = std::max(widest, high - low);
        }
        return widest;
    }

private:
    std::vector<std::vector<std::pair<std::size_t, double>>> edges_;
};

struct WalkedInput {
    InputWiring wiring;
    bool covered = false;
    bool outer_plugs = false;  // within the strings, all but the middle one
    bool middle_plug = false;
    bool joint = false;
    bool has_fuses = false;
    std::size_t fuses_in = 0;
    bool has_disconnect = false;
    bool switch_closed = false;
    bool cable = false;  // between the disconnect, or the joint's plug, and the input
    bool strings_known = false;
    bool holders_known = false;
    bool array_known = false;
    bool currentless = false;

    [[nodiscard]] bool fused_through() const { return !has_fuses || fuses_in == wiring.strings.size(); }
    [[nodiscard]] bool passes() const { return cable && (!has_disconnect || switch_closed); }
    [[nodiscard]] bool drives_input() const {
        return outer_plugs && middle_plug && joint && (!has_fuses || fuses_in > 0) && passes();
    }
};

class Walk {
public:
    Walk(const Setup& setup, const Judgement& judgement, const WorkChoice& choice)
        : setup_(setup), curves_(judgement.curves) {
        for (const InputJudgement& one : judgement.inputs) {
            WalkedInput& in = inputs_.emplace_back();
            in.wiring = one.wiring;
            in.has_fuses = one.wiring.strings.size() > 1 && fuses_wanted(setup, one.wires);
            in.has_disconnect = choice.disconnect;
        }
        has_battery_ = setup.controller.battery.has_value();
    }

    void connect(const std::vector<Step>& steps) {
        for (const Step& step : steps) take(step);
        for (const WalkedInput& in : inputs_) {
            CHECK(in.drives_input());
            CHECK_FALSE(in.covered);
        }
        CHECK(battery_fuse_ == has_battery_);
        CHECK(charging_);
    }

    void take_apart(const std::vector<Step>& steps) {
        for (const Step& step : steps) take(step);
        for (const WalkedInput& in : inputs_) {
            CHECK_FALSE((in.outer_plugs || in.middle_plug || in.joint || in.switch_closed || in.cable));
            CHECK((!in.has_fuses || in.fuses_in == 0));
            CHECK(in.covered);
        }
        CHECK_FALSE((battery_cable_ || battery_fuse_ || charging_));
    }

private:
    void take(const Step& step) {
        CAPTURE(step.id, step.text);
        REQUIRE_FALSE(step.actions.empty());
        double most_v = 0.0;
        bool live_at_bare = false;
        for (const Action action : step.actions) {
            const ActionRecord& record = record_of(action);
            for (std::size_t i = 0; i < inputs_.size(); ++i) {
                if (step.input && *step.input != i) continue;
                const double before_v = voltage_v(record.place, i);
                check_before(action, i);
                act(action, i);
                const double after_v = voltage_v(record.place, i);
                most_v = std::max({most_v, before_v, after_v});
                if (record.contact == Contact::bare && std::max(before_v, after_v) > 60.0) live_at_bare = true;
                check_always(i);
            }
        }
        // The voltage said is the highest that the state allows, and nothing is said to be dead that is not.
        if (step.voltage_v) {
            CHECK(*step.voltage_v == Approx(most_v).epsilon(1e-9));
        } else {
            CHECK(most_v == 0.0);
        }
        if (live_at_bare) CHECK(step.for_qualified_person);
        if (step.contact != Contact::none && most_v > 120.0) CHECK(step.for_qualified_person);
    }

    // What must be so before somebody does this, by what it is, not by what the program says it needs.
    void check_before(Action action, std::size_t i) {
        WalkedInput& in = inputs_[i];
        CAPTURE(i, record_of(action).id);
        const bool parallel = in.wiring.strings.size() > 1;
        const bool handles_plugs = action == Action::close_all_but_middle || action == Action::close_middle ||
                                   action == Action::close_strings || action == Action::join ||
                                   action == Action::plug_into_input || action == Action::unplug_from_input ||
                                   action == Action::part_joint || action == Action::part_strings;
        if (handles_plugs) {
            CHECK(in.covered);
            CHECK_FALSE(charging_);
        }
        switch (action) {
            case Action::fasten_input_cable:
            case Action::loosen_input_cable:
                CHECK(voltage_v(Place::input_cable, i) == 0.0);
                break;
            case Action::fasten_battery_cable:
            case Action::loosen_battery_cable:
                CHECK_FALSE(battery_fuse_);
                CHECK_FALSE(in.drives_input());
                break;
            case Action::battery_fuse_in:
                CHECK(battery_cable_);
                CHECK(battery_known_);
                break;
            case Action::battery_fuse_out:
                CHECK_FALSE(in.drives_input());
                break;
            case Action::read_strings:
                // Each by itself, lit, and no current: nothing at its ends.
                CHECK((!in.covered && in.outer_plugs && in.middle_plug && !in.joint));
                break;
            case Action::join:
                CHECK((!parallel || in.strings_known));
                CHECK((!in.has_fuses || in.fuses_in == 0));
                CHECK_FALSE((in.passes() && in.has_disconnect));
                break;
            case Action::first_fuse_in:
                CHECK((in.has_fuses && in.strings_known && in.joint));
                CHECK_FALSE(in.passes());
                break;
            case Action::read_across_holders:
                CHECK((!in.covered && in.joint && in.fuses_in == 1));
                CHECK_FALSE(in.passes());
                break;
            case Action::other_fuses_in:
                CHECK((in.strings_known && in.holders_known));
                CHECK_FALSE(in.passes());
                break;
            case Action::read_array:
                CHECK((!in.covered && in.joint && in.fused_through()));
                CHECK_FALSE(in.passes());
                break;
            case Action::close_disconnect:
            case Action::plug_into_input:
                CHECK((in.array_known && in.joint && in.fused_through()));
                CHECK(battery_fuse_ == has_battery_);
                CHECK_FALSE(charging_);
                break;
            case Action::let_charge:
                CHECK(in.drives_input());
                break;
            case Action::watch:
                CHECK((in.drives_input() && !in.covered && charging_));
                break;
            case Action::open_disconnect:
                CHECK_FALSE(charging_);
                break;
            case Action::read_no_current:
                // It is true, whatever the strings would drive through each other in the light.
                CHECK((in.covered && !charging_));
                break;
            case Action::unplug_from_input:
                CHECK(in.currentless);
                break;
            case Action::fuses_out:
            case Action::part_joint:
                CHECK((in.currentless && in.covered && !in.passes()) == true);
                break;
            case Action::read_no_voltage:
                CHECK(voltage_v(Place::input_cable, i) == 0.0);
                break;
            default:
                break;
        }
    }

    // What holds in every state.
    void check_always(std::size_t i) {
        const WalkedInput& in = inputs_[i];
        // The array is never on an input whose battery is away.
        if (in.drives_input() && has_battery_) CHECK(battery_fuse_);
        // Strings that can drive each other have been measured.
        if (in.joint && in.wiring.strings.size() > 1) CHECK(in.strings_known);
        if (in.has_fuses && in.fuses_in > 1) CHECK(in.holders_known);
        if (in.drives_input()) CHECK(in.array_known);
    }

    void act(Action action, std::size_t i) {
        WalkedInput& in = inputs_[i];
        switch (action) {
            case Action::lay_out:
            case Action::cover:
                in.covered = true;
                break;
            case Action::uncover:
                in.covered = false;
                in.currentless = false;
                break;
            case Action::fasten_input_cable:
            case Action::plug_into_input:
                in.cable = true;
                break;
            case Action::unplug_from_input:
            case Action::loosen_input_cable:
                in.cable = false;
                break;
            case Action::fasten_battery_cable:
                battery_cable_ = true;
                break;
            case Action::loosen_battery_cable:
                battery_cable_ = false;
                battery_known_ = false;
                break;
            case Action::read_battery:
                battery_known_ = true;
                break;
            case Action::battery_fuse_in:
                battery_fuse_ = true;
                break;
            case Action::battery_fuse_out:
                battery_fuse_ = false;
                break;
            case Action::close_all_but_middle:
                in.outer_plugs = true;
                break;
            case Action::close_middle:
                in.middle_plug = true;
                break;
            case Action::close_strings:
                in.outer_plugs = in.middle_plug = true;
                break;
            case Action::part_strings:
                in.outer_plugs = in.middle_plug = in.strings_known = false;
                break;
            case Action::read_strings:
                in.strings_known = true;
                break;
            case Action::join:
                in.joint = true;
                break;
            case Action::part_joint:
                in.joint = in.holders_known = in.array_known = false;
                break;
            case Action::first_fuse_in:
                in.fuses_in = 1;
                break;
            case Action::other_fuses_in:
                in.fuses_in = in.wiring.strings.size();
                break;
            case Action::fuses_out:
                in.fuses_in = 0;
                break;
            case Action::read_across_holders:
                in.holders_known = true;
                break;
            case Action::read_array:
                in.array_known = true;
                break;
            case Action::close_disconnect:
                in.switch_closed = true;
                break;
            case Action::open_disconnect:
                in.switch_closed = false;
                break;
            case Action::read_no_current:
                in.currentless = true;
                break;
            case Action::let_charge:
                charging_ = true;
                break;
            case Action::stop_charging:
                charging_ = false;
                break;
            default:
                break;
        }
    }

    // The coldest morning, the top of the tolerance: worked out here once more.
    [[nodiscard]] double panel_v(const PanelPlace& place) const {
        const double one_v = highest_voltage_v({setup_, curves_}, SeriesString{{place}, false});
        REQUIRE(one_v > 0.0);
        return one_v;
    }

    [[nodiscard]] double voltage_v(Place place, std::size_t i) const {
        const WalkedInput& in = inputs_[i];
        if (place == Place::frames) return 0.0;
        if (place == Place::battery_poles) return has_battery_ ? setup_.controller.battery->max_voltage_v : 0.0;
        double widest = 0.0;
        const std::size_t strings = in.wiring.strings.size();
        for (std::size_t a = 0; a < strings; ++a) {
            widest = std::max(widest, touched_v(place, in, {a}, false));
            if (place != Place::fuse_holders || in.holders_known || !in.joint) continue;
            for (std::size_t b = 0; b < strings; ++b) {
                if (a != b) widest = std::max(widest, touched_v(place, in, {a, b}, true));
            }
        }
        return std::max(widest, touched_v(place, in, {}, false));
    }

    // With these strings and no others in the light; with none, what the battery does. Of two, one is the wrong way
    // round.
    [[nodiscard]] double touched_v(Place place, const WalkedInput& in, const std::vector<std::size_t>& lit,
                                   bool one_reversed) const {
        Circuit c;
        const std::size_t joint_minus = c.node();
        const std::size_t joint_plus = c.node();
        const std::size_t input_minus = c.node();
        const std::size_t input_plus = c.node();
        if (in.passes()) {
            c.connect(joint_minus, input_minus, 0.0);
            c.connect(joint_plus, input_plus, 0.0);
        }
        if (lit.empty() && battery_fuse_) {
            c.connect(input_minus, input_plus, setup_.controller.battery->max_voltage_v);
        }
        std::vector<std::size_t> plugs;
        std::vector<std::size_t> ends;
        for (std::size_t n = 0; n < lit.size(); ++n) {
            const SeriesString& string = in.wiring.strings[lit[n]];
            const std::size_t count = string.panels.size();
            const double sign = one_reversed && n == 1 ? -1.0 : 1.0;
            std::size_t last_plus = 0;
            for (std::size_t p = 0; p < count; ++p) {
                const std::size_t minus = c.node();
                const std::size_t plus = c.node();
                c.connect(minus, plus, sign * panel_v(string.panels[p]));
                const bool middle = p == (count + 1) / 2;
                if (p > 0 && (middle ? in.middle_plug : in.outer_plugs)) c.connect(last_plus, minus, 0.0);
                plugs.push_back(minus);
                plugs.push_back(plus);
                if (p == 0) ends.push_back(minus);
                if (p + 1 == count) ends.push_back(plus);
                if (p == 0 && in.joint) c.connect(minus, joint_minus, 0.0);
                const bool through = in.fused_through() || (in.fuses_in == 1 && n == 0);
                if (p + 1 == count && in.joint && through) c.connect(plus, joint_plus, 0.0);
                last_plus = plus;
            }
        }
        if (lit.empty() && in.joint) {
            plugs = ends = {joint_minus, joint_plus};  // what is joined hangs on the battery too
        }
        switch (place) {
            case Place::panels:
            case Place::panel_plugs:
                return c.range_v(plugs);
            case Place::string_ends:
                return c.range_v(ends);
            case Place::fuse_holders:
                if (in.joint) ends.insert(ends.end(), {joint_minus, joint_plus});
                return in.joint ? c.range_v(ends) : c.range_v({joint_minus, joint_plus});
            case Place::array_side:
                return c.range_v({joint_minus, joint_plus});
            case Place::nowhere:
            case Place::disconnect_handle:
            case Place::input_cable:
                return c.range_v({joint_minus, joint_plus, input_minus, input_plus});
            default:
                return 0.0;
        }
    }

    const Setup& setup_;
    const std::vector<physics::FittedPanel>& curves_;
    std::vector<WalkedInput> inputs_;
    bool has_battery_ = false;
    bool battery_cable_ = false;
    bool battery_known_ = false;
    bool battery_fuse_ = false;
    bool charging_ = false;
};

/// Both lists, one after the other, and each step beginning where the one before it ended.
inline void walk_through(const Setup& setup, const Judgement& judgement, const WorkChoice& choice) {
    const StepList list = steps_of(setup, judgement, choice);
    Walk walk(setup, judgement, choice);
    walk.connect(list.connect);
    walk.take_apart(list.take_apart);
}

}  // namespace support
