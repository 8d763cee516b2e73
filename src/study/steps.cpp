// The order. What is bare is fastened while nothing is live; battery before panels, as manuals say (common practice, no
// source). Panels are covered while plugs are closed, and lit only to be measured: IEC 62446-1 has the continuity of
// the bonding first (cl. 6.1), then polarity (6.2), the combiner box with one fuse in (6.3), open-circuit voltage
// (6.4), currents (6.5) and the function (6.6) [6.1, 6.3 and one fuse: from memory]. A string is measured before it can
// drive another or the input. The disconnect closes last. Taking apart goes the other way.
#include <plait/study/steps.hpp>

#include "step_words.hpp"

#include <algorithm>
#include <cassert>
#include <set>

namespace plait::study {
namespace {

using A = Action;
using Actions = std::vector<Action>;

class StepMaker {
public:
    StepMaker(const Setup& setup, const Judgement& judgement, const WorkChoice& choice)
        : setup_(setup), judgement_(judgement), choice_(choice), plan_(setup.controller.inputs.size()) {
        site_.battery = setup.controller.battery ? BatteryLink::apart : BatteryLink::none;
        for (const InputJudgement& one : judgement.inputs) {
            plan_[one.input] = one.wiring;
            InputState& in = site_.inputs.emplace_back();
            in.string_count = one.wiring.strings.size();
            in.fuses = fused(one) ? StringFuses::out : StringFuses::not_fitted;
            in.disconnect = choice.disconnect ? Disconnect::open : Disconnect::not_fitted;
        }
        highest_v_ = highest_voltage_v(stated(), plan_);
    }

    StepList run() {
        into_ = &list_.connect;
        const Connection connection = judgement_.verdict.connection;
        if (connection == Connection::forbidden) {
            add({A::stop}, {}, "Do not build this wiring: it is outside the stated limits. See plait check.");
            return std::move(list_);
        }
        if (connection == Connection::may_exceed || connection == Connection::undecided) {
            add({A::stop}, {},
                connection == Connection::may_exceed
                    ? "Do not begin yet: a tolerance could carry this wiring past a limit. See plait check, and settle "
                      "it with the maker."
                    : "Do not begin yet: a limit that protects something is not known. See plait check, and ask the "
                      "maker.");
        }
        begin();
        for (std::size_t i = 0; i < judgement_.inputs.size(); ++i) connect(i);
        add({A::let_charge, A::watch}, {}, watch_words(judgement_), {"lithium-cold", "warm-plugs"});
        into_ = &list_.take_apart;
        take_apart();
        return std::move(list_);
    }

private:
    using Where = std::optional<std::size_t>;
    using Ids = std::vector<std::string_view>;

    rules::StatedArray stated() const { return {setup_, judgement_.curves}; }
    CautionScene caution_scene() const { return {setup_, plan_, highest_v_, judgement_.curves, judgement_.hot_spots}; }

    template <class F>
    void each_input(Where where, F f) const {
        if (where) return f(*where);
        for (std::size_t i = 0; i < judgement_.inputs.size(); ++i) f(i);
    }

    // One step of one or more actions, at one input or at all of them. Its voltage is the highest before, between and
    // after them.
    void add(const Actions& actions, Where where, std::string text, const Ids& own = {}) {
        Step step;
        step.id = record_of(actions.back()).id;
        step.text = std::move(text);
        step.actions = actions;
        step.input = where;
        step.before = site_;
        for (const Action action : actions) {
            const ActionRecord& record = record_of(action);
            step.contact = std::max(step.contact, record.contact);
            const auto raise = [&](std::size_t i) {
                const std::optional<double> v = voltage_at_v(record.place, site_, i, setup_, judgement_);
                if (v) step.voltage_v = std::max(*v, step.voltage_v.value_or(0.0));
            };
            each_input(where, [&](std::size_t i) {
                assert(std::all_of(record.needs.begin(), record.needs.end(),
                                   [&](Condition needed) { return holds(needed, site_, i); }) &&
                       "an action finds the state that it needs");
                raise(i);
            });
            each_input(where, [&](std::size_t i) { site_ = after(action, std::move(site_), i); });
            each_input(where, raise);
        }
        step.after = site_;
        if (step.contact != Contact::none && step.voltage_v) {
            step.for_qualified_person = *step.voltage_v > extra_low_limit_v ||
                                        (step.contact == Contact::bare && *step.voltage_v > dry_touch_limit_v);
        }
        add_cautions(step, own);
        into_->push_back(std::move(step));
    }

    // Each caution once, where it first matters: that of the voltage's band, then the step's own.
    void add_cautions(Step& step, const Ids& own) {
        const auto say = [&](Caution c) {
            if (said_.insert(c.id).second) step.cautions.push_back(std::move(c));
        };
        if (step.voltage_v) say(voltage_caution(*step.voltage_v, setup_));
        const CautionScene scene = caution_scene();
        for (const std::string_view id : own) {
            if (applies(id, scene)) say(caution(id, scene));
        }
    }

    static bool applies(std::string_view id, const CautionScene& scene) {
        const auto all = all_cautions();
        return std::any_of(all.begin(), all.end(),
                           [&](const CautionRecord& r) { return r.id == id && r.applies(scene); });
    }

    bool fused(const InputJudgement& one) const {
        return one.wiring.strings.size() > 1 && fuses_wanted(setup_, one.wires);
    }
    InputWords words(std::size_t i) const {
        const InputJudgement& one = judgement_.inputs[i];
        return {setup_, one, fused(one), choice_};
    }

    void begin() {
        add({A::set_up_controller}, {}, set_up_words(setup_, choice_));
        if (choice_.disconnect) {
            each_input({}, [&](std::size_t i) { add({A::fasten_input_cable}, i, words(i).fasten_cable()); });
        }
        if (applies("earthing", caution_scene())) {
            add({A::bond_frames}, {},
                "Bond and earth frames and rack where the local rule asks for it, and measure that the bond holds. No "
                "panel is plugged in yet.",
                {"falls", "earthing"});
        }
        if (setup_.controller.battery) {
            add({A::fasten_battery_cable}, {}, battery_cable_words(setup_), {"battery-short"});
            add({A::read_battery, A::battery_fuse_in}, {},
                "Measure polarity at the holder, then put in the battery's fuse: the controller has to know its "
                "battery "
                "before it sees a panel. From now on its solar terminals can be live too.",
                {"battery-first"});
        }
        add({A::lay_out}, {},
            "Put the panels in place, covered or face down, every plug open. In any light the plugs of a single panel "
            "are live.",
            {"live-when-lit"});
    }

    // A string above the touch limit is kept in two parts as long as possible.
    bool in_two_parts(const InputWiring& wiring) const {
        return std::any_of(wiring.strings.begin(), wiring.strings.end(), [&](const SeriesString& s) {
            return s.panels.size() > 1 && highest_voltage_v(stated(), s) > dry_touch_limit_v;
        });
    }

    void connect(std::size_t i) {
        const InputJudgement& one = judgement_.inputs[i];
        const InputWords say = words(i);
        const bool two_parts = in_two_parts(one.wiring);
        const bool parallel = one.wiring.strings.size() > 1;
        add({two_parts ? A::close_all_but_middle : A::close_strings}, i, say.plug_together(two_parts),
            {"same-connectors"});
        if (two_parts) add({A::close_middle}, i, say.close_middle());
        if (parallel) {
            add({A::uncover, A::read_strings}, i, say.read_strings(), {"measure-first", "equal-strings"});
            add({A::cover, A::join}, i, say.join(), {"same-connectors"});
        } else {
            add({A::join}, i, say.join(), {"same-connectors"});
        }
        if (fused(one)) {
            add({A::first_fuse_in}, i, say.first_fuse());
            const double reversed_v = voltage_at_v(Place::fuse_holders, site_, i, setup_, judgement_).value_or(0.0);
            add({A::uncover, A::read_across_holders}, i, say.read_holders(reversed_v));
            add({A::other_fuses_in}, i, say.other_fuses());
            add({A::read_array}, i, say.read_array(false), {"measure-first"});
        } else {
            add({A::uncover, A::read_array}, i, say.read_array(true), {"measure-first"});
        }
        if (choice_.disconnect) {
            add({A::close_disconnect}, i, say.connect());
        } else {
            add({A::cover, A::plug_into_input}, i, say.connect());
            add({A::uncover}, i, say.uncover());
        }
    }

    void take_apart() {
        add({A::stop_charging}, {}, "Switch the charging off at the controller.");
        each_input({}, [&](std::size_t i) {
            const InputWords say = words(i);
            if (choice_.disconnect) add({A::open_disconnect}, i, say.open_disconnect());
            add({A::cover, A::read_no_current}, i, say.cover_and_clamp(), {"never-under-load"});
            if (!choice_.disconnect) add({A::unplug_from_input}, i, say.unplug());
            if (fused(judgement_.inputs[i])) add({A::fuses_out}, i, say.fuses_out());
            add({A::part_joint}, i, say.part_joint());
            add({A::part_strings}, i, say.part_strings());
        });
        if (setup_.controller.battery) {
            add({A::battery_fuse_out}, {}, "Now take out the battery's fuse.");
            add({A::loosen_battery_cable}, {}, "Take the cable off the battery, and cover its poles.");
        }
        if (choice_.disconnect) {
            each_input({}, [&](std::size_t i) {
                add({A::read_no_voltage, A::loosen_input_cable}, i, words(i).loosen_cable());
            });
        }
    }

    const Setup& setup_;
    const Judgement& judgement_;
    WorkChoice choice_;
    ArrayPlan plan_;
    double highest_v_ = 0.0;
    SiteState site_;
    StepList list_;
    std::vector<Step>* into_ = nullptr;
    std::set<std::string_view> said_;
};

}  // namespace

StepList steps_of(const Setup& setup, const Judgement& judgement, const WorkChoice& choice) {
    return StepMaker(setup, judgement, choice).run();
}

}  // namespace plait::study
