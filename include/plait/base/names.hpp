// What the values of an enumeration are called, as a table: files, reports and programs read the same one.
#pragma once

#include <array>
#include <cstddef>
#include <string_view>
#include <utility>

namespace plait {

template <class E>
struct Name {
    E value;
    std::string_view text;
};

template <class E>
Name(E, const char*) -> Name<E>;

/// Whether an enumeration has an enumerator of this value. C++20 cannot ask that; g++ and clang spell a value without a
/// name as a cast, in parentheses, where they print a function's template arguments.
template <auto Value>
[[nodiscard]] consteval bool has_enumerator() {
    constexpr std::string_view printed = __PRETTY_FUNCTION__;
    return printed[printed.find("Value = ") + 8] != '(';
}

/// A table that has a row for every enumerator of `E`, which count from 0: a row that is missing does not compile.
template <class E, std::size_t N>
struct Names : std::array<Name<E>, N> {
    template <class... Rows>
    consteval Names(Name<E> first, Rows... rest) : std::array<Name<E>, N>{first, rest...} {
        if (!whole(std::make_index_sequence<N + 1>{})) row_missing();
    }

private:
    template <std::size_t... I>
    consteval bool whole(std::index_sequence<I...>) const {
        return (... && (!has_enumerator<static_cast<E>(I)>() || has(static_cast<E>(I))));
    }
    consteval bool has(E value) const {
        for (const Name<E>& name : *this) {
            if (name.value == value) return true;
        }
        return false;
    }
    static void row_missing() {}  // no constant expression can call it
};

template <class E, class... Rows>
Names(Name<E>, Rows...) -> Names<E, 1 + sizeof...(Rows)>;

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
