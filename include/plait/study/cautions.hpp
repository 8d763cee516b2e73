// What to be careful of. One list for every report: each caution says when it applies, what it is for and whose word it
// is, and they come gravest first.
#pragma once

#include <plait/model/setup.hpp>
#include <plait/rules/figure.hpp>
#include <plait/study/hot_spots.hpp>

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace plait::study {

/// What can happen to somebody who does not follow a caution, from grave to slight.
enum class Harm { life, fire, damage, mistake };

/// What a person is doing when a caution matters. A report may show the first of each and fold the others.
enum class Moment {
    before_you_touch,
    on_the_roof,
    at_the_battery,
    while_joining,
    in_the_cold,
    in_use,
    by_the_code,
    last
};

struct Caution {
    std::string_view id;
    std::string text;
    std::string_view source;  ///< with a mark of trust: `[from memory]`, "common practice, no source"
    Harm harm = Harm::mistake;
    Moment moment = Moment::last;
};

/// Up to here bare parts are worked on, V DC, dry (IEC 60364-4-41 [from memory]).
inline constexpr double dry_touch_limit_v = 60.0;
/// The end of extra-low voltage, V DC (IEC 61140, IEC 60364-4-41 cl. 414 [from memory]).
inline constexpr double extra_low_limit_v = 120.0;

/// What a caution looks at.
struct CautionScene {
    const Setup& setup;
    const ArrayPlan& plan;
    double highest_v = 0.0;  ///< `highest_voltage_v` of the plan
    std::span<const physics::FittedPanel> curves{};  ///< of every kind of the set-up
    std::span<const HotSpot> hot_spots{};            ///< of the plan

    [[nodiscard]] rules::StatedArray stated() const { return {setup, curves}; }
};

/// One caution as data: when it applies and what it then says.
struct CautionRecord {
    std::string_view id;
    Harm harm;
    Moment moment;
    bool (*applies)(const CautionScene&);
    std::string (*text)(const CautionScene&);
    std::string_view source;
};

/// Every caution there is, gravest first. The last one leaves the last word to others and always applies.
[[nodiscard]] std::span<const CautionRecord> all_cautions();

/// What the last lines of a report, and the last caution, leave to others.
inline constexpr std::string_view deferral =
    "Arithmetic, not an approval: local code, manual and licensed electrician decide.";

/// The highest direct voltage between any two conductors of a plan's strings, V: on the coldest morning, by the site's
/// method, at the top of the panels' Voc tolerance, as `rules::array_cold_voc_v`. 0 for a plan without panels.
[[nodiscard]] double highest_voltage_v(const rules::StatedArray& stated, const ArrayPlan& plan);
/// The same of one string.
[[nodiscard]] double highest_voltage_v(const rules::StatedArray& stated, const SeriesString& string);

/// The cautions that apply to a plan, gravest first.
[[nodiscard]] std::vector<Caution> cautions_for(const rules::StatedArray& stated, const ArrayPlan& plan,
                                                std::span<const HotSpot> hot_spots = {});

/// The caution of that id, as it reads for a plan; its id must be in the list.
[[nodiscard]] Caution caution(std::string_view id, const CautionScene& scene);

/// What a voltage by itself calls for: the touch and arc bands.
[[nodiscard]] Caution voltage_caution(double voltage_v, const Setup& setup);

/// The cautions of one moment, gravest first.
struct CautionGroup {
    Moment moment = Moment::last;
    std::string_view title;  ///< "Before you touch anything"
    std::vector<Caution> cautions;
};

/// The same cautions by what a person does; the group with the gravest of them first.
[[nodiscard]] std::vector<CautionGroup> by_moment(const std::vector<Caution>& cautions);

[[nodiscard]] std::string_view title_of(Moment moment);

}  // namespace plait::study
