// All pairs of a catalogue, in blocks: what a block finds decides from the next one on which pairs need not be solved.
#include <plait/search/matching.hpp>

#include "weighing.hpp"

#include <algorithm>
#include <utility>

namespace plait::search {
namespace {

// Large enough that threads are busy, small enough that pairs come out soon.
constexpr std::size_t block_size = 256;
// So many of the greatest bounds are solved first: they show what is outranked.
constexpr std::size_t least_seeds = 64;

class MatchRun {
public:
    MatchRun(const MatchStudy& study, const MatchHooks& hooks) : study_(study), hooks_(hooks) {}

    MatchOutcome run() {
        if (!study_.request().every) solve_seeds();
        const std::size_t all = study_.pairs();
        for (std::size_t from = 0; from < all && out_.finished; from += block_size) block(from, std::min(block_size, all - from));
        return std::move(out_);
    }

private:
    struct Slot {
        PairAnswer answer;
        bool done = false;
    };

    [[nodiscard]] bool goes_on() const { return !hooks_.go_on || hooks_.go_on(); }
    [[nodiscard]] KeepGoing keep_going() const {
        if (!hooks_.go_on) return {};
        return [this](const SearchProgress&) { return hooks_.go_on(); };
    }

    void solve_seeds() {
        const std::size_t wanted = std::max(least_seeds, 2 * study_.request().top);
        // Some of them have no wiring at all, which is cheap to see.
        const std::size_t kept = 4 * wanted;
        std::vector<std::pair<double, std::size_t>> bounds;  // the least bound on top
        const auto greater = [](const auto& a, const auto& b) { return a.first != b.first ? a.first > b.first : a.second < b.second; };
        for (std::size_t pair = 0; pair < study_.pairs(); ++pair) {
            const std::pair<double, std::size_t> one{study_.bound(pair).value, pair};
            if (bounds.size() == kept && !greater(one, bounds.front())) continue;
            if (bounds.size() == kept) {
                std::pop_heap(bounds.begin(), bounds.end(), greater);
                bounds.pop_back();
            }
            bounds.push_back(one);
            std::push_heap(bounds.begin(), bounds.end(), greater);
        }
        std::sort(bounds.begin(), bounds.end(), greater);
        std::vector<std::size_t> seeds;
        for (const auto& [bound, pair] : bounds) {
            if (seeds.size() < wanted && !study_.no_string(pair)) seeds.push_back(pair);
        }
        std::vector<Slot> slots(seeds.size());
        run_jobs(hooks_.in_parallel, seeds.size(), [&](std::size_t i) { settle(seeds[i], std::nullopt, slots[i]); });
        for (Slot& slot : slots) {
            if (!slot.done) continue;
            rank(slot.answer, seeded_best_);
            seeds_.push_back(std::move(slot.answer));
        }
        std::sort(seeds_.begin(), seeds_.end(), [](const PairAnswer& a, const PairAnswer& b) { return a.pair < b.pair; });
        if (!goes_on()) out_.finished = false;
    }

    /// What a pair must be able to reach to be solved.
    [[nodiscard]] std::optional<double> least_value() const {
        std::optional<double> least = least_of(out_.best);
        const std::optional<double> seeded = least_of(seeded_best_);
        if (seeded && (!least || *seeded > *least)) least = seeded;
        return least;
    }
    [[nodiscard]] std::optional<double> least_of(const std::vector<PairAnswer>& best) const {
        if (study_.request().every || best.size() < study_.request().top) return std::nullopt;
        if (rank_class(best.back().verdict) != RankClass::holds) return std::nullopt;
        return best.back().value(study_.request().by);
    }

    void settle(std::size_t pair, std::optional<double> least, Slot& slot) const {
        if (!goes_on()) return;
        PairAnswer& a = slot.answer;
        a.pair = pair;
        a.bound = study_.bound(pair);
        a.panels = study_.request().panels;
        if (study_.no_string(pair)) {
            a.settled = Settled::no_string;
        } else if (least && a.bound.value < *least) {
            a.settled = Settled::outranked;
        } else {
            a = study_.solve(pair, keep_going());
            // A search that was stopped has no answer to keep.
            if (!goes_on()) return;
        }
        slot.done = true;
    }

    void block(std::size_t from, std::size_t n) {
        std::vector<Slot> slots(n);
        const std::optional<double> least = least_value();
        run_jobs(hooks_.in_parallel, n, [&](std::size_t i) {
            const auto seed = std::lower_bound(seeds_.begin(), seeds_.end(), from + i,
                                               [](const PairAnswer& a, std::size_t pair) { return a.pair < pair; });
            if (seed != seeds_.end() && seed->pair == from + i) {
                slots[i] = {*seed, true};
            } else {
                settle(from + i, least, slots[i]);
            }
        });
        for (Slot& slot : slots) {
            if (!slot.done) {
                out_.finished = false;
                break;
            }
            count(slot.answer);
            if (hooks_.take) hooks_.take(slot.answer);
            rank(slot.answer, out_.best);
            ++out_.done;
        }
        if (hooks_.progress) hooks_.progress(out_.done);
    }

    void count(const PairAnswer& a) {
        MatchTally& t = out_.tally;
        if (a.settled == Settled::no_string) ++t.no_string;
        if (a.settled == Settled::outranked) ++t.outranked;
        if (a.settled != Settled::solved) return;
        ++t.solved;
        if (!a.usable) {
            ++t.none;
        } else {
            ++(a.verdict.holds() ? t.holds : t.may_exceed);
            if (!a.listed(study_.request().only)) ++t.filtered;
        }
    }

    void rank(const PairAnswer& a, std::vector<PairAnswer>& best) const {
        if (!a.listed(study_.request().only)) return;
        const auto before = [&](const PairAnswer& x, const PairAnswer& y) { return ranks_before(x, y, study_.request().by); };
        if (best.size() == study_.request().top && !before(a, best.back())) return;
        best.insert(std::upper_bound(best.begin(), best.end(), a, before), a);
        if (best.size() > study_.request().top) best.pop_back();
    }

    const MatchStudy& study_;
    const MatchHooks& hooks_;
    MatchOutcome out_;
    std::vector<PairAnswer> seeds_;        // by pair
    std::vector<PairAnswer> seeded_best_;  // the first of them
};

}  // namespace

MatchOutcome match(const MatchStudy& study, const MatchHooks& hooks) { return MatchRun(study, hooks).run(); }

}  // namespace plait::search
