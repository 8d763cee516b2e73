#include "commands.hpp"

#include <plait/input/read_field.hpp>
#include <plait/measured/diagnosis.hpp>
#include <plait/output/expect.hpp>
#include <plait/output/page.hpp>

namespace plait::cli {

CommandResult expect(const Options& o, const Setup& setup, output::Colour colour) {
    const Result<ArrayPlan> plan = chosen_plan(o, setup);
    if (!plan) return refused(plan.error());
    Result<FieldConditions> conditions = input::read_field_conditions(o.field);
    Result<std::vector<MeterReading>> readings = input::read_readings(o.readings, "--read", setup, *plan);
    if (!conditions || !readings) {
        Diagnostics all = conditions ? Diagnostics{} : conditions.error();
        if (!readings) all.insert(all.end(), readings.error().begin(), readings.error().end());
        return refused(all);
    }
    const study::SystemModel system(setup);
    const measured::FieldModel model(system, *plan, *conditions);
    const measured::CommissioningCard card = measured::commissioning_card(model);
    bool stop = card.plan_outcome == rules::Outcome::exceeds;
    const auto with_page = [&](CommandResult result, const measured::Diagnosis* diagnosis) {
        if (!o.page.empty())
            result.files.push_back({o.page, output::expect_page(model, card, diagnosis), output::page_mark});
        return result;
    };
    if (readings->empty()) {
        return with_page(
            {stop ? Exit::limit_broken : Exit::all_within,
             o.json ? output::expect_json(model, card, nullptr) : output::expect_text(model, card, colour), ""},
            nullptr);
    }
    const measured::Diagnosis diagnosis = measured::diagnose(model, *readings);
    stop = stop || !diagnosis.pass();
    return with_page(
        {stop ? Exit::limit_broken : Exit::all_within,
         o.json ? output::expect_json(model, card, &diagnosis) : output::readings_text(model, card, diagnosis, colour),
         ""},
        &diagnosis);
}

}  // namespace plait::cli
