#include <plait/measured/diagnosis.hpp>

#include "diagnosis_parts.hpp"
#include "gaussian.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace plait::measured {
namespace {

constexpr double least_shown_ratio = 0.01;
constexpr double coverage = 2.0;  // standard deviations in a stated accuracy
constexpr int refinements = 3;    // halvings around the likeliest amount of a fault that comes in degrees

/// What reading sizes are measured by where the expectation itself is nothing, such as an input that takes nothing.
struct Scale {
    double v = 0.0;
    double a = 0.0;
    [[nodiscard]] double of(MeterPoint p) const { return is_power(p) ? v * a : is_voltage(p) ? v : a; }
};

class FaultPosterior {
public:
    FaultPosterior(const FieldModel& model, const std::vector<MeterReading>& readings)
        : model_(model), planned_(as_planned(model.plan())) {
        for (const MeterReading& r : readings) {
            places_.push_back(r.place);
            values_.push_back(r.value);
        }
        for (std::size_t i = 0; i < model.plan().size(); ++i) {
            if (model.plan()[i].empty()) continue;
            const std::vector<ReadingPlace> own = model.places_of(i);
            all_places_.insert(all_places_.end(), own.begin(), own.end());
        }
        all_expected_ = expectations(model, all_places_);
        for (const ReadingPlace& place : places_) expected_.push_back(expected_at(place));
    }

    Diagnosis verdict(const std::vector<MeterReading>& readings) {
        Diagnosis d;
        d.all_within = true;
        for (std::size_t i = 0; i < readings.size(); ++i) {
            const bool within = expected_[i].holds(readings[i].value);
            d.readings.push_back({readings[i], expected_[i], within});
            d.all_within = d.all_within && within;
        }
        weigh(d);
        add_stops(model_, d);
        for (const MeterReading& r : readings) add_cell_temperature(model_, r, d);
        return d;
    }

private:
    struct Candidate {
        SuspectedFault suspect;
        FieldState state;
        double log_weight = -std::numeric_limits<double>::infinity();
    };

    [[nodiscard]] const Expectation& expected_at(ReadingPlace place) const {
        return *std::find_if(all_expected_.begin(), all_expected_.end(),
                             [&](const Expectation& e) { return e.place == place; });
    }

    [[nodiscard]] Scale scale_of(std::size_t input) const {
        return {std::abs(expected_at({MeterPoint::array_voc, input, 0}).value),
                std::abs(expected_at({MeterPoint::array_isc, input, 0}).value)};
    }

    /// The scatter of readings at some places around what any explanation says.
    [[nodiscard]] Gaussian scatter(const std::vector<Expectation>& expected) const {
        Gaussian gaussian(expected.size());
        std::vector<double> light(expected.size());
        std::vector<double> warmth(expected.size());
        for (std::size_t i = 0; i < expected.size(); ++i) {
            light[i] = expected[i].light_shift_value / coverage;
            warmth[i] = expected[i].warmth_shift_value / coverage;
            // A last digit or two, so that a reading of nothing has a scatter too.
            const double digit = 1e-3 * scale_of(expected[i].place.input).of(expected[i].place.point);
            gaussian.add(i, std::hypot(expected[i].from_meter_value / coverage, digit));
        }
        gaussian.add(light);
        gaussian.add(warmth);
        add_array_errors(expected, gaussian);
        gaussian.close();
        return gaussian;
    }

    // Voltage and current of each string may each differ from the datasheet: half of the variance shared by all.
    void add_array_errors(const std::vector<Expectation>& expected, Gaussian& gaussian) const {
        const double each = model_.conditions().accuracies.array_ratio / coverage * std::sqrt(0.5);
        for (const bool of_current : {false, true}) {
            const auto moved = [&](const Expectation& e) {
                return is_power(e.place.point) || is_voltage(e.place.point) != of_current;
            };
            std::vector<double> shared(expected.size(), 0.0);
            for (std::size_t i = 0; i < expected.size(); ++i) {
                if (moved(expected[i])) shared[i] = each * expected[i].value;
            }
            gaussian.add(shared);
            for_each_planned_string([&](std::size_t input, std::size_t string, double share) {
                std::vector<double> own(expected.size(), 0.0);
                for (std::size_t i = 0; i < expected.size(); ++i) {
                    const ReadingPlace& at = expected[i].place;
                    if (at.input != input || !moved(expected[i])) continue;
                    if (!is_of_string(at.point)) own[i] = each * share * expected[i].value;
                    if (is_of_string(at.point) && at.string == string) own[i] = each * expected[i].value;
                }
                gaussian.add(own);
            });
        }
    }

    template <class Visit>
    void for_each_planned_string(Visit visit) const {
        for (std::size_t i = 0; i < model_.plan().size(); ++i) {
            const std::size_t count = model_.plan()[i].strings.size();
            for (std::size_t s = 0; s < count; ++s) visit(i, s, 1.0 / static_cast<double>(count));
        }
    }

    void weigh(Diagnosis& d) {
        const Gaussian gaussian = scatter(expected_);
        const FaultScene scene = fault_scene(model_, planned_, places_);
        std::vector<std::pair<const Fault*, Suspicions>> charges;
        double weights = 0.0;
        for (const Fault* fault : all_faults()) {
            Suspicions suspicions;
            fault->suspect(scene, suspicions);
            if (suspicions.empty()) continue;
            weights += fault->weight;
            charges.emplace_back(fault, std::move(suspicions));
        }
        const double faults_prior = 1.0 - sound_prior_ratio - unknown_prior_ratio;
        std::vector<Candidate> candidates;
        for (const auto& [fault, suspicions] : charges) {
            const double prior = faults_prior * fault->weight / weights / static_cast<double>(suspicions.size());
            for (const Suspicion& suspicion : suspicions) {
                Candidate c = tried(*fault, suspicion, gaussian);
                c.log_weight += std::log(prior);
                candidates.push_back(std::move(c));
            }
        }
        std::vector<double> sound;
        for (const Expectation& e : expected_) sound.push_back(e.value);
        const double log_sound = gaussian.log_density(values_, sound) + std::log(sound_prior_ratio);
        // What no fault describes may read anything from −1.5 to 1.5 of the array's own figures.
        double log_unknown = std::log(unknown_prior_ratio);
        for (const ReadingPlace& place : places_) {
            log_unknown -= std::log(3.0 * std::max(scale_of(place.input).of(place.point), 1e-6));
        }

        double most = std::max(log_sound, log_unknown);
        for (const Candidate& c : candidates) most = std::max(most, c.log_weight);
        double sum = std::exp(log_sound - most) + std::exp(log_unknown - most);
        for (const Candidate& c : candidates) sum += std::exp(c.log_weight - most);
        d.sound_ratio = std::exp(log_sound - most) / sum;
        d.unknown_ratio = std::exp(log_unknown - most) / sum;
        for (Candidate& c : candidates) c.suspect.probability_ratio = std::exp(c.log_weight - most) / sum;
        std::stable_sort(candidates.begin(), candidates.end(),
                         [](const Candidate& a, const Candidate& b) { return a.log_weight > b.log_weight; });
        std::vector<FieldState> states;
        for (Candidate& c : candidates) {
            if (d.suspects.size() >= 2 && c.suspect.probability_ratio < least_shown_ratio) break;
            d.suspects.push_back(std::move(c.suspect));
            states.push_back(std::move(c.state));
        }
        find_ambiguity(d, states, gaussian);
    }

    /// The density of the readings where others than planned are expected. All errors but a last digit are shares of what is
    /// read: where a fault reads more than planned, they grow with it, and a meter in another range shows them in that range.
    [[nodiscard]] double density_of(const FieldState& state, const std::vector<double>& would_read,
                                    const Gaussian& gaussian) const {
        std::vector<double> seen = values_;
        std::vector<double> wanted = would_read;
        double log_wider = 0.0;
        for (std::size_t i = 0; i < seen.size(); ++i) {
            const MeterPoint point = places_[i].point;
            const double shown = is_of_display(point) ? 1.0 : is_voltage(point) ? state.volts_shown_factor : state.amps_shown_factor;
            const double planned = std::abs(expected_[i].value);
            const double more = planned > 0.0 ? std::abs(would_read[i] / shown) / planned : 1.0;
            const double wider = std::abs(shown) * std::max(1.0, more);
            seen[i] /= wider;
            wanted[i] /= wider;
            log_wider += std::log(wider);
        }
        return gaussian.log_density(seen, wanted) - log_wider;
    }

    /// A suspicion's readings and weight without its prior; of degrees, the likeliest and the mean over all.
    Candidate tried(const Fault& fault, const Suspicion& suspicion, const Gaussian& gaussian) {
        struct Degree {
            double amount = 0.0;
            double log_density = 0.0;
        };
        Candidate best;
        best.suspect.fault = &fault;
        best.suspect.place = suspicion.place;
        double best_density = -std::numeric_limits<double>::infinity();
        const auto density = [&](double amount) {
            FieldState state = suspicion.state(amount);
            std::vector<double> would_read = model_.readings(state, places_);
            const double log_density = density_of(state, would_read, gaussian);
            if (log_density > best_density) {
                best_density = log_density;
                best.suspect.would_read = std::move(would_read);
                if (!suspicion.amounts.empty()) best.suspect.amount_factor = amount;
                best.state = std::move(state);
            }
            return log_density;
        };
        if (suspicion.amounts.empty()) {
            best.log_weight = density(0.0);
            return best;
        }
        std::vector<Degree> degrees;
        for (const double amount : suspicion.amounts) degrees.push_back({amount, density(amount)});
        const auto rises = [](const Degree& a, const Degree& b) { return a.amount < b.amount; };
        std::sort(degrees.begin(), degrees.end(), rises);
        for (int round = 0; round < refinements; ++round) {
            const auto top = std::max_element(degrees.begin(), degrees.end(), [](const Degree& a, const Degree& b) {
                return a.log_density < b.log_density;
            });
            const double at = top->amount;
            std::vector<double> between;
            if (top != degrees.begin()) between.push_back(0.5 * (at + (top - 1)->amount));
            if (top + 1 != degrees.end()) between.push_back(0.5 * (at + (top + 1)->amount));
            for (const double amount : between) degrees.push_back({amount, density(amount)});
            std::sort(degrees.begin(), degrees.end(), rises);
        }
        // The mean density over equally likely degrees, by trapezoids.
        double mean = 0.0;
        for (std::size_t i = 1; i < degrees.size(); ++i) {
            mean +=
                0.5 * (degrees[i].amount - degrees[i - 1].amount) *
                (std::exp(degrees[i].log_density - best_density) + std::exp(degrees[i - 1].log_density - best_density));
        }
        mean /= degrees.back().amount - degrees.front().amount;
        best.log_weight = best_density + std::log(mean);
        return best;
    }

    /// Whether another suspect reads the same as the first one here, and what would part them.
    void find_ambiguity(Diagnosis& d, const std::vector<FieldState>& states, const Gaussian& gaussian) const {
        for (std::size_t other = 1; other < d.suspects.size(); ++other) {
            const double apart = gaussian.distance_squared(d.suspects[0].would_read, d.suspects[other].would_read);
            if (d.suspects[other].probability_ratio < least_shown_ratio || apart >= coverage * coverage) continue;
            Ambiguity found;
            found.second = other;
            const std::vector<double> first = model_.readings(states[0], all_places_);
            const std::vector<double> second = model_.readings(states[other], all_places_);
            double widest = coverage;
            for (std::size_t i = 0; i < all_places_.size(); ++i) {
                if (std::find(places_.begin(), places_.end(), all_places_[i]) != places_.end()) continue;
                const double sigma = std::max(all_expected_[i].half_width_value() / coverage,
                                              1e-3 * scale_of(all_places_[i].input).of(all_places_[i].point));
                const double deviations = std::abs(first[i] - second[i]) / sigma;
                if (!(deviations > widest)) continue;
                widest = deviations;
                found.further = all_places_[i];
                found.first_reading_value = first[i];
                found.second_reading_value = second[i];
            }
            d.ambiguity = found;
            return;
        }
    }

    const FieldModel& model_;
    FieldState planned_;
    std::vector<ReadingPlace> places_;
    std::vector<double> values_;
    std::vector<Expectation> expected_;
    std::vector<ReadingPlace> all_places_;
    std::vector<Expectation> all_expected_;
};

}  // namespace

Diagnosis diagnose(const FieldModel& model, const std::vector<MeterReading>& readings) {
    return FaultPosterior(model, readings).verdict(readings);
}

}  // namespace plait::measured
