#include <plait/measured/log_advice.hpp>

#include <plait/study/judgement.hpp>

#include <algorithm>

namespace plait::measured {
namespace {

constexpr double worth_ratio = 0.01;  // of the measured energy

bool beyond_reach(Cause c) {
    return c == Cause::less_light || c == Cause::array || c == Cause::heat || c == Cause::scatter ||
           c == Cause::display || c == Cause::untold;
}

// A cause that is nowhere the likeliest for as long as its energy takes is a share of many doubts, and no cause.
bool supported(Cause c, const LogAccount& a) {
    const double label_w = a.label_w();
    return c == Cause::cable || a.lost_wh[index_of(c)] <= a.hours_h[index_of(c)] * label_w;
}

}  // namespace

bool is_about_wiring(Cause cause) {
    return cause == Cause::power_limit || cause == Cause::current_limit || cause == Cause::below_window ||
           cause == Cause::above_window || cause == Cause::no_tracker;
}

LogAdvice advice_on(const study::SystemModel& system, const ArrayPlan& plan, const LogAccount& account,
                    const search::KeepGoing& keep_going) {
    LogAdvice advice;
    for (std::size_t c = 0; c < cause_count; ++c) {
        const bool worth = account.lost_wh[c] > worth_ratio * account.measured_wh && account.lost_wh[c] > 0.0;
        const auto cause = static_cast<Cause>(c);
        if (worth && !beyond_reach(cause) && supported(cause, account)) advice.worth.push_back(static_cast<Cause>(c));
    }
    std::stable_sort(advice.worth.begin(), advice.worth.end(),
                     [&](Cause a, Cause b) { return account.lost_wh[index_of(a)] > account.lost_wh[index_of(b)]; });
    if (advice.worth.empty() || !is_about_wiring(advice.worth.front())) return advice;
    search::ArrangeRequest request;
    request.top = 1;
    request.keep_going = keep_going;
    const search::Arrangement found = search::arrange(system, request);
    if (!found.advised) return advice;
    const search::RankedPlan& best = found.plans[*found.advised];
    const double now_w = study::judge(system, plan).harvest.european_w;
    if (best.harvest.european_w <= (1.0 + search::near_tie_ratio) * now_w) return advice;
    advice.wiring = BetterWiring{search::written_out(found, best, system.setup().controller.inputs.size()), now_w,
                                 best.harvest.european_w};
    return advice;
}

}  // namespace plait::measured
