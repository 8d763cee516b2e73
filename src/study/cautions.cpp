#include <plait/study/cautions.hpp>

#include <plait/base/names.hpp>

#include <plait/rules/cold_methods.hpp>

#include <algorithm>
#include <array>
#include <cassert>

namespace plait::study {
namespace {

Caution spoken(const CautionRecord& record, const CautionScene& scene) {
    return {record.id, record.text(scene), record.source, record.harm, record.moment};
}

}  // namespace

double highest_voltage_v(const rules::StatedArray& stated, const SeriesString& string) {
    return rules::string_cold_voc_v(stated, string, stated.setup.site.cold_method).spread.upper();
}

double highest_voltage_v(const rules::StatedArray& stated, const ArrayPlan& plan) {
    double highest_v = 0.0;
    for (const InputWiring& wiring : plan) {
        highest_v = std::max(highest_v, rules::array_cold_voc_v(stated, wiring).spread.upper());
    }
    return highest_v;
}

std::vector<Caution> cautions_for(const rules::StatedArray& stated, const ArrayPlan& plan,
                                  std::span<const HotSpot> hot_spots) {
    const CautionScene scene{stated.setup, plan, highest_voltage_v(stated, plan), stated.curves, hot_spots};
    std::vector<Caution> list;
    for (const CautionRecord& record : all_cautions()) {
        if (record.applies(scene)) list.push_back(spoken(record, scene));
    }
    return list;
}

Caution caution(std::string_view id, const CautionScene& scene) {
    const auto all = all_cautions();
    const auto at = std::find_if(all.begin(), all.end(), [&](const CautionRecord& record) { return record.id == id; });
    assert(at != all.end() && "a caution is on the list");
    return spoken(*at, scene);
}

Caution voltage_caution(double voltage_v, const Setup& setup) {
    // The bands come first on the list, and one of them applies to every voltage.
    const ArrayPlan no_plan;
    const CautionScene scene{setup, no_plan, voltage_v};
    const auto all = all_cautions();
    const auto at = std::find_if(all.begin(), all.end(), [&](const CautionRecord& r) { return r.applies(scene); });
    assert(at != all.end());
    return spoken(*at, scene);
}

std::string_view title_of(Moment moment) {
    static constexpr Names names{
        Name{Moment::before_you_touch, "Before you touch anything"},
        Name{Moment::on_the_roof, "On the roof"},
        Name{Moment::at_the_battery, "At the battery"},
        Name{Moment::while_joining, "While you measure and join"},
        Name{Moment::in_the_cold, "When it is cold"},
        Name{Moment::in_use, "In use"},
        Name{Moment::by_the_code, "What the code asks for"},
        Name{Moment::last, "The last word"},
    };
    return name_in(names, moment);
}

std::vector<CautionGroup> by_moment(const std::vector<Caution>& cautions) {
    std::vector<CautionGroup> groups;
    for (const Caution& c : cautions) {
        auto at = std::find_if(groups.begin(), groups.end(),
                               [&](const CautionGroup& group) { return group.moment == c.moment; });
        if (at == groups.end()) at = groups.insert(groups.end(), {c.moment, title_of(c.moment), {}});
        at->cautions.push_back(c);
    }
    return groups;
}

}  // namespace plait::study
