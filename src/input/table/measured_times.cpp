#include "measured_times.hpp"

#include "quantity/words.hpp"

#include <plait/base/civil_date.hpp>

#include <array>
#include <cstdint>
#include <string>

namespace plait::input {
namespace {

constexpr double day_s = 86400.0;

class Clock {
public:
    Clock(std::string_view text, DateOrder order) : text_(text), order_(order) {}

    std::optional<WrittenTime> read() {
        bool dated = false;
        if (text_.size() >= 6 && (begins_with_date() || letter(at(0)))) {
            const auto days = letter(at(0)) ? date_by_month() : date();
            if (!days) return std::nullopt;
            dated = true;
            t_.time_s = static_cast<double>(*days) * day_s;
            t_.form = TimeForm::local;
            if (i_ == text_.size()) return t_;
            if (at(i_) == ',') ++i_;
            if (at(i_) != 'T' && at(i_) != 't' && at(i_) != ' ') return std::nullopt;
            ++i_;
            while (at(i_) == ' ') ++i_;
        }
        const auto clock_s = clock();
        if (!clock_s) return std::nullopt;
        t_.time_s += *clock_s;
        t_.form = dated ? TimeForm::local : TimeForm::clock;
        while (at(i_) == ' ') ++i_;
        if (i_ == text_.size()) return t_;
        if (!dated) return std::nullopt;  // a zone without a date tells nothing
        const auto zone_s = zone();
        if (!zone_s || i_ != text_.size()) return std::nullopt;
        t_.time_s -= *zone_s;
        t_.form = TimeForm::zoned;
        return t_;
    }

    std::optional<double> duration_s() {
        const auto hours = digits(1, 4);
        if (!hours || at(i_++) != ':') return std::nullopt;
        const auto minute = digits(2, 2);
        if (!minute || *minute > 59U || at(i_) != ':') return std::nullopt;
        const auto rest_s = seconds();
        if (!rest_s || i_ != text_.size()) return std::nullopt;
        return *hours * 3600.0 + *minute * 60.0 + *rest_s;
    }

private:
    [[nodiscard]] char at(std::size_t i) const { return i < text_.size() ? text_[i] : '\0'; }

    [[nodiscard]] bool begins_with_date() const {
        for (std::size_t i = 1; i < 5; ++i) {
            const char c = at(i);
            if (c == '-' || c == '/' || c == '.') return true;
            if (!is_digit(c)) return c == ' ' && i < 3 && letter(at(i + 1)) && letter(at(i + 2)) && letter(at(i + 3));
        }
        return false;
    }

    static bool letter(char c) { return lower(c) >= 'a' && lower(c) <= 'z'; }

    // At least `least` and at most `most` digits.
    std::optional<unsigned> digits(std::size_t least, std::size_t most) {
        unsigned value = 0;
        std::size_t n = 0;
        for (; n < most && is_digit(at(i_)); ++n, ++i_) value = value * 10U + static_cast<unsigned>(at(i_) - '0');
        return n >= least ? std::optional<unsigned>(value) : std::nullopt;
    }

    // Days from 1970-01-01.
    static std::optional<std::int64_t> days(unsigned year, unsigned month, unsigned day) {
        const CivilDate date = civil_date(static_cast<int>(year), static_cast<int>(month), static_cast<int>(day));
        if (year < 1900U || !date.ok()) return std::nullopt;
        return day_number(date);
    }

    // "Jun 10, 2026", "June 10 2026"
    std::optional<std::int64_t> date_by_month() {
        const auto month = month_word();
        if (!month) return std::nullopt;
        if (at(i_) == '.') ++i_;
        if (at(i_++) != ' ') return std::nullopt;
        const auto day = digits(1, 2);
        if (!day) return std::nullopt;
        if (at(i_) == ',') ++i_;
        if (at(i_++) != ' ') return std::nullopt;
        const auto year = digits(4, 4);
        return year ? days(*year, *month, *day) : std::nullopt;
    }

    std::optional<std::int64_t> date() {
        const std::size_t begin = i_;
        const auto first = digits(1, 4);
        const std::size_t length = i_ - begin;
        const char part = at(i_++);
        if (!first || (length == 3)) return std::nullopt;
        if (letter(at(i_))) {
            const auto month = month_word();
            if (!month || length > 2 || at(i_++) != part) return std::nullopt;
            const auto year = digits(4, 4);
            return year ? days(*year, *month, *first) : std::nullopt;
        }
        const auto second = digits(1, 2);
        if (!second || at(i_++) != part) return std::nullopt;
        if (length == 4) {
            const auto day = digits(1, 2);
            return day ? days(*first, *second, *day) : std::nullopt;
        }
        const std::size_t third = i_;
        auto year = digits(part == '.' ? 2 : 4, 4);
        if (!year || i_ - third == 3) return std::nullopt;
        if (i_ - third == 2) *year += 2000U;
        if (part == '.') return days(*year, *second, *first);
        return in_order(*first, *second, *year);
    }

    // Day and month, or month and day.
    std::optional<std::int64_t> in_order(unsigned first, unsigned second, unsigned year) {
        if (first > 12U) t_.order = DateOrder::day_first;
        if (second > 12U) t_.order = DateOrder::month_first;
        DateOrder order = order_ == DateOrder::unknown ? t_.order : order_;
        if (order == DateOrder::unknown) {
            t_.ambiguous = first != second;
            order = DateOrder::day_first;
        }
        return order == DateOrder::day_first ? days(year, second, first) : days(year, first, second);
    }

    std::optional<unsigned> month_word() {
        std::string word;
        for (; letter(at(i_)) && word.size() < 10; ++i_) word += at(i_);
        const int month = month_named(word);
        return month > 0 && !letter(at(i_)) ? std::optional(static_cast<unsigned>(month)) : std::nullopt;
    }

    std::optional<double> clock() {
        const auto hour = digits(1, 2);
        if (!hour || *hour > 24U || (at(i_) != ':' && at(i_) != 'h')) return std::nullopt;
        ++i_;
        const auto minute = digits(2, 2);
        if (!minute || *minute > 59U) return std::nullopt;
        double hours = *hour;
        double rest_s = 0.0;
        t_.minutes_only = at(i_) != ':';
        if (!t_.minutes_only) {
            const auto s = seconds();
            if (!s) return std::nullopt;
            rest_s = *s;
        }
        std::size_t k = i_;
        while (at(k) == ' ') ++k;
        const char half = lower(at(k));
        if ((half == 'a' || half == 'p') && lower(at(k + 1)) == 'm') {
            if (*hour < 1U || *hour > 12U) return std::nullopt;
            hours = (*hour % 12U) + (half == 'p' ? 12.0 : 0.0);
            i_ = k + 2;
        }
        const double total_s = hours * 3600.0 + *minute * 60.0 + rest_s;
        return total_s > day_s ? std::nullopt : std::optional<double>(total_s);
    }

    // ":05", ":05.25"
    std::optional<double> seconds() {
        ++i_;
        const auto second = digits(2, 2);
        if (!second || *second > 60U) return std::nullopt;  // 60: a leap second
        double total_s = *second;
        if (at(i_) == '.' || at(i_) == ',') {
            ++i_;
            double place_s = 0.1;
            const std::size_t begin = i_;
            for (; is_digit(at(i_)); ++i_, place_s /= 10.0) total_s += place_s * (at(i_) - '0');
            if (i_ == begin) return std::nullopt;
        }
        return total_s;
    }

    // Z, +hh, +hhmm, +hh:mm
    std::optional<double> zone() {
        if (at(i_) == 'Z' || at(i_) == 'z') {
            ++i_;
            return 0.0;
        }
        if (text_.substr(i_) == "UTC" || text_.substr(i_) == "GMT") {
            i_ += 3;
            return 0.0;
        }
        const double sign = at(i_) == '+' ? 1.0 : at(i_) == '-' ? -1.0 : 0.0;
        ++i_;
        if (sign == 0.0) return std::nullopt;
        const auto hours = digits(2, 2);
        if (!hours || *hours > 14U) return std::nullopt;
        if (at(i_) == ':') ++i_;
        const auto minutes = i_ == text_.size() ? std::optional<unsigned>(0U) : digits(2, 2);
        if (!minutes || *minutes > 59U) return std::nullopt;
        return sign * (*hours * 3600.0 + *minutes * 60.0);
    }

    std::string_view text_;
    DateOrder order_;
    std::size_t i_ = 0;
    WrittenTime t_;
};

}  // namespace

std::optional<WrittenTime> written_time(std::string_view text, DateOrder order) { return Clock(text, order).read(); }

std::optional<double> written_duration_s(std::string_view text) { return Clock(text, DateOrder::unknown).duration_s(); }

DateOrder asked_order(std::string_view normal_text) {
    constexpr auto none = std::string_view::npos;
    // "mm" behind a colon are minutes. Days are DD, TT or, before AAAA, JJ.
    std::size_t month = normal_text.find("mm");
    while (month != none && month > 0 && normal_text[month - 1] == ':') month = normal_text.find("mm", month + 2);
    std::size_t day = normal_text.find("dd");
    if (day == none) day = normal_text.find("tt");
    if (day == none && normal_text.find("aaaa") != none) day = normal_text.find("jj");
    if (month == none || day == none) return DateOrder::unknown;
    return day < month ? DateOrder::day_first : DateOrder::month_first;
}

std::optional<double> epoch_s(double number, bool unit_given) {
    constexpr double from_s = 946684800.0;  // 2000-01-01
    constexpr double to_s = 4102444800.0;   // 2100-01-01
    for (const double unit : {1.0, 1e3, 1e6, 1e9}) {
        if (unit_given && unit > 1.0) break;
        if (number >= from_s * unit && number < to_s * unit) return number / unit;
    }
    return std::nullopt;
}

}  // namespace plait::input
