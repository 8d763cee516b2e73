#include "step_words.hpp"

#include "plain_number.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace plait::study {
namespace {

std::string listed(const std::vector<std::string>& words) {
    std::string text = words.front();
    for (std::size_t i = 1; i < words.size(); ++i) text += (i + 1 < words.size() ? ", " : " and ") + words[i];
    return text;
}

std::string panels(std::size_t n) { return rules::counted(n, "panel", "panels"); }

bool all_equal(const InputWiring& wiring) {
    return std::all_of(wiring.strings.begin(), wiring.strings.end(),
                       [&](const SeriesString& s) { return s == wiring.strings.front(); });
}

}  // namespace

InputWords::InputWords(const Setup& setup, const InputJudgement& one, bool fused, const WorkChoice& choice)
    : wiring_(&one.wiring),
      name_(setup.controller.inputs[one.input].name),
      parallel_(one.wiring.strings.size() > 1),
      fused_(fused),
      disconnect_(choice.disconnect) {}

std::string InputWords::strings() const {
    const std::vector<SeriesString>& all = wiring_->strings;
    if (!parallel_) return "the string of " + panels(all.front().panels.size());
    std::vector<std::size_t> lengths;
    for (const SeriesString& s : all) {
        if (std::find(lengths.begin(), lengths.end(), s.panels.size()) == lengths.end()) {
            lengths.push_back(s.panels.size());
        }
    }
    if (lengths.size() == 1) return "the " + std::to_string(all.size()) + " strings of " + panels(lengths[0]) + " each";
    std::vector<std::string> kinds;
    for (const std::size_t length : lengths) {
        std::vector<std::string> numbers;
        for (std::size_t s = 0; s < all.size(); ++s) {
            if (all[s].panels.size() == length) numbers.push_back(std::to_string(s + 1));
        }
        kinds.push_back((numbers.size() > 1 ? "strings " : "string ") + listed(numbers) + " of " + panels(length) +
                        (numbers.size() > 1 ? " each" : ""));
    }
    return listed(kinds);
}

std::string InputWords::fasten_cable() const {
    std::string text = "Fasten the cable from " + name_ + " to its disconnect, which is open";
    if (parallel_) text += ", and from there to the joint of the strings";
    if (fused_) text += ", where every fuse holder is empty";
    return text + ". No panel and no battery is connected yet.";
}

std::string InputWords::plug_together(bool all_but_middle) const {
    const std::string ends = parallel_ ? "Cap both ends of each string." : "Cap both ends of the string.";
    if (wiring_->longest_string() == 1) {
        return std::string("For ") + name_ + (parallel_ ? ", each panel" : ", the one panel") +
               " is a string by itself: plug on its cable, if it has one, with the panel still covered. " + ends;
    }
    std::string text = "For " + name_ + ", plug together " + strings() + ", still covered";
    if (all_but_middle) {
        text +=
            parallel_ ? ", but leave the plug in the middle of each open" : ", but leave the plug in the middle open";
    }
    return text + ". " + ends;
}

std::string InputWords::close_middle() const {
    return std::string("Close the plug in the middle of ") + (parallel_ ? "each string of " : "the string of ") +
           name_ + ", still covered.";
}

std::string InputWords::read_strings() const {
    std::string text = "Uncover the panels of " + name_ +
                       ". Measure polarity and open-circuit voltage of each string by itself at its own ends, in the "
                       "same light, and mark + and −.";
    return text +
           (all_equal(*wiring_) ? " They agree within 5 %." : " Hold each against what plait expect says of it.");
}

std::string InputWords::join() const {
    const std::string open = disconnect_ ? ", with the disconnect open" : "";
    if (!parallel_) {
        return disconnect_ ? "Plug the string of " + name_ + " into the cable to its disconnect, which is still open."
                           : "Plug the string of " + name_ +
                                 " onto the cable that leads to the input, if there is "
                                 "one. Its far end stays capped.";
    }
    return "Cover the panels again. Plug the strings of " + name_ + " into the joint one after the other" + open +
           (fused_ ? " and every fuse holder empty." : ".");
}

std::string InputWords::first_fuse() const {
    return "Put the fuse of one string of " + name_ + " into its holder, and no other.";
}

std::string InputWords::read_holders(double one_reversed_v) const {
    return "Uncover the panels. Measure across each holder of " + name_ +
           " that is still empty: near 0 V is right. About twice the voltage of a string, up to " +
           plain(rounded_up(one_reversed_v)) +
           " V, means that one of the two is reversed. Holders that no probe can reach: rely on the marks.";
}

std::string InputWords::other_fuses() const { return "Put in the other string fuses of " + name_ + "."; }

std::string InputWords::read_array(bool uncover) const {
    return std::string(uncover ? "Uncover the panels. " : "") + "Measure polarity and open-circuit voltage of " +
           name_ +
           (disconnect_ ? " at its open disconnect, on the panels' side."
                        : " at the plugs that will go into the input.");
}

std::string InputWords::connect() const {
    return disconnect_ ? "Close the disconnect of " + name_ + "."
                       : "Cover the panels again, and plug the array into " + name_ + ".";
}

std::string InputWords::uncover() const { return "Uncover the panels of " + name_ + "."; }

std::string InputWords::open_disconnect() const { return "Open the disconnect of " + name_ + "."; }

std::string InputWords::cover_and_clamp() const {
    return "Cover the panels of " + name_ + ". See with a clamp meter that no current flows in " +
           (parallel_ ? "any string, and none to the input." : "the cable.");
}

std::string InputWords::unplug() const { return "Pull the array's plugs out of " + name_ + " and cap them."; }

std::string InputWords::fuses_out() const { return "Take the string fuses of " + name_ + " out of their holders."; }

std::string InputWords::part_joint() const {
    return parallel_ ? "Pull the strings of " + name_ + " out of the joint, and cap both ends of each."
                     : "Pull the string of " + name_ + " off its cable, and cap both ends.";
}

std::string InputWords::part_strings() const {
    if (wiring_->longest_string() == 1) {
        return std::string("Take the cable off ") + (parallel_ ? "each panel of " : "the panel of ") + name_ +
               ", if it has one.";
    }
    return std::string("Pull the plug in the middle of ") + (parallel_ ? "each string of " : "the string of ") + name_ +
           " first, then the others, and cap them.";
}

std::string InputWords::loosen_cable() const {
    return "Measure at the terminals of " + name_ +
           " and of its disconnect that there is no voltage. Then take the cable off.";
}

std::string set_up_words(const Setup& setup, const WorkChoice& choice) {
    std::string text = setup.controller.battery
                           ? "Mount the controller as its manual says. Nothing is connected to it yet"
                           : "Set up the controller or power station as its manual says, with its solar charging off";
    if (!choice.disconnect) text += ". If an input has screw terminals, fasten a cable there that ends in plugs";
    return text + ".";
}

std::string battery_cable_words(const Setup& setup) {
    std::string text =
        "Fasten the cable from the controller to the battery's fuse holder, which is empty, and then the holder to the "
        "battery.";
    if (setup.controller.battery->max_voltage_v > dry_touch_limit_v) {
        text += " At this voltage the battery's poles are for a qualified person.";
    }
    return text;
}

std::string watch_words(const Judgement& judgement) {
    std::string text =
        "Switch the charging on. In steady sun, read the display and hold it against the meter readings of plait check";
    const bool clamp = std::any_of(judgement.inputs.begin(), judgement.inputs.end(), [](const InputJudgement& one) {
        return one.wiring.strings.size() > 1 && all_equal(one.wiring);
    });
    if (clamp) text += "; by a clamp meter the currents of equal strings agree within 5 %";
    return text + ". After an hour look at every plug, and touch none.";
}

}  // namespace plait::study
