#include <plait/search/plan_search.hpp>

#include <plait/study/judgement.hpp>

#include "input_search.hpp"
#include "patience.hpp"
#include "search_tables.hpp"
#include "weighing.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <set>
#include <utility>

namespace plait::search {
namespace {

constexpr double nothing_w = -std::numeric_limits<double>::infinity();
// Two sums of the same watts in another order differ by less.
constexpr double room_for_rounding = 1e-12;

}  // namespace

int joints(const ArrayPlan& plan) {
    int n = 0;
    for (const InputWiring& w : plan) n += std::max(0, static_cast<int>(w.strings.size()) - 1);
    return n;
}

int unlike_panels(const InputWiring& wiring) {
    int n = 0;
    for (const SeriesString& s : wiring.strings) {
        std::set<std::size_t> kinds;
        for (const PanelPlace& p : s.panels) kinds.insert(p.kind);
        n += std::max(0, static_cast<int>(kinds.size()) - 1);
    }
    return n;
}

int unlike_panels(const ArrayPlan& plan) {
    int n = 0;
    for (const InputWiring& w : plan) n += unlike_panels(w);
    return n;
}

namespace {

/// One search. Inputs are decided one after another: first which panels an input gets, then how they are wired.
class Search {
public:
    Search(SearchTables& t, const SearchRequest& request)
        : t_(t),
          request_(request),
          cut_w_(request.above_w * (1.0 - room_for_rounding)),
          patience_([this] { return keep_going(); }) {
        for (std::size_t c = 0; c < t.classes.size(); ++c) {
            inputs_.push_back(
                std::make_unique<InputSearch>(*t.classes[c], *t.driven_back[c], t.counts, [this] { return keep_going(); }));
        }
    }
    Search(const Search&) = delete;
    Search& operator=(const Search&) = delete;

    SearchResult run() {
        const std::size_t all = t_.counts.size() - 1;
        if (!find_open_bounds()) return stopped_early();
        unexplored_w_ = t_.full_w + open(0, joints_allowed())[all];
        study::LevelPowers none{};
        decide(0, all, joints_allowed(), t_.full_w, none);
        SearchResult result;
        result.finished = !stopped_;
        result.bound_w = stopped_ ? std::max(unexplored_w_, cut_w_) : cut_w_;
        result.plans = std::move(found_);
        for (const auto& input : inputs_) result.solved += input->solved();
        return result;
    }

private:
    [[nodiscard]] int joints_allowed() const { return request_.most_joints.value_or(InputSearch::any_number); }
    [[nodiscard]] bool joints_limited() const { return request_.most_joints.has_value(); }
    InputSearch& input_at(std::size_t place) { return *inputs_[t_.class_of[t_.order[place]]]; }
    InputTable& table_at(std::size_t place) { return *t_.classes[t_.class_of[t_.order[place]]]; }
    [[nodiscard]] std::size_t places() const { return t_.order.size(); }

    /// What the inputs from `place` on can harvest at most of at most these panels, with so many joints.
    std::vector<double>& open(std::size_t place, int joints) {
        return open_w_[place][joints_limited() ? static_cast<std::size_t>(joints) : 0];
    }

    /// The same when the input at `place` gets exactly `own` of these panels.
    double from_here_w(std::size_t place, std::size_t own, std::size_t panels, int joints) {
        if (own == 0) return open(place + 1, joints)[panels];
        InputSearch& input = input_at(place);
        if (!joints_limited()) {
            return input.bound_w(own, InputSearch::any_number) + open(place + 1, joints)[panels - own];
        }
        double best_w = nothing_w;
        for (int spent = 0; spent <= joints; ++spent) {
            best_w = std::max(best_w, input.bound_w(own, spent + 1) + open(place + 1, joints - spent)[panels - own]);
        }
        return best_w;
    }

    /// False: stopped before they were known.
    bool find_open_bounds() {
        const std::size_t n = t_.counts.size();
        if (joints_limited()) {
            for (const auto& table : t_.classes) {
                if (!table->know_strings(*request_.most_joints + 1, patience_)) return false;
            }
        }
        const std::size_t kinds_of_joints = joints_limited() ? static_cast<std::size_t>(*request_.most_joints) + 1 : 1;
        open_w_.assign(places() + 1, std::vector<std::vector<double>>(kinds_of_joints, std::vector<double>(n, 0.0)));
        open_level_w_.assign(places() + 1, std::vector<study::LevelPowers>(t_.shared ? n : 0, study::LevelPowers{}));
        for (std::size_t place = places(); place-- > 0;) {
            for (std::size_t j = 0; j < kinds_of_joints; ++j) {
                if (!find_open(place, static_cast<int>(j))) return false;
            }
            // Of all panels nobody asks at the first place.
            if (t_.shared && place > 0 && !find_open_levels(place)) return false;
        }
        return true;
    }

    bool find_open(std::size_t place, int joints) {
        std::vector<double>& here = open(place, joints);
        InputTable& table = table_at(place);
        const std::size_t n = t_.counts.size();
        if (place + 1 == places()) {
            // The last input: what it makes of a count or of any part of it.
            for (std::size_t c = 1; c < n; ++c) {
                if (!patience_.lasts(1)) return false;
                if (table.can_use(c)) here[c] = std::max(0.0, from_here_w(place, c, c, joints));
            }
            t_.counts.over_parts(here, [](double& whole_w, double part_w) { whole_w = std::max(whole_w, part_w); });
            return true;
        }
        // Of the first input only everything on hand is asked for.
        for (std::size_t c = place == 0 ? n - 1 : 0; c < n; ++c) {
            double best_w = nothing_w;
            std::size_t parts = 0;
            t_.counts.for_each_part(c, [&](std::size_t own) {
                ++parts;
                if (table.can_use(own)) best_w = std::max(best_w, from_here_w(place, own, c, joints));
            });
            here[c] = best_w;
            if (!patience_.lasts(parts * static_cast<std::size_t>(joints_limited() ? joints + 2 : 2))) return false;
        }
        return true;
    }

    bool find_open_levels(std::size_t place) {
        InputTable& table = table_at(place);
        std::vector<study::LevelPowers> own_w(t_.counts.size());
        for (std::size_t c = 1; c < own_w.size(); ++c) {
            if (!table.can_use(c)) continue;
            if (!patience_.lasts(table.row_size())) return false;
            for (std::size_t l = 0; l < t_.levels.size(); ++l) {
                own_w[c][t_.levels[l].level] = table.weigh(table.best_ceilings(c), l);
            }
        }
        if (place + 1 == places()) {
            t_.counts.over_parts(own_w, [](study::LevelPowers& whole_w, const study::LevelPowers& part_w) {
                for (std::size_t l = 0; l < whole_w.size(); ++l) whole_w[l] = std::max(whole_w[l], part_w[l]);
            });
            open_level_w_[place] = std::move(own_w);
            return true;
        }
        const std::vector<study::LevelPowers>& next_w = open_level_w_[place + 1];
        for (std::size_t c = 0; c < own_w.size(); ++c) {
            study::LevelPowers best = next_w[c];
            std::size_t parts = 0;
            t_.counts.for_each_part(c, [&](std::size_t own) {
                ++parts;
                if (!table.can_use(own)) return;
                for (std::size_t l = 0; l < best.size(); ++l) {
                    best[l] = std::max(best[l], own_w[own][l] + next_w[c - own][l]);
                }
            });
            open_level_w_[place][c] = best;
            if (!patience_.lasts(4 * parts)) return false;
        }
        return true;
    }

    SearchResult stopped_early() const { return {{}, false, std::numeric_limits<double>::infinity(), 0}; }

    /// What a plan harvests at most whose first inputs bring `level_w` and whose others have these panels left.
    double bound_with_shared(const study::LevelPowers& level_w, std::size_t place, std::size_t panels) {
        double bound_w = t_.full_w;
        for (const WeightedLevel& l : t_.levels) {
            const double sum_w = level_w[l.level] + open_level_w_[place][panels][l.level];
            bound_w += l.weight * study::shared_w(t_.system.setup().controller, sum_w);
        }
        return bound_w * (1.0 + room_for_rounding);
    }

    bool keep_going() {
        if (stopped_) return false;
        if (!request_.keep_going) return true;
        SearchProgress p;
        for (const auto& input : inputs_) p.solved += input->solved();
        p.best_w = found_.empty() ? std::max(cut_w_, 0.0) : found_.front().european_w;
        p.bound_w = std::max(unexplored_w_, p.best_w);
        stopped_ = !request_.keep_going(p);
        return !stopped_;
    }

    struct Choice {
        std::size_t panels = 0;
        double bound_w = 0.0;
    };

    void decide(std::size_t place, std::size_t panels, int joints, double done_w, const study::LevelPowers& level_w) {
        if (place == places()) {
            accept();
            return;
        }
        std::vector<Choice> choices;
        std::size_t parts = 0;
        t_.counts.for_each_part(panels, [&](std::size_t own) {
            ++parts;
            if (!table_at(place).can_use(own)) return;
            // Equal inputs: the later one gets no higher number.
            if (repeats_class(place) && own > chosen_panels_.back()) return;
            const double bound_w = (done_w + from_here_w(place, own, panels, joints)) * (1.0 + room_for_rounding);
            if (bound_w > cut_w_) choices.push_back({own, bound_w});
        });
        // A bound asks a hash table.
        if (!patience_.lasts(10 * parts)) return;
        std::sort(choices.begin(), choices.end(), [](const Choice& a, const Choice& b) {
            return a.bound_w != b.bound_w ? a.bound_w > b.bound_w : a.panels > b.panels;
        });
        for (const Choice& choice : choices) {
            if (stopped_) return;
            if (place == 0) unexplored_w_ = choice.bound_w;
            if (choice.bound_w <= cut_w_) break;
            const std::size_t rest = panels - choice.panels;
            if (t_.shared && choice.panels == 0 && bound_with_shared(level_w, place + 1, rest) <= cut_w_) continue;
            take(place, choice.panels, rest, joints, done_w, level_w);
        }
        if (place == 0 && !stopped_) unexplored_w_ = 0.0;
    }

    [[nodiscard]] bool repeats_class(std::size_t place) const {
        return place > 0 && t_.class_of[t_.order[place]] == t_.class_of[t_.order[place - 1]];
    }

    void take(std::size_t place, std::size_t own, std::size_t rest, int joints, double done_w,
              const study::LevelPowers& level_w) {
        const auto go_on = [&](const SolvedWiring* wiring, int joints_left, double sum_w,
                               const study::LevelPowers& levels_w) {
            chosen_.push_back(wiring);
            chosen_panels_.push_back(own);
            decide(place + 1, rest, joints_left, sum_w, levels_w);
            chosen_panels_.pop_back();
            chosen_.pop_back();
        };
        if (own == 0) {
            go_on(nullptr, joints, done_w, level_w);
            return;
        }
        const auto hand_on = [&](const SolvedWiring& w) {
            if (request_.like_strings_only && w.unlike > 0) return;
            // The same panels on an equal input: the wirings in one order only.
            if (repeats_class(place) && own == chosen_panels_.back() && w.id < chosen_.back()->id) return;
            study::LevelPowers sum_w = level_w;
            for (std::size_t l = 0; l < sum_w.size(); ++l) sum_w[l] += w.level_power_w[l];
            if (t_.shared && bound_with_shared(sum_w, place + 1, rest) <= cut_w_) return;
            go_on(&w, joints_limited() ? joints - (w.strings - 1) : joints, done_w + w.weighted_w, sum_w);
        };
        const int most_strings = joints_limited() ? joints + 1 : InputSearch::any_number;
        // From the top down, in bands that widen: what is found on the way raises the cut, and a wiring whose bound lies below
        // the cut is never solved.
        const double top_w = input_at(place).bound_w(own, most_strings);
        double handed_on_w = std::numeric_limits<double>::infinity();
        for (double width_ratio = first_band_ratio; !stopped_; width_ratio *= 2.0) {
            // The others' best is still to be added; a little less is asked for, so that the list need not grow each time.
            const double need_w = cut_w_ - done_w - open(place + 1, joints)[rest];
            const double least_w = need_w - asked_for_less * std::max(cut_w_, 0.0);
            const double asked_w = width_ratio < 1.0 ? std::max(least_w, (1.0 - width_ratio) * top_w) : least_w;
            // A copy: deeper calls may ask the same list for more.
            const std::vector<const SolvedWiring*> list = input_at(place).wirings(own, most_strings, asked_w);
            for (const SolvedWiring* w : list) {
                if (stopped_) return;
                if (w->weighted_w > handed_on_w) continue;
                if (w->weighted_w <= asked_w) break;
                if ((done_w + w->weighted_w + open(place + 1, joints)[rest]) * (1.0 + room_for_rounding) <= cut_w_) return;
                hand_on(*w);
            }
            if (asked_w <= least_w) return;
            handed_on_w = asked_w;
        }
    }

    void accept() {
        study::LevelPowers sum_w{};
        ArrayPlan plan(places());
        bool any = false;
        for (std::size_t place = 0; place < places(); ++place) {
            if (chosen_[place] == nullptr) continue;
            any = true;
            plan[t_.order[place]] = chosen_[place]->wiring;
            for (std::size_t l = 0; l < sum_w.size(); ++l) sum_w[l] += chosen_[place]->level_power_w[l];
            for (const std::size_t l : t_.full_levels) {
                sum_w[l] += t_.system.level_power_w(t_.order[place], chosen_[place]->wiring, l);
            }
        }
        if (!any) return;
        for (double& w : sum_w) w = study::shared_w(t_.system.setup().controller, w);
        const double european_w = study::weighted(sum_w).european_w;
        if (european_w <= cut_w_ || !can_be_used()) return;
        const auto at =
            std::find_if(found_.begin(), found_.end(), [&](const FoundPlan& f) { return f.european_w < european_w; });
        found_.insert(at, {std::move(plan), european_w});
        if (found_.size() > request_.keep) found_.pop_back();
        if (found_.size() == request_.keep) cut_w_ = std::max(cut_w_, found_.back().european_w);
    }

    /// What the rules about one input say of a wiring there. Many plans share it.
    struct OnItsInput {
        bool accepted = false;
        Candidate candidate;  // only of one that is accepted, as what follows
        Weighed weighed;
    };

    const OnItsInput& on_its_input(std::size_t input, const SolvedWiring& wiring) {
        const auto [at, fresh] = on_inputs_.try_emplace({input, &wiring});
        OnItsInput& one = at->second;
        if (!fresh) return one;
        Weighed weighed;
        Candidate candidate = weigh(t_.system, input, wiring.wiring, weighed);
        one.accepted = accepted(candidate.verdict);
        if (!one.accepted) return one;
        one.candidate = std::move(candidate);
        one.weighed = std::move(weighed);
        return one;
    }

    /// The wirings chosen, each by itself and then together.
    bool can_be_used() {
        // Room for every input: what is asked for below must not be thrown away meanwhile.
        if (on_inputs_.size() + places() > most_kept) on_inputs_.clear();
        std::vector<const SolvedWiring*> of_input(places(), nullptr);
        for (std::size_t place = 0; place < places(); ++place) of_input[t_.order[place]] = chosen_[place];
        std::vector<rules::WiredInput> wired;
        std::vector<const Weighed*> together;
        for (std::size_t i = 0; i < of_input.size(); ++i) {
            if (of_input[i] == nullptr) continue;
            const OnItsInput& one = on_its_input(i, *of_input[i]);
            if (!one.accepted) return false;
            wired.push_back({i, &one.candidate.wiring, &one.weighed.points});
            together.push_back(&one.weighed);
        }
        return accepted(plan_tally(t_.system, wired, together).answers());
    }

    [[nodiscard]] bool accepted(const study::Answers& verdict) const {
        return t_.accept == Accept::holds ? verdict.holds() : verdict.usable();
    }

    static constexpr double asked_for_less = 1e-4;
    static constexpr std::size_t most_kept = 4096;  // judged wirings, some kilobytes each
    static constexpr double first_band_ratio = 0.01;  // of the most that the panels can bring

    SearchTables& t_;
    const SearchRequest& request_;
    double cut_w_;
    std::vector<std::unique_ptr<InputSearch>> inputs_;           // by class
    std::vector<std::vector<std::vector<double>>> open_w_;       // place, joints, panels
    std::vector<std::vector<study::LevelPowers>> open_level_w_;  // place, panels; only with a shared limit
    std::vector<const SolvedWiring*> chosen_;
    std::vector<std::size_t> chosen_panels_;
    std::map<std::pair<std::size_t, const SolvedWiring*>, OnItsInput> on_inputs_;  // by input
    std::vector<FoundPlan> found_;
    double unexplored_w_ = 0.0;
    bool stopped_ = false;
    Patience patience_;
};

}  // namespace

PlanSearch::PlanSearch(const study::SystemModel& system, const study::LevelPowers& likely_w,
                       const std::function<bool()>& go_on, Accept accept)
    : possible_(counts_of(system.setup()) <= static_cast<double>(most_counts)) {
    if (!possible_) return;
    Patience patience(go_on);
    auto tables = std::make_unique<SearchTables>(system, likely_w, accept, patience);
    if (!patience.over()) tables_ = std::move(tables);
}
PlanSearch::~PlanSearch() = default;
PlanSearch::PlanSearch(PlanSearch&&) noexcept = default;
PlanSearch& PlanSearch::operator=(PlanSearch&&) noexcept = default;

SearchResult PlanSearch::run(const SearchRequest& request) {
    if (!tables_) return {{}, false, std::numeric_limits<double>::infinity(), 0};
    return Search(*tables_, request).run();
}

}  // namespace plait::search
