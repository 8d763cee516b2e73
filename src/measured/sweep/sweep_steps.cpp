#include "sweep_steps.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace plait::measured {
namespace {

constexpr std::size_t by_hand = 100;  // so few rows are set one by one, without jitter
constexpr double turn_by_hand_ratio = 0.01;
constexpr double turn_ratio = 0.05;     // of the range: less is jitter of the supply
constexpr double same_ratio = 0.0005;   // of the range: readings this near are one step
constexpr double most_apart = 5.0;      // robust deviations inside a step
constexpr double least_spread = 0.005;  // half a per cent is never called apart

double median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    if (values.size() % 2 == 1) return *middle;
    return 0.5 * (*middle + *std::max_element(values.begin(), middle));
}

std::vector<double> logs_of(const std::vector<SweepPoint>& points, const SweepStep& s) {
    std::vector<double> logs;
    for (const std::size_t i : s.points) {
        if (points[i].taking) logs.push_back(std::log(points[i].current_a));
    }
    return logs;
}

// How far rows stray inside a step, over all steps: one step alone has too few rows to tell.
double spread_within(const std::vector<SweepPoint>& points, const std::vector<SweepStep>& steps) {
    std::vector<double> strays;
    for (const SweepStep& s : steps) {
        std::vector<double> logs = logs_of(points, s);
        if (logs.size() < 3) continue;
        const double middle = median(logs);
        for (double& l : logs) l = std::abs(l - middle);
        logs.erase(std::min_element(logs.begin(), logs.end()));  // the median itself, or next to it
        strays.insert(strays.end(), logs.begin(), logs.end());
    }
    return strays.empty() ? 0.0 : mad_to_sigma * median(std::move(strays));
}

// The mean of the rows that are not far from the step's median.
void summarise(const std::vector<SweepPoint>& points, double reach, SweepStep& s) {
    std::size_t censored = 0;
    for (const std::size_t i : s.points) {
        s.voltage_v += points[i].voltage_v / static_cast<double>(s.points.size());
        censored += points[i].taking && points[i].censored ? 1U : 0U;
    }
    const std::vector<double> logs = logs_of(points, s);
    s.taking = 2 * logs.size() > s.points.size();
    s.censored = 2 * censored > logs.size();
    if (!s.taking) return;
    const double middle = median(logs);
    for (const std::size_t i : s.points) {
        if (!points[i].taking) continue;
        const double log_current = std::log(points[i].current_a);
        if (logs.size() > 2 && std::abs(log_current - middle) > reach) continue;
        s.used.push_back(i);
        s.weight += 1.0;
        s.log_current += log_current;
        s.log_power += log_current + std::log(points[i].voltage_v);
    }
    if (s.weight < 1.0) {  // an even number of rows far apart: nothing can be said
        s.taking = false;
        return;
    }
    s.log_current /= s.weight;
    s.log_power /= s.weight;
}

// One reading out of order inside a way, or the first two changed about, are no way back. One that shows the input back
// after a trip is.
bool out_of_order(const std::vector<SweepRow>& rows, std::size_t begin, std::size_t end, int direction) {
    if (begin == 0) return direction == -1 && end == 2;
    return end - begin == 1 && rows[begin - 1].current_a > 0.1 * rows[begin].current_a;
}

}  // namespace

bool find_directions(const std::vector<SweepRow>& rows, std::vector<char>& rising) {
    rising.assign(rows.size(), 1);
    if (rows.empty()) return true;
    const auto by_voltage = [](const SweepRow& a, const SweepRow& b) { return a.voltage_v < b.voltage_v; };
    const auto ends = std::minmax_element(rows.begin(), rows.end(), by_voltage);
    const double turn_v =
        (rows.size() <= by_hand ? turn_by_hand_ratio : turn_ratio) * (ends.second->voltage_v - ends.first->voltage_v);
    std::size_t low = 0;
    std::size_t high = 0;
    std::size_t leg_begin = 0;
    std::ptrdiff_t legs = 0;
    int direction = 0;
    const auto close_leg = [&](std::size_t end) {
        if (end < rows.size() && out_of_order(rows, leg_begin, end, direction)) {
            direction = -direction;
            if (leg_begin > 0) legs -= 2;  // what was before it and what comes after it are one way
        }
        std::fill(rising.begin() + static_cast<std::ptrdiff_t>(leg_begin),
                  rising.begin() + static_cast<std::ptrdiff_t>(end), static_cast<char>(direction >= 0 ? 1 : 0));
        leg_begin = end;
        ++legs;
    };
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const double v = rows[i].voltage_v;
        if (v < rows[low].voltage_v) low = i;
        if (v >= rows[high].voltage_v) high = i;  // the last of equal ones: a dwell at the top belongs to the way up
        if (direction != 1 && v > rows[low].voltage_v + turn_v) {
            if (direction == -1) close_leg(low + 1);
            direction = 1;
            high = i;
        } else if (direction != -1 && v < rows[high].voltage_v - turn_v) {
            if (direction == 1) close_leg(high + 1);
            direction = -1;
            low = i;
        }
        if (direction == 1) low = high;
        if (direction == -1) high = low;
    }
    close_leg(rows.size());
    return legs <= 2 || legs * 3 <= static_cast<std::ptrdiff_t>(rows.size());
}

std::vector<SweepStep> steps_of(const std::vector<SweepPoint>& points) {
    std::vector<SweepStep> steps;
    if (points.empty()) return steps;
    std::vector<std::size_t> order(points.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return points[a].voltage_v != points[b].voltage_v ? points[a].voltage_v < points[b].voltage_v : a < b;
    });
    const double range_v = points[order.back()].voltage_v - points[order.front()].voltage_v;
    for (double near_v = same_ratio * range_v;; near_v *= 1.5) {
        std::size_t count = 1;
        double first_v = points[order.front()].voltage_v;
        for (const std::size_t i : order) {
            if (points[i].voltage_v - first_v <= near_v) continue;
            first_v = points[i].voltage_v;
            ++count;
        }
        if (count > most_steps) continue;
        steps.reserve(count);
        for (const std::size_t i : order) {
            if (steps.empty() || points[i].voltage_v - first_v > near_v) {
                steps.emplace_back();
                first_v = points[i].voltage_v;
            }
            steps.back().points.push_back(i);
        }
        break;
    }
    const double reach = most_apart * std::max(least_spread, spread_within(points, steps));
    for (SweepStep& s : steps) summarise(points, reach, s);
    return steps;
}

}  // namespace plait::measured
