#include <plait/search/advised.hpp>

namespace plait::search {

std::optional<Advised> advised_of(const study::SystemModel& system, const Arrangement& a) {
    if (!a.advised) return std::nullopt;
    Advised advised;
    advised.plan = written_out(a, a.plans[*a.advised], system.setup().controller.inputs.size());
    static_cast<study::LookedUp&>(advised) = study::judge_and_look_up(system, advised.plan);
    return advised;
}

}  // namespace plait::search
