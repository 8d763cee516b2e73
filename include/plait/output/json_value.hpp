// A JSON value, as reports build it: members keep their order. A kept library writes it, in src/output/data/json_value.cpp alone: its
// header costs more to compile than any report, and what it makes of a list in braces is most of a report's code.
#pragma once

#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

namespace plait::output {

class Json {
public:
    using Member = std::pair<std::string, Json>;
    using Array = std::vector<Json>;
    using Object = std::vector<Member>;

    Json();
    Json(std::nullptr_t);
    Json(std::string text);
    Json(const char* text);
    Json(std::string_view text);
    /// An object if every element is a pair that a text begins, else an array.
    Json(std::initializer_list<Json> list);
    template <class T, std::enable_if_t<std::is_arithmetic_v<T>, int> = 0>
    Json(T value) : Json(exact(value)) {}
    template <class T>
    Json(const std::vector<T>& list) : value_(Array(list.begin(), list.end())) {}
    Json(const Json& other);
    Json(Json&& other) noexcept;
    Json& operator=(const Json& other);
    Json& operator=(Json&& other) noexcept;
    ~Json();

    [[nodiscard]] static Json object();
    [[nodiscard]] static Json array();
    [[nodiscard]] static Json array(std::initializer_list<Json> list);

    /// The member of that name, made if it is not there; null becomes an object. Looked up one after the other.
    Json& operator[](std::string_view name);
    /// Null becomes an array.
    void push_back(Json element);
    /// Takes the members of another object; those that are there already get its values.
    void update(Json other);
    /// Of an array or object.
    [[nodiscard]] std::size_t size() const;
    [[nodiscard]] bool empty() const { return size() == 0; }

    /// The text, two blanks a level; without any if `indent` is negative. What is no UTF-8 becomes U+FFFD, what is no
    /// finite number null.
    [[nodiscard]] std::string text(int indent) const;

private:
    using Number = std::variant<bool, std::int64_t, std::uint64_t, double>;
    using Value = std::variant<std::nullptr_t, Number, std::string, Array, Object>;

    template <class T>
    static Number exact(T value) {
        if constexpr (std::is_same_v<T, bool> || std::is_same_v<T, double>) return value;
        else if constexpr (std::is_floating_point_v<T>) return static_cast<double>(value);
        else if constexpr (std::is_signed_v<T>) return static_cast<std::int64_t>(value);
        else return static_cast<std::uint64_t>(value);
    }
    explicit Json(Number number);

    template <class T>
    T& become();

    friend struct JsonWriter;

    Value value_;
};

/// JSON has no infinity and no NaN; what is not a number is null, on purpose and not by a library's leave.
[[nodiscard]] Json number(double value);
[[nodiscard]] inline Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

}  // namespace plait::output
