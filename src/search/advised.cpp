#include <plait/search/advised.hpp>

namespace plait::search {

std::optional<Advised> advised_of(const study::SystemModel& system, const Arrangement& a) {
    if (!a.advised) return std::nullopt;
    Advised advised;
    advised.plan = written_out(a, a.plans[*a.advised], system.setup().controller.inputs.size());
    advised.judgement = study::judge(system, advised.plan);
    advised.look_ups = study::look_up(system, advised.plan, advised.judgement);
    return advised;
}

}  // namespace plait::search
