// A wiring may ask for more panels than there are.
#include "rules.hpp"
#include "words.hpp"

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"count"};
constexpr std::array<std::string_view, 1> sources{"the set-up file's count of panels"};

std::size_t used(const Situation& s, std::size_t kind) {
    std::size_t n = 0;
    for (const WiredInput& w : s.plan) n += w.wiring->panel_count(kind);
    return n;
}

void check(const Situation& s, Findings& out) {
    for (std::size_t kind = 0; kind < s.setup.kinds.size(); ++kind) {
        const double wanted = static_cast<double>(used(s, kind));
        if (wanted <= s.setup.kinds[kind].count) continue;
        Finding f = at_most(wanted, Interval(wanted), s.setup.kinds[kind].count, Unit::panel, Outcome::needs);
        f.kind = kind;
        out.push_back(f);
    }
}

Words say(const Situation& s, const Finding& f) {
    const std::string& id = s.setup.kinds[f.kind].id;
    Words w;
    w.because = fmt::format("The wiring uses {} of kind '{}'; on hand: {:.0f}.",
                            counted(static_cast<std::size_t>(f.value), "panel", "panels"), id, f.limit);
    w.instead = "Wiring fewer of them does it too.";
    return w;
}

Condition condition(const Situation&, const Finding& f) {
    return {ConditionKind::more_panels, static_cast<std::size_t>(f.value - f.limit), {}, f.kind, {}};
}

void cure(const Situation&, const Finding& f, Cures& out) {
    Cure cure;
    cure.kind = CureKind::more_panels;
    cure.panel_kind = f.kind;
    cure.count = static_cast<std::size_t>(f.value - f.limit);
    out.push_back(cure);
}

}  // namespace

constinit const Rule panels_on_hand{
    .id = "panels-on-hand",
    .title = "Panels on hand",
    .harm = "the wiring cannot be built",
    .tests = tests,
    .sources = sources,
    .rests_on = {},
    .scope = Scope::plan,
    .check = &check,
    .say = &say,
    .condition = &condition,
    .cure = &cure,
};

}  // namespace plait::rules
