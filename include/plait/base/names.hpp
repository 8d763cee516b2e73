// What the values of an enumeration are called, as a table: files, reports and programs read the same one.
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

namespace plait {

template <class E>
struct Name {
    E value;
    std::string_view text;
};

template <class E>
Name(E, const char*) -> Name<E>;

/// The name of a value; empty if the table does not have it.
template <class E, std::size_t N>
[[nodiscard]] constexpr std::string_view name_in(const std::array<Name<E>, N>& names, E value) {
    for (const Name<E>& name : names) {
        if (name.value == value) return name.text;
    }
    return {};
}

/// The first `Count` names, in the order of the table.
template <std::size_t Count, class E, std::size_t N>
[[nodiscard]] constexpr std::array<std::string_view, Count> first_texts(const std::array<Name<E>, N>& names) {
    static_assert(Count <= N);
    std::array<std::string_view, Count> texts{};
    for (std::size_t i = 0; i < Count; ++i) texts[i] = names[i].text;
    return texts;
}

/// All of them.
template <class E, std::size_t N>
[[nodiscard]] constexpr std::array<std::string_view, N> texts_of(const std::array<Name<E>, N>& names) {
    return first_texts<N>(names);
}

}  // namespace plait
