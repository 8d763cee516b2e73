// A plan is two answers: may it be connected, and what does the input then take. They are kept apart, so that a plan
// that takes less than it could never hides that it lacks a fuse.
#pragma once

#include <plait/base/names.hpp>
#include <plait/rules/condition.hpp>
#include <plait/rules/finding.hpp>

#include <optional>
#include <string_view>
#include <vector>

namespace plait::study {

/// May the plan be connected? No order: ask by name.
enum class Connection {
    allowed,     ///< within every limit that protects something
    once_added,  ///< within them once every condition is met
    undecided,   ///< a limit that protects something is not known
    may_exceed,  ///< within on the nominal figures; a stated tolerance passes a limit
    forbidden,   ///< outside a limit that must never be passed
};

/// What does the input then take?
enum class Intake {
    all,          ///< everything the array behind its cables can give
    clipped,      ///< less
    falls_short,  ///< the array does not reach what the input needs
};

struct Answers {
    Connection connection = Connection::allowed;
    Intake intake = Intake::all;
    bool connection_proven = true;  ///< no stated tolerance and no assumed value is behind the first answer
    bool intake_proven = true;      ///< … the second

    [[nodiscard]] bool proven() const {
        return connection == Connection::forbidden ? connection_proven : connection_proven && intake_proven;
    }
    /// Nothing forbids it and it works: what a search may advise, if need be with conditions.
    [[nodiscard]] bool usable() const { return connection != Connection::forbidden && intake != Intake::falls_short; }
    /// The same, and no tolerance carries it past a limit that protects something, nor is one unknown.
    [[nodiscard]] bool holds() const {
        return usable() && (connection == Connection::allowed || connection == Connection::once_added);
    }
    /// It may be connected as it is, and works: what the exit code 0 says.
    [[nodiscard]] bool ready() const { return connection == Connection::allowed && intake != Intake::falls_short; }

    friend bool operator==(const Answers& a, const Answers& b) {
        return a.connection == b.connection && a.intake == b.intake && a.connection_proven == b.connection_proven &&
               a.intake_proven == b.intake_proven;
    }
};

/// The answers with what goes with them: the whole of a headline.
struct Verdict : Answers {
    std::vector<rules::Condition>
        conditions;  ///< each once, in the order of the rules; also where something forbids the plan
    double clipped_ratio =
        0.0;  ///< of what the array could give over the light of a year, not taken for the input's limits
    bool could_exceed =
        false;  ///< a plausible value of an assumed figure carries a plan that nothing forbids past a limit
                ///< that must never be passed; known where figures were looked up (study/look_up.hpp)

    [[nodiscard]] bool ready() const { return Answers::ready() && !could_exceed; }
};

inline constexpr Names connection_names{
    Name{Connection::allowed, "allowed"},     Name{Connection::once_added, "once-added"},
    Name{Connection::undecided, "undecided"}, Name{Connection::may_exceed, "may-exceed"},
    Name{Connection::forbidden, "forbidden"},
};
[[nodiscard]] constexpr std::string_view name_of(Connection connection) {
    return name_in(connection_names, connection);
}

inline constexpr Names intake_names{
    Name{Intake::all, "all"},
    Name{Intake::clipped, "clipped"},
    Name{Intake::falls_short, "falls-short"},
};
[[nodiscard]] constexpr std::string_view name_of(Intake intake) { return name_in(intake_names, intake); }

/// Adds a condition unless it is there.
void add_condition(std::vector<rules::Condition>& conditions, const rules::Condition& condition);

/// What a set of findings comes to. One place, so that the ranking and the full judgement cannot disagree.
class Tally {
public:
    /// A deciding finding; `assumed`: it rests on an assumed value.
    void count(const rules::Finding& finding, bool assumed);
    void merge(const Tally& other) { seen_ |= other.seen_; }
    [[nodiscard]] Answers answers() const;

private:
    unsigned seen_ = 0;
};

}  // namespace plait::study
