#include <plait/measured/window_learning.hpp>

#include <plait/physics/student_t.hpp>

#include "piece_levels.hpp"
#include "reading_steps.hpp"
#include "sweep_edges.hpp"
#include "sweep_steps.hpp"
#include "window_pieces.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

namespace plait::measured {
namespace {

constexpr std::size_t least_rows = 4;
constexpr double least_wall_w = 10.0;  // less is what a charger draws for itself (common practice, no source)
constexpr double nothing_ratio =
    0.02;                            // of the usual current, and of the usual power: what the input's electronics draw
constexpr double idle_ratio = 0.10;  // … where the row says itself that nothing is taken
// An input that waits draws a few watts for its own electronics (common practice, no source).
constexpr double standby_w = 10.0;
constexpr double standby_ratio = 0.10;    // of the usual current, and of the usual power
constexpr double coarsest_ratio = 0.08;   // whole amps where there are hardly four
// Rounding below this share of the scatter is averaged away by it.
constexpr double lost_in_scatter = 0.3;
constexpr double cut_off_share = 0.05;    // of displays, before they are looked at [our judgement, no source]
constexpr double sure_of_cut_off = 0.9;   // below it a display is taken to round
constexpr double flattest_ratio = 0.001;  // no regulator is asked to be flatter than this

bool wall_gives(const SweepRow& r) { return r.wall_w && *r.wall_w > least_wall_w; }

// A charger on the wall takes its share of what the battery bears. Readings beside it are held against the window, and
// not put into it, where enough others show the window.
bool wall_apart(const std::vector<SweepRow>& rows) {
    const auto with = static_cast<std::size_t>(std::count_if(rows.begin(), rows.end(), wall_gives));
    return with > 0 && rows.size() - with >= 2 * least_rows;
}

double quantile(std::vector<double> values, double share) {
    if (values.empty()) return 0.0;
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

// The usual large value: the upper part of what is not tiny, so that neither nothing nor a spike sets it.
double usual(const std::vector<double>& values) {
    const double most = *std::max_element(values.begin(), values.end());
    std::vector<double> large;
    std::copy_if(values.begin(), values.end(), std::back_inserter(large), [&](double v) { return v > 0.05 * most; });
    return quantile(std::move(large), 0.9);
}

bool has_law(PieceKind kind) { return kind == PieceKind::constant_current || kind == PieceKind::constant_power; }

// Cuts the points at the change points of the steps; a step that holds a change is parted row by row.
std::vector<PiecePoints> pieces_of(const std::vector<SweepPoint>& points, const std::vector<SweepStep>& steps,
                                   const Segmentation& found) {
    std::vector<PiecePoints> pieces;
    std::vector<std::vector<std::size_t>> members(found.pieces.size());
    for (std::size_t k = 0; k < found.pieces.size(); ++k) {
        for (std::size_t i = found.pieces[k].begin; i < found.pieces[k].end; ++i) {
            members[k].insert(members[k].end(), steps[i].points.begin(), steps[i].points.end());
        }
    }
    const double reach = outlier_reach(found.noise_ratio);
    const auto cost = [&](const SweepPoint& p, const StepPiece& piece) {
        const bool takes = piece.kind != PieceKind::nothing;
        if (p.taking != takes) return reach * reach;
        if (piece.kind == PieceKind::at_least) return p.censored ? 0.0 : reach * reach;
        if (!takes) return 0.0;
        const double x =
            std::log(p.current_a) + (piece.kind == PieceKind::constant_power ? std::log(p.voltage_v) : 0.0);
        const double away = (x - piece.log_level) / found.noise_ratio;
        if (p.censored && away < 0.0) return 0.0;
        return std::min(away * away, reach * reach);
    };
    for (std::size_t k = 0; k + 1 < members.size(); ++k) {
        // The rows of the two steps at the border are shared out anew.
        std::vector<std::size_t>& left = members[k];
        std::vector<std::size_t>& right = members[k + 1];
        const std::size_t last = steps[found.pieces[k].end - 1].points.size();
        const std::size_t first = steps[found.pieces[k + 1].begin].points.size();
        if (last + first <= 2) continue;
        std::vector<std::size_t> near(left.end() - static_cast<std::ptrdiff_t>(last), left.end());
        near.insert(near.end(), right.begin(), right.begin() + static_cast<std::ptrdiff_t>(first));
        double total = 0.0;
        for (const std::size_t i : near) total += cost(points[i], found.pieces[k + 1]);
        double least = total;
        std::size_t split = 0;
        for (std::size_t i = 0; i < near.size(); ++i) {
            total += cost(points[near[i]], found.pieces[k]) - cost(points[near[i]], found.pieces[k + 1]);
            const bool between = i + 1 == near.size() || points[near[i]].voltage_v < points[near[i + 1]].voltage_v;
            if (between && total < least - 1e-9) {
                least = total;
                split = i + 1;
            }
        }
        left.resize(left.size() - last);
        right.erase(right.begin(), right.begin() + static_cast<std::ptrdiff_t>(first));
        left.insert(left.end(), near.begin(), near.begin() + static_cast<std::ptrdiff_t>(split));
        right.insert(right.begin(), near.begin() + static_cast<std::ptrdiff_t>(split), near.end());
    }
    for (std::size_t k = 0; k < members.size(); ++k) {
        PiecePoints p;
        p.kind = found.pieces[k].kind;
        for (const std::size_t i : members[k]) p.points.push_back(points[i]);
        if (has_law(p.kind)) fit_piece(p, found.pieces[k].log_level, found.noise_ratio);
        if (p.kind == PieceKind::at_least) p.level = std::exp(found.pieces[k].log_level);
        if (!p.points.empty()) pieces.push_back(std::move(p));
    }
    return pieces;
}

// A piece that lost its rows to its neighbour when the border was drawn row by row is no piece.
void drop_bare_pieces(std::vector<PiecePoints>& pieces, double noise_ratio) {
    for (std::size_t k = 0; k < pieces.size();) {
        if (!has_law(pieces[k].kind) || pieces[k].steps >= 2 || pieces.size() < 2) {
            ++k;
            continue;
        }
        const std::size_t to = k > 0 ? k - 1 : 1;
        std::vector<SweepPoint>& into = pieces[to].points;
        into.insert(k > 0 ? into.end() : into.begin(), pieces[k].points.begin(), pieces[k].points.end());
        if (has_law(pieces[to].kind)) fit_piece(pieces[to], std::log(pieces[to].level), noise_ratio);
        pieces.erase(pieces.begin() + static_cast<std::ptrdiff_t>(k));
    }
}

// A reading at the supply's limit that lies far below a law says nothing of it. Inside a piece it is passed over; at an
// end the piece would be claimed to reach where nobody saw it, so there it is told as "at least".
void part_untold_ends(std::vector<PiecePoints>& pieces, double noise_ratio) {
    const double reach = outlier_reach(noise_ratio);
    std::vector<PiecePoints> all;
    const auto at_least = [&](std::vector<SweepPoint> points) {
        if (points.empty()) return;
        if (!all.empty() && all.back().kind == PieceKind::at_least) {
            all.back().points.insert(all.back().points.end(), points.begin(), points.end());
        } else {
            all.emplace_back();
            all.back().kind = PieceKind::at_least;
            all.back().points = std::move(points);
        }
        PiecePoints& piece = all.back();
        for (const SweepPoint& p : piece.points) piece.level = std::max(piece.level, p.current_a);
    };
    for (PiecePoints& piece : pieces) {
        if (piece.kind == PieceKind::at_least) {
            at_least(std::move(piece.points));
            continue;
        }
        const auto untold = [&](const SweepPoint& p) {
            const double law_a = piece.kind == PieceKind::constant_power ? piece.level / p.voltage_v : piece.level;
            return p.taking && p.censored && p.current_a < law_a * (1.0 - reach * noise_ratio);
        };
        const auto begin = std::find_if_not(piece.points.begin(), piece.points.end(), untold);
        const auto end = std::find_if_not(piece.points.rbegin(), std::make_reverse_iterator(begin), untold).base();
        if (!has_law(piece.kind) || (begin == piece.points.begin() && end == piece.points.end())) {
            all.push_back(std::move(piece));
            continue;
        }
        const std::vector<SweepPoint> after(end, piece.points.end());
        at_least({piece.points.begin(), begin});
        PiecePoints told = piece;
        told.points.assign(begin, end);
        fit_piece(told, std::log(piece.level), noise_ratio);
        all.push_back(std::move(told));
        at_least(after);
    }
    pieces = std::move(all);
}

// From the first to the last point that fits: one that stands apart at a border tells nothing about it.
Interval reach_of(const PiecePoints& piece) {
    std::vector<char> apart(piece.points.size(), 0);
    for (const std::size_t i : piece.apart) apart[i] = 1;
    const auto fits = [](char a) { return a == 0; };
    const auto first = std::find_if(apart.begin(), apart.end(), fits);
    const auto last = std::find_if(apart.rbegin(), apart.rend(), fits);
    if (first == apart.end()) return {piece.points.front().voltage_v, piece.points.back().voltage_v};
    return {piece.points[static_cast<std::size_t>(first - apart.begin())].voltage_v,
            piece.points[static_cast<std::size_t>(apart.rend() - last) - 1].voltage_v};
}

Interval interval_about(double value, double half_ratio) {
    return {value * (1.0 - half_ratio), value * (1.0 + half_ratio)};
}

// Of two that err independently, to first order.
Estimate ratio_of(const Estimate& a, const Estimate& b) {
    const double ratio = a.value / b.value;
    const double less = std::hypot(1.0 - a.likely.lower() / a.value, b.likely.upper() / b.value - 1.0);
    const double more = std::hypot(a.likely.upper() / a.value - 1.0, 1.0 - b.likely.lower() / b.value);
    return {ratio, {ratio * (1.0 - less), ratio * (1.0 + more)}};
}

double fitted_current(const PiecePoints& piece, double voltage_v) {
    return piece.kind == PieceKind::constant_power ? piece.level / voltage_v : piece.level;
}

class Learner {
public:
    Learner(const std::vector<SweepRow>& rows, const BenchMeters& meters)
        : accuracy_ratio_(meters.accuracy_ratio), stated_habit_(meters.habit) {
        found_.meter_accuracy_ratio = meters.accuracy_ratio;
        const bool beside = wall_apart(rows);
        std::vector<char> rising;
        std::vector<SweepRow> usable;
        std::vector<std::size_t> at;
        for (std::size_t i = 0; i < rows.size(); ++i) {
            found_.rows.push_back({rows[i], true, RowUse::left_out, std::nullopt});
            const bool whole = std::isfinite(rows[i].voltage_v) && std::isfinite(rows[i].current_a);
            if (!whole || rows[i].voltage_v <= 0.0) continue;
            if (beside && wall_gives(rows[i])) {
                found_.rows.back().use = RowUse::beside_the_wall;
                continue;
            }
            // "<15" of a display that may mean anything down to nothing is no level.
            const double read = rows[i].from_power ? rows[i].current_a * rows[i].voltage_v : rows[i].current_a;
            if (rows[i].vague && rows[i].step_value > 0.5 * read) continue;
            usable.push_back(rows[i]);
            at.push_back(i);
        }
        if (usable.size() < least_rows) return;
        steps_ = reading_steps(usable);
        if (steps_.amps_a > 0.0) steps_.amps_a = meters.amps_step_a.value_or(steps_.amps_a);
        if (steps_.watts_w > 0.0) steps_.watts_w = meters.watts_step_w.value_or(steps_.watts_w);
        found_.amps_step_a = steps_.amps_a;
        found_.watts_step_w = steps_.watts_w;
        found_.in_order = find_directions(usable, rising);
        std::vector<double> currents;
        std::vector<double> powers;
        for (const SweepRow& r : usable) {
            currents.push_back(r.current_a);
            powers.push_back(r.current_a * r.voltage_v);
        }
        const double usual_a = usual(currents);
        const double usual_w = usual(powers);
        for (std::size_t i = 0; i < usable.size(); ++i) {
            const SweepRow& r = usable[i];
            SweepPoint p;
            p.row = at[i];
            p.voltage_v = r.voltage_v;
            p.current_a = r.current_a;
            p.rising = !found_.in_order || rising[i] != 0;
            p.censored = r.supply_was_the_limit;
            p.from_power = r.from_power;
            p.vague_step_value = r.vague ? r.step_value : 0.0;
            const auto below = [&](double ratio) {
                return r.current_a <= ratio * usual_a && powers[i] <= ratio * usual_w;
            };
            const bool tiny = below(nothing_ratio) || (powers[i] <= standby_w && below(standby_ratio));
            const bool said =
                r.state == SweepState::tripped || (r.state == SweepState::idle && r.current_a <= idle_ratio * usual_a);
            p.taking = r.current_a > 0.0 && !tiny && !said;
            found_.rows[p.row].rising = p.rising;
            points_.push_back(p);
        }
    }

    Result<LearnedWindow, std::string> learn() {
        if (points_.size() < least_rows) {
            return Failure{
                std::string("fewer than four readings above 0 V; step the supply over the whole window, "
                            "closest where the current changes")};
        }
        if (std::none_of(points_.begin(), points_.end(), [](const SweepPoint& p) { return p.taking; })) {
            return Failure{std::string("nothing was ever taken; check that the input is on and has room to charge")};
        }
        const double digit = std::min(coarsest_ratio, rounding_ratio(points_, steps_));
        const double least_noise = std::max(flattest_ratio, digit);
        edges(least_noise);
        const std::vector<SweepStep> steps = steps_of(inside_);
        const Segmentation cut = segment(steps, least_noise, true);
        std::vector<PiecePoints> pieces = pieces_of(inside_, steps, cut);
        drop_bare_pieces(pieces, cut.noise_ratio);
        while (!pieces.empty() && pieces.front().kind == PieceKind::nothing) pieces.erase(pieces.begin());
        while (!pieces.empty() && pieces.back().kind == PieceKind::nothing) pieces.pop_back();
        if (pieces.empty() || (has_law(pieces.front().kind) && pieces.front().steps < 2)) {
            return Failure{
                std::string("no two readings follow one law; take more readings, at least two in each band")};
        }
        part_untold_ends(pieces, cut.noise_ratio);
        std::vector<char> joined(pieces.size(), 0);
        for (std::size_t k = 0; k + 1 < pieces.size(); ++k) {
            if (pieces[k].kind != PieceKind::constant_current || pieces[k + 1].kind != PieceKind::constant_power)
                continue;
            joined[k] = meet(pieces[k], pieces[k + 1], cut.noise_ratio) ? 1 : 0;
        }
        const Scatter scatter = scatter_of(pieces, digit);
        found_.noise_is_digit = scatter.noise_ratio <= digit;
        report(pieces, joined, scatter);
        return std::move(found_);
    }

private:
    // Start, stop, trip and recovery, each from the direction that shows it; and which points lie inside.
    void edges(double least_noise) {
        std::vector<SweepPoint> up;
        std::vector<SweepPoint> down;
        for (std::size_t i = 0; i < points_.size(); ++i) {
            const SweepPoint& p = points_[i];
            std::vector<SweepPoint>& pool = p.rising ? up : down;
            // Where the sweep turns, the last reading of one way is the first of the other.
            if (i > 0 && points_[i - 1].rising != p.rising) pool.push_back(points_[i - 1]);
            pool.push_back(p);
        }
        const auto takes = [](const std::vector<SweepPoint>& points) {
            return std::any_of(points.begin(), points.end(), [](const SweepPoint& p) { return p.taking; });
        };
        found_.rising = found_.in_order && !up.empty();
        found_.falling = !down.empty();
        Stretch rising;
        Stretch falling;
        const bool takes_up = takes(up);
        const bool takes_down = takes(down);
        if (takes_up) rising = stretch_of(up, least_noise);
        if (takes_down) falling = stretch_of(down, least_noise);
        found_.start = rising.low;
        found_.trip = rising.high;
        found_.stop = falling.low;
        found_.recovery = falling.high;
        keep_order(found_.stop, found_.start);
        keep_order(found_.recovery, found_.trip);
        for (const SweepPoint& p : points_) {
            const Stretch& s = p.rising ? rising : falling;
            const bool below = s.low && p.voltage_v < s.low->middle_v();
            const bool above = s.high && p.voltage_v > s.high->middle_v();
            if ((p.rising ? takes_up : takes_down) && !below && !above) {
                inside_.push_back(p);
            } else {
                FittedRow& row = found_.rows[p.row];
                row.use = p.taking ? RowUse::stands_apart : RowUse::nothing_taken;
                row.fitted_a = 0.0;
            }
        }
    }

    void report(const std::vector<PiecePoints>& pieces, const std::vector<char>& joined, Scatter scatter) {
        const double t = physics::student_t_95_ratio(scatter.freedom);
        found_.noise_ratio = scatter.noise_ratio;
        double longest = 0.0;
        const double digit = rounding_ratio(points_, steps_);
        std::vector<Estimate> stepped;
        const bool matters = digit > lost_in_scatter * scatter.noise_ratio || stated_habit_ == DisplayHabit::cuts_off;
        if (matters && points_.size() <= most_stepped_readings) stepped = levels_by_habit(pieces);
        for (Estimate& e : stepped) {
            e.likely = {e.value - scatter.chosen_factor * (e.value - e.likely.lower()),
                        e.value + scatter.chosen_factor * (e.likely.upper() - e.value)};
        }
        for (std::size_t k = 0; k < pieces.size(); ++k) {
            const PiecePoints& p = pieces[k];
            LearnedPiece out;
            out.kind = p.kind;
            const Interval reach = reach_of(p);
            out.from_v = reach.lower();
            out.to_v = reach.upper();
            const bool law = has_law(p.kind);
            const double half = law ? std::hypot(t * scatter.noise_ratio / std::sqrt(p.weight), accuracy_ratio_) : 0.0;
            out.level = {p.level, interval_about(p.level, half)};
            if (law && !stepped.empty()) out.level = widened(stepped[k]);
            out.steps = law ? p.steps : static_cast<int>(steps_of(p.points).size());
            out.rows = static_cast<int>(law ? static_cast<std::size_t>(p.weight) : p.points.size());
            if (k > 0) {
                found_.changes.push_back({Interval(found_.pieces.back().to_v, out.from_v)});
            }
            if (p.kind == PieceKind::constant_power && out.to_v - out.from_v >= longest) {
                longest = out.to_v - out.from_v;
                found_.power_w = out.level;
                found_.takeover_v.reset();
                if (k > 0 && joined[k - 1] != 0) {
                    const PiecePoints& band = pieces[k - 1];
                    const double takeover_v = p.level / band.level;
                    const double both = t * scatter.noise_ratio * std::sqrt(1.0 / p.weight + 1.0 / band.weight);
                    found_.takeover_v =
                        Estimate{takeover_v, interval_about(takeover_v, std::hypot(both, accuracy_ratio_))};
                    if (!stepped.empty()) found_.takeover_v = widened(ratio_of(stepped[k], stepped[k - 1]));
                }
            }
            found_.pieces.push_back(out);
            mark(p);
        }
        working_range();
        for (const FittedRow& row : found_.rows) {
            found_.outlier_count += row.use == RowUse::stands_apart ? 1U : 0U;
            found_.censored_count += row.use == RowUse::supply_was_the_limit ? 1U : 0U;
        }
    }

    // Where nobody says whether the display rounds, the readings may: not where all of a stretch are alike, but where one
    // level shows in many digits.
    std::vector<Estimate> levels_by_habit(const std::vector<PiecePoints>& pieces) {
        found_.habit = stated_habit_.value_or(DisplayHabit::rounds);
        SteppedLevels levels = levels_between_steps(pieces, steps_, found_.habit);
        if (stated_habit_) return levels.levels;
        SteppedLevels cut_off = levels_between_steps(pieces, steps_, DisplayHabit::cuts_off);
        const double against = (1.0 - cut_off_share) / cut_off_share * std::exp(levels.log_evidence - cut_off.log_evidence);
        found_.cuts_off_ratio = 1.0 / (1.0 + against);
        if (*found_.cuts_off_ratio < sure_of_cut_off) return levels.levels;
        found_.habit = DisplayHabit::cuts_off;
        return cut_off.levels;
    }

    // By the meters' own error, which is the same in every row.
    [[nodiscard]] Estimate widened(const Estimate& e) const {
        const double own = accuracy_ratio_ * e.value;
        return {e.value, {e.value - std::hypot(e.value - e.likely.lower(), own),
                          e.value + std::hypot(e.likely.upper() - e.value, own)}};
    }

    void mark(const PiecePoints& piece) {
        std::vector<char> apart(piece.points.size(), 0);
        for (const std::size_t i : piece.apart) apart[i] = 1;
        for (std::size_t i = 0; i < piece.points.size(); ++i) {
            const SweepPoint& p = piece.points[i];
            FittedRow& row = found_.rows[p.row];
            if (piece.kind == PieceKind::nothing) {
                row.use = p.taking ? RowUse::stands_apart : RowUse::nothing_taken;
                row.fitted_a = 0.0;
                continue;
            }
            row.use = p.taking && p.censored ? RowUse::supply_was_the_limit
                      : apart[i] != 0        ? RowUse::stands_apart
                                             : RowUse::fits;
            if (piece.kind != PieceKind::at_least) row.fitted_a = fitted_current(piece, p.voltage_v);
        }
    }

    void working_range() {
        bool any = false;
        for (const FittedRow& row : found_.rows) {
            const bool works = row.use == RowUse::fits || row.use == RowUse::supply_was_the_limit;
            if (!works) continue;
            const double v = row.row.voltage_v;
            found_.lowest_working_v = any ? std::min(found_.lowest_working_v, v) : v;
            found_.highest_working_v = any ? std::max(found_.highest_working_v, v) : v;
            any = true;
            // At a voltage with a reading: a law drawn on beyond them shows nothing.
            found_.most_power_w = std::max(found_.most_power_w, v * row.fitted_a.value_or(row.row.current_a));
        }
    }

    double accuracy_ratio_;
    std::optional<DisplayHabit> stated_habit_;
    LearnedWindow found_;
    ReadingSteps steps_;
    std::vector<SweepPoint> points_;
    std::vector<SweepPoint> inside_;
};

}  // namespace

std::optional<double> FittedRow::fitted_w() const {
    if (!fitted_a) return std::nullopt;
    return *fitted_a * row.voltage_v;
}

double LearnedWindow::coarsest_step_ratio() const {
    double ratio = 0.0;
    for (const LearnedPiece& p : pieces) {
        if (!has_law(p.kind)) continue;
        ratio = std::max({ratio, amps_step_a / p.middle_a(), watts_step_w / (p.middle_a() * p.middle_v())});
    }
    return ratio;
}

Interval SwitchVoltage::likely_v() const {
    const double cut_v = 0.025 * (between_v.upper() - between_v.lower());
    return {between_v.lower() + cut_v, between_v.upper() - cut_v};
}

Result<LearnedWindow, std::string> learn_window(const std::vector<SweepRow>& rows, const BenchMeters& meters) {
    return Learner(rows, meters).learn();
}

}  // namespace plait::measured
