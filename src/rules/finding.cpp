#include <plait/rules/finding.hpp>

#include <plait/base/constants.hpp>

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
    f.even_at_worst = f.outcome != Outcome::undecided && holds(spread.lower(), limit, sense) == good && holds(spread.upper(), limit, sense) == good;
    return f;
}

}  // namespace

Finding at_most(double value, Interval spread, double limit, Unit unit, Outcome broken) {
    return compare(value, spread, limit, unit, Sense::at_most, broken);
}

Finding at_least(double value, Interval spread, double limit, Unit unit, Outcome broken) {
    return compare(value, spread, limit, unit, Sense::at_least, broken);
}

int gravity(Outcome outcome) {
    switch (outcome) {
        case Outcome::exceeds:
            return 5;
        case Outcome::needs:
            return 4;
        case Outcome::falls_short:
            return 3;
        case Outcome::undecided:
            return 2;
        case Outcome::clips:
            return 1;
        case Outcome::within:
            return 0;
    }
    return 0;
}

int gravity(const Finding& f) {
    return f.exceeds_by_tolerance() ? 2 * gravity(Outcome::needs) + 1 : 2 * gravity(f.outcome);
}

std::string_view name_of(Outcome outcome) {
    switch (outcome) {
        case Outcome::within:
            return "within";
        case Outcome::undecided:
            return "undecided";
        case Outcome::needs:
            return "needs";
        case Outcome::clips:
            return "clips";
        case Outcome::falls_short:
            return "falls-short";
        case Outcome::exceeds:
            return "exceeds";
    }
    return "";
}

std::string_view symbol_of(Unit unit) {
    switch (unit) {
        case Unit::volt:
            return "V";
        case Unit::ampere:
            return "A";
        case Unit::watt:
            return "W";
        case Unit::panel:
            return "panels";
        case Unit::string:
            return "strings";
    }
    return "";
}

}  // namespace plait::rules
