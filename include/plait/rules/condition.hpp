// What must be added or known before a plan may be connected: the data behind the word NEEDS.
#pragma once

#include <plait/model/setup.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace plait::rules {

enum class ConditionKind {
    string_fuses,         ///< `count` of them, one a string, of at most `rating_a` each, or of `ratings_a`
    larger_string_fuses,  ///< of at least `rating_a` in place of those fitted
    panel_fuse_rating,    ///< the panels' maximum series fuse, which is not printed
    connectors,           ///< rated for at least `rating_a`
    branch_connectors,    ///< the same for the common leg behind a joint
    battery_fuse,         ///< of at least `rating_a` in place of the one fitted
    more_panels,          ///< `count` more of `panel_kind` than are on hand: no protection, but not yet to be built
};

struct Condition {
    ConditionKind kind = ConditionKind::string_fuses;
    std::size_t count = 0;               ///< pieces, where they are counted
    std::optional<double> rating_a;      ///< A
    std::optional<std::size_t> panel_kind;
    std::optional<std::size_t> input;    ///< of the controller; absent: of the whole plan
    std::vector<double> ratings_a{};     ///< where no one rating suits all strings: what each may have, by string

    friend bool operator==(const Condition& a, const Condition& b) {
        return a.kind == b.kind && a.count == b.count && a.rating_a == b.rating_a && a.panel_kind == b.panel_kind &&
               a.input == b.input && a.ratings_a == b.ratings_a;
    }
};

/// A name for programs: "string-fuses".
[[nodiscard]] std::string_view name_of(ConditionKind kind);

/// "3 string fuses of at most 15 A", "2 more panels (roof)"; names the input where the controller has several.
[[nodiscard]] std::string words_of(const Condition& condition, const Setup& setup);

}  // namespace plait::rules
