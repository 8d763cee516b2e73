// How long a search may go on. Every loop that grows with the panels counts its work here; now and then somebody is
// asked, and once the answer was no it stays no.
#pragma once

#include <cstddef>
#include <functional>
#include <utility>

namespace plait::search {

class Patience {
public:
    /// Empty: without end.
    explicit Patience(std::function<bool()> go_on) : go_on_(std::move(go_on)) {}

    /// After so many steps of a few nanoseconds. False: stop.
    bool lasts(std::size_t steps) {
        if (over_) return false;
        steps_ += steps;
        if (steps_ < steps_between_questions) return true;
        steps_ = 0;
        over_ = go_on_ && !go_on_();
        return !over_;
    }
    [[nodiscard]] bool over() const { return over_; }

private:
    static constexpr std::size_t steps_between_questions = 1000000;  // some milliseconds

    std::function<bool()> go_on_;
    std::size_t steps_ = 0;
    bool over_ = false;
};

}  // namespace plait::search
