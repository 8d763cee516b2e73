// A value, or why there is none. Bad input and roots that do not exist are ordinary here, so they are values in
// the signature; exceptions are left to libraries and to bugs.
#pragma once

#include <plait/base/diagnostic.hpp>

#include <cassert>
#include <utility>
#include <variant>

namespace plait {

template <class E>
struct Failure {
    E error;
};
template <class E>
Failure(E) -> Failure<E>;  // clang 14 does not deduce this by itself

template <class T, class E = Diagnostics>
class [[nodiscard]] Result {
public:
    Result(T value) : state_(std::in_place_index<0>, std::move(value)) {}
    Result(Failure<E> failure) : state_(std::in_place_index<1>, std::move(failure.error)) {}

    [[nodiscard]] bool has_value() const noexcept { return state_.index() == 0; }
    explicit operator bool() const noexcept { return has_value(); }

    [[nodiscard]] const T& operator*() const& noexcept { return *checked<0>(); }
    [[nodiscard]] T&& operator*() && noexcept {
        assert(has_value() && "look at has_value() first");
        return std::move(*std::get_if<0>(&state_));
    }
    [[nodiscard]] const T* operator->() const noexcept { return checked<0>(); }
    [[nodiscard]] const E& error() const noexcept { return *checked<1>(); }

private:
    template <std::size_t I>
    [[nodiscard]] const auto* checked() const noexcept {
        const auto* held = std::get_if<I>(&state_);
        assert(held && "look at has_value() first");
        return held;
    }
    std::variant<T, E> state_;
};

}  // namespace plait
