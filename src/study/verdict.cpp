#include <plait/study/verdict.hpp>

#include <algorithm>

namespace plait::study {
namespace {

using rules::HeadlineShare;
using rules::Outcome;

enum Seen : unsigned {
    exceeds_proven = 1U << 0U,
    exceeds_unproven = 1U << 1U,
    may_exceed = 1U << 2U,
    limit_unknown = 1U << 3U,
    needs = 1U << 4U,
    connection_doubt = 1U << 5U,
    short_proven = 1U << 6U,
    short_unproven = 1U << 7U,
    clips = 1U << 8U,
    intake_doubt = 1U << 9U,
};

bool about_intake(Outcome broken) { return broken == Outcome::clips || broken == Outcome::falls_short; }

unsigned seen_in(const rules::Finding& f, bool assumed) {
    const bool proven = f.even_at_worst && !assumed;
    const unsigned doubt = about_intake(f.broken) ? intake_doubt : connection_doubt;
    switch (rules::headline_share(f)) {
        case HeadlineShare::forbids:
            return proven ? exceeds_proven : exceeds_unproven;
        case HeadlineShare::may_exceed:
            return may_exceed;
        case HeadlineShare::unknown_limit:
            return limit_unknown;
        case HeadlineShare::needs:
            return needs | (proven ? 0U : connection_doubt);
        case HeadlineShare::falls_short:
            return proven ? short_proven : short_unproven;
        case HeadlineShare::clips:
            return clips | (proven ? 0U : intake_doubt);
        case HeadlineShare::doubts:
            return doubt;
        case HeadlineShare::nothing:
            break;
    }
    return assumed ? doubt : 0U;
}

}  // namespace

void Tally::count(const rules::Finding& finding, bool assumed) { seen_ |= seen_in(finding, assumed); }

Answers Tally::answers() const {
    const auto any = [&](unsigned which) { return (seen_ & which) != 0U; };
    Answers a;
    a.connection_proven = !any(connection_doubt);
    if (any(exceeds_proven | exceeds_unproven)) {
        // One proven breach is enough, whatever else is doubtful.
        a.connection = Connection::forbidden;
        a.connection_proven = any(exceeds_proven);
    } else if (any(may_exceed)) {
        a.connection = Connection::may_exceed;
    } else if (any(limit_unknown)) {
        a.connection = Connection::undecided;
        a.connection_proven = false;
    } else if (any(needs)) {
        a.connection = Connection::once_added;
    }
    a.intake_proven = !any(intake_doubt);
    if (any(short_proven | short_unproven)) {
        a.intake = Intake::falls_short;
        a.intake_proven = any(short_proven);
    } else if (any(clips)) {
        a.intake = Intake::clipped;
    }
    return a;
}

void add_condition(std::vector<rules::Condition>& conditions, const rules::Condition& condition) {
    if (std::find(conditions.begin(), conditions.end(), condition) == conditions.end()) conditions.push_back(condition);
}

}  // namespace plait::study
