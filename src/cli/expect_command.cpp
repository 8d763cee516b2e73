#include "command.hpp"

#include <plait/input/read_field.hpp>
#include <plait/measured/commissioning_card.hpp>
#include <plait/measured/diagnosis.hpp>
#include <plait/measured/field_model.hpp>
#include <plait/output/data.hpp>
#include <plait/output/reports.hpp>

#include <optional>

namespace plait::cli {

CommandResult run_command(const ExpectOptions& o, Session& session) {
    const Result<Setup> setup = setup_of(o.file, session);
    if (!setup) return refused(setup.error());
    const Result<ArrayPlan> plan = chosen_plan(o, *setup);
    if (!plan) return refused(plan.error());
    Result<FieldConditions> conditions = input::read_field_conditions(o.field);
    Result<std::vector<MeterReading>> readings = input::read_readings(o.readings, "--read", *setup, *plan);
    if (!conditions || !readings) {
        Diagnostics all = conditions ? Diagnostics{} : conditions.error();
        if (!readings) all.insert(all.end(), readings.error().begin(), readings.error().end());
        return refused(all);
    }
    const study::SystemModel system(*setup);
    const measured::FieldModel model(system, *plan, *conditions);
    const measured::CommissioningCard card = measured::commissioning_card(model);
    std::optional<measured::Diagnosis> diagnosis;
    if (!readings->empty()) diagnosis = measured::diagnose(model, *readings);
    const measured::Diagnosis* const said = diagnosis ? &*diagnosis : nullptr;
    std::function<std::string()> data;
    if (o.form.json) data = [&] { return output::expect_json(model, card, said); };
    const bool stop = !card.plan_verdict.ready() || (said != nullptr && !said->pass());
    return shown(stop ? Exit::limit_broken : Exit::all_within, o.form, session,
                 output::expect_report(model, card, said, session.provenance(o.file, o.form)), data);
}

}  // namespace plait::cli
