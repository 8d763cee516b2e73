#include <plait/output/json_value.hpp>

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace plait::output {

Json::Json() : value_(nullptr) {}
Json::Json(std::nullptr_t) : value_(nullptr) {}
Json::Json(std::string text) : value_(std::move(text)) {}
Json::Json(const char* text) : value_(std::string(text)) {}
Json::Json(std::string_view text) : value_(std::string(text)) {}
Json::Json(Number number) : value_(number) {}
Json::Json(const Json& other) = default;
Json::Json(Json&& other) noexcept = default;
Json& Json::operator=(const Json& other) = default;
Json& Json::operator=(Json&& other) noexcept = default;
Json::~Json() = default;

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

Json::Json(std::initializer_list<Json> list) {
    const auto is_member = [](const Json& element) {
        const Array* pair = std::get_if<Array>(&element.value_);
        return pair && pair->size() == 2 && std::holds_alternative<std::string>(pair->front().value_);
    };
    if (!std::all_of(list.begin(), list.end(), is_member)) {
        value_ = Array(list);
        return;
    }
    Object& members = value_.emplace<Object>();
    members.reserve(list.size());
    for (const Json& element : list) {
        const Array& pair = std::get<Array>(element.value_);
        members.emplace_back(std::get<std::string>(pair.front().value_), pair.back());
    }
}

Json Json::object() {
    Json out;
    out.value_ = Object{};
    return out;
}

Json Json::array() {
    Json out;
    out.value_ = Array{};
    return out;
}

Json Json::array(std::initializer_list<Json> list) {
    Json out;
    out.value_ = Array(list);
    return out;
}

template <class T>
T& Json::become() {
    if (std::holds_alternative<std::nullptr_t>(value_)) value_ = T{};
    return std::get<T>(value_);
}

Json& Json::operator[](std::string_view name) {
    Object& members = become<Object>();
    const auto at = std::find_if(members.begin(), members.end(), [&](const Member& m) { return m.first == name; });
    if (at != members.end()) return at->second;
    return members.emplace_back(std::string(name), Json()).second;
}

void Json::push_back(Json element) { become<Array>().push_back(std::move(element)); }

void Json::update(Json other) {
    for (Member& m : std::get<Object>(other.value_)) (*this)[m.first] = std::move(m.second);
}

std::size_t Json::size() const {
    if (const Array* list = std::get_if<Array>(&value_)) return list->size();
    if (const Object* members = std::get_if<Object>(&value_)) return members->size();
    return 0;
}

/// The same value as the library has it.
struct JsonWriter {
    using Library = nlohmann::ordered_json;

    Library operator()(std::nullptr_t) const { return nullptr; }
    Library operator()(const Json::Number& number) const {
        return std::visit([](auto n) { return Library(n); }, number);
    }
    Library operator()(const std::string& text) const { return text; }
    Library operator()(const Json::Array& list) const {
        Library out = Library::array();
        for (const Json& element : list) out.push_back(of(element));
        return out;
    }
    Library operator()(const Json::Object& members) const {
        Library::object_t out;
        out.reserve(members.size());
        // Names are unique already; asking the library's object for each once more would be quadratic.
        for (const auto& [name, value] : members) out.Container::emplace_back(name, of(value));
        return out;
    }
    Library of(const Json& json) const { return std::visit(*this, json.value_); }
};

std::string Json::text(int indent) const {
    return JsonWriter().of(*this).dump(indent, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
}

}  // namespace plait::output
