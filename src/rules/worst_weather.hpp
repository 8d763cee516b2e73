// The weather in which a rule about bright sun looks.
#pragma once

#include <plait/rules/rule.hpp>

namespace plait::rules {

/// The bright weather whose measure is greatest. Weak light never binds a limit that bright light keeps.
template <class Measure>
const ConditionPoint& worst_weather(const Situation& s, Measure measure) {
    const ConditionPoint* worst = &s.points().front();
    double most = measure(*worst);
    for (const ConditionPoint& p : s.points()) {
        if (p.id == ConditionId::weak_light) continue;
        const double here = measure(p);
        if (here > most) {
            most = here;
            worst = &p;
        }
    }
    return *worst;
}

}  // namespace plait::rules
