#include <plait/rules/finding.hpp>

#include <plait/base/names.hpp>

#include <plait/base/constants.hpp>

#include <array>
#include <cmath>

namespace plait::rules {
namespace {

bool holds(double value, double limit, Sense sense) {
    const double slack = rounding_ratio * std::abs(limit);
    return sense == Sense::at_most ? value <= limit + slack : value >= limit - slack;
}

Finding compare(double value, Interval spread, double limit, Unit unit, Sense sense, Outcome broken) {
    Finding f;
    f.value = value;
    f.spread = spread;
    f.limit = limit;
    f.unit = unit;
    f.sense = sense;
    f.broken = broken;
    if (!std::isfinite(value) || !std::isfinite(limit)) return f;
    const bool good = holds(value, limit, sense);
    f.outcome = good ? Outcome::within : broken;
    // Papers that do not say enough prove nothing, however far beyond the limit the value is.
    f.even_at_worst = f.outcome != Outcome::undecided && holds(spread.lower(), limit, sense) == good &&
                      holds(spread.upper(), limit, sense) == good;
    return f;
}

}  // namespace

Finding at_most(double value, Interval spread, double limit, Unit unit, Outcome broken) {
    return compare(value, spread, limit, unit, Sense::at_most, broken);
}

Finding at_least(double value, Interval spread, double limit, Unit unit, Outcome broken) {
    return compare(value, spread, limit, unit, Sense::at_least, broken);
}

HeadlineShare headline_share(const Finding& f) {
    switch (f.outcome) {
        case Outcome::exceeds:
            return HeadlineShare::forbids;
        case Outcome::needs:
            return HeadlineShare::needs;
        case Outcome::falls_short:
            return HeadlineShare::falls_short;
        case Outcome::clips:
            return HeadlineShare::clips;
        case Outcome::undecided:
            // A limit that protects something but is not stated; where only the harm is unknown, a doubt.
            return f.broken == Outcome::exceeds ? HeadlineShare::unknown_limit : HeadlineShare::doubts;
        case Outcome::within:
            break;
    }
    // Within on paper, but the stated tolerance may reach past a limit that must never be passed.
    if (f.exceeds_by_tolerance()) return HeadlineShare::may_exceed;
    return f.even_at_worst ? HeadlineShare::nothing : HeadlineShare::doubts;
}

std::string_view symbol_of(Unit unit) {
    static constexpr Names names{
        Name{Unit::volt, "V"},       Name{Unit::ampere, "A"},       Name{Unit::watt, "W"},
        Name{Unit::panel, "panels"}, Name{Unit::string, "strings"},
    };
    return name_in(names, unit);
}

}  // namespace plait::rules
