#include <plait/rules/cure_search.hpp>

#include <plait/rules/catalogue.hpp>

#include <algorithm>
#include <utility>

namespace plait::rules {
namespace {

constexpr std::size_t most_tried = 60;

/// What is broken, or may be by the tolerances, of the limits that must not be passed: by rule and unit, so that the
/// volts and the amperes of one rule stay apart. What is broken for certain is listed as that too.
struct BrokenLimit {
    const Rule* rule = nullptr;
    Unit unit = Unit::volt;
    bool certain = false;

    friend bool operator==(const BrokenLimit& a, const BrokenLimit& b) {
        return a.rule == b.rule && a.unit == b.unit && a.certain == b.certain;
    }
};
using Broken = std::vector<BrokenLimit>;

bool holds(const Broken& list, const BrokenLimit& one) {
    return std::find(list.begin(), list.end(), one) != list.end();
}
bool all_among(const Broken& part, const Broken& all) {
    return std::all_of(part.begin(), part.end(), [&](const auto& one) { return holds(all, one); });
}

/// The input with another wiring, beside the others as they are. Curves are not solved for it.
class OtherWiring {
public:
    OtherWiring(const Situation& s, const InputWiring& wiring)
        : plan_(s.plan.begin(), s.plan.end()), setup_(s.setup), curves_(s.curves), here_{s.here.input, &wiring, nullptr} {
        for (WiredInput& w : plan_) {
            if (w.input == here_.input) w = here_;
        }
    }

    [[nodiscard]] Situation situation() const { return {setup_, here_, plan_, curves_}; }

    [[nodiscard]] Broken broken() const {
        Broken list;
        Findings findings;
        for (const Rule* rule : all_rules()) {
            if (rule->asks_curves) continue;
            findings.clear();
            rule->check(situation(), findings);
            for (const Finding& f : findings) {
                if (!f.exceeds_at_worst()) continue;
                if (!holds(list, {rule, f.unit, false})) list.push_back({rule, f.unit, false});
                const BrokenLimit certain{rule, f.unit, true};
                if (f.outcome == Outcome::exceeds && !holds(list, certain)) list.push_back(certain);
            }
        }
        return list;
    }

    /// Whether the finding is met even at worst, or there is none any more.
    [[nodiscard]] bool meets(const Rule& rule, const Finding& f) const {
        Findings findings;
        rule.check(situation(), findings);
        return std::all_of(findings.begin(), findings.end(), [&](const Finding& now) {
            const bool same = now.unit == f.unit && now.sense == f.sense && now.decides == f.decides;
            return !same || (now.outcome == Outcome::within && now.even_at_worst);
        });
    }

private:
    std::vector<WiredInput> plan_;
    const Setup& setup_;
    std::span<const physics::FittedPanel> curves_;
    WiredInput here_;
};

/// The most of 1 … `high` that `wiring_of` makes a wiring of which meets the finding, breaks nothing that 1 does not
/// break too, and nothing that is kept now.
template <class WiringOf>
std::optional<std::size_t> most_of(const Situation& s, const Rule& rule, const Finding& f, std::size_t high,
                                   WiringOf wiring_of) {
    const InputWiring least = wiring_of(std::size_t{1});
    const Broken always = OtherWiring(s, least).broken();
    const Broken now = OtherWiring(s, s.wiring()).broken();
    for (std::size_t n = high; n >= 1; --n) {
        const InputWiring wiring = wiring_of(n);
        const OtherWiring other(s, wiring);
        if (!other.meets(rule, f)) continue;
        const Broken broken = other.broken();
        if (all_among(broken, always) && all_among(broken, now)) return n;
    }
    return std::nullopt;
}

Cure cure_of(CureKind kind, const Situation& s, std::size_t count) {
    Cure cure;
    cure.kind = kind;
    cure.input = s.here.input;
    cure.count = count;
    return cure;
}

}  // namespace

InputWiring cut_to(const InputWiring& wiring, std::size_t in_series) {
    InputWiring cut = wiring;
    for (SeriesString& string : cut.strings) {
        if (string.panels.size() > in_series) string.panels.resize(in_series);
    }
    return cut;
}

InputWiring grown_to(const InputWiring& wiring, std::size_t in_series) {
    InputWiring grown = wiring;
    for (SeriesString& string : grown.strings) {
        if (string.panels.empty() || string.panels.size() >= in_series) continue;
        const PanelPlace last = string.panels.back();
        string.panels.resize(in_series, last);
    }
    return grown;
}

InputWiring first_strings(const InputWiring& wiring, std::size_t strings) {
    InputWiring fewer = wiring;
    if (fewer.strings.size() > strings) fewer.strings.resize(strings);
    return fewer;
}

std::optional<std::size_t> most_in_series(const Situation& s, const Rule& rule, const Finding& f) {
    const std::size_t now = s.wiring().longest_string();
    if (now < 2) return std::nullopt;
    return most_of(s, rule, f, now - 1, [&](std::size_t n) { return cut_to(s.wiring(), n); });
}

std::optional<std::size_t> most_strings(const Situation& s, const Rule& rule, const Finding& f) {
    const std::size_t now = s.wiring().strings.size();
    if (now < 2) return std::nullopt;
    return most_of(s, rule, f, now - 1, [&](std::size_t n) { return first_strings(s.wiring(), n); });
}

std::optional<std::size_t> least_in_series(const Situation& s, const Rule& rule, const Finding& f) {
    const Broken now = OtherWiring(s, s.wiring()).broken();
    std::size_t shortest = most_tried;
    for (const SeriesString& string : s.wiring().strings) shortest = std::min(shortest, string.panels.size());
    for (std::size_t n = shortest + 1; n <= most_tried; ++n) {
        const InputWiring wiring = grown_to(s.wiring(), n);
        const OtherWiring other(s, wiring);
        if (!all_among(other.broken(), now)) return std::nullopt;  // and more would break it all the more
        if (other.meets(rule, f)) return n;
    }
    return std::nullopt;
}

std::size_t longest_string(const Situation& s, std::size_t kind, std::size_t in_parallel) {
    const auto wiring_of = [&](std::size_t n) {
        return written_out({kind, static_cast<int>(n), static_cast<int>(in_parallel)});
    };
    const auto only_volts = [](Broken list) {
        list.erase(std::remove_if(list.begin(), list.end(), [](const auto& one) { return one.unit != Unit::volt; }),
                   list.end());
        return list;
    };
    // More panels never lower a voltage, so the first that breaks a limit ends it. What breaks with one panel already and
    // is no matter of volts (too many strings) would never end.
    std::size_t longest = 0;
    Broken always;
    for (std::size_t n = 1; n <= most_tried; ++n) {
        const InputWiring wiring = wiring_of(n);
        const Broken broken = OtherWiring(s, wiring).broken();
        if (!only_volts(broken).empty()) break;
        if (n == 1) always = broken;
        if (!all_among(broken, always)) break;
        longest = n;
    }
    return longest;
}

void add_fewer_in_series(const Situation& s, const Rule& rule, const Finding& f, Cures& out) {
    if (const auto most = most_in_series(s, rule, f)) out.push_back(cure_of(CureKind::fewer_in_series, s, *most));
}

void add_more_in_series(const Situation& s, const Rule& rule, const Finding& f, Cures& out) {
    if (const auto least = least_in_series(s, rule, f)) out.push_back(cure_of(CureKind::more_in_series, s, *least));
}

void add_fewer_strings(const Situation& s, const Rule& rule, const Finding& f, Cures& out) {
    if (const auto most = most_strings(s, rule, f)) out.push_back(cure_of(CureKind::fewer_strings, s, *most));
}

}  // namespace plait::rules
