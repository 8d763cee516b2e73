// Unlike strings side by side drive current back through the weakest of them, and among many unlike strings nearly every wiring
// drives back more than the panels bear (rule reverse-current). This turns such wirings away before they are solved.
//
// At open circuit the strings' currents add up to nothing, and every current falls with voltage. So the open-circuit voltage lies
// between two neighbours of a fixed row of voltages, the current driven back between the string's own currents there, and those
// currents are worked out once for a string, whatever wiring it is in.
//
// The rule takes the weather in which most is driven back by the figures as stated, and there puts the string in question at the
// weak end of its tolerance, all others at the strong end. A wiring is turned away where that is too much in every weather that
// may be the one.
#pragma once

#include "input_table.hpp"

#include <plait/physics/reverse_current.hpp>

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace plait::search {

class ReverseTable {
public:
    explicit ReverseTable(const InputTable& table);

    /// Whether what these strings, by rising type, drive back through one of them certainly makes a wiring that is not
    /// looked for: for `Accept::holds` the tolerances count, for `Accept::may_exceed` only the figures as stated.
    [[nodiscard]] bool too_much(std::span<const std::size_t> types);

private:
    static constexpr std::size_t most_steps = 1024;

    enum class End { weak, stated, strong };  ///< of the tolerance
    /// One string in one weather.
    struct StringRow {
        physics::ArrayCurve curve;
        physics::StringTolerance tolerance;
        double short_circuit_a = 0.0;
        double top_v = 0.0;
        std::array<std::vector<double>, 3> current_a;  ///< by end and step; not a number until somebody asks
        [[nodiscard]] double at_a(std::size_t step, End end);
    };
    /// Like strings of the wiring.
    struct Run {
        std::size_t type = 0;
        double count = 0.0;
        double rating_a = 0.0;
        StringRow* row = nullptr;
    };
    /// The most that is driven back through one of the strings, by what its panels bear.
    struct Bounds {
        double least_ratio = 0.0;
        double most_ratio = 0.0;
    };

    void look_at(std::size_t weather);
    /// The last step at which run `own` at one end and all other strings at another carry something forward together.
    [[nodiscard]] std::size_t last_forward_step(std::size_t own, End own_end, End others_end) const;
    [[nodiscard]] Bounds as_stated() const;
    [[nodiscard]] bool too_much_by_tolerance() const;
    StringRow& row_of(std::size_t type, std::size_t weather);

    const InputTable* table_;
    std::vector<double> top_v_;                   // by weather
    std::vector<std::optional<StringRow>> rows_;  // type × weather
    std::vector<Run> runs_;
};

}  // namespace plait::search
