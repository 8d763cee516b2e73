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
        out.push_back(at_most(wanted, Interval(wanted), s.setup.kinds[kind].count, Unit::panel, Outcome::needs));
    }
}

Words say(const Situation&, const Finding& f) {
    Words w;
    w.because = fmt::format("The wiring uses {:.0f} panels of a kind of which {:.0f} are on hand.", f.value, f.limit);
    w.instead = fmt::format("Get {:.0f} more, or wire fewer.", f.value - f.limit);
    return w;
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
};

}  // namespace plait::rules
