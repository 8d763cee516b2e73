#include "measured_cells.hpp"

#include <algorithm>

namespace plait::input {
namespace {

// Days from 1970-01-01 in the Gregorian calendar: the year is begun in March, so that the leap day comes last and the
// lengths of the months before it follow one straight line.
constexpr std::int64_t days_from_civil(std::int64_t year, unsigned month, unsigned day) {
    year -= month <= 2U ? 1 : 0;
    const std::int64_t era = (year >= 0 ? year : year - 399) / 400;
    const auto year_of_era = static_cast<unsigned>(year - era * 400);
    const unsigned day_of_year = (153U * (month > 2U ? month - 3U : month + 9U) + 2U) / 5U + day - 1U;
    const unsigned day_of_era = year_of_era * 365U + year_of_era / 4U - year_of_era / 100U + day_of_year;
    return era * 146097 + static_cast<std::int64_t>(day_of_era) - 719468;
}
static_assert(days_from_civil(1970, 1, 1) == 0);
static_assert(days_from_civil(2000, 2, 29) == 11016);
static_assert(days_from_civil(2024, 3, 1) - days_from_civil(2024, 2, 28) == 2);

constexpr unsigned days_in(unsigned year, unsigned month) {
    const bool leap = (year % 4U == 0U && year % 100U != 0U) || year % 400U == 0U;
    return month == 2U ? (leap ? 29U : 28U) : (month == 4U || month == 6U || month == 9U || month == 11U ? 30U : 31U);
}

class Clock {
public:
    explicit Clock(std::string_view text) : text_(text) {}

    std::optional<WrittenTime> read() {
        WrittenTime t;
        bool dated = false;
        if (text_.size() >= 8 && (at(4) == '-' || at(4) == '/' || at(2) == '.' || at(1) == '.')) {
            const auto days = date();
            if (!days) return std::nullopt;
            dated = true;
            t.time_s = static_cast<double>(*days) * 86400.0;
            t.form = TimeForm::local;
            if (i_ == text_.size()) return t;
            if (at(i_) != 'T' && at(i_) != 't' && at(i_) != ' ') return std::nullopt;
            ++i_;
        }
        const auto clock_s = clock();
        if (!clock_s) return std::nullopt;
        t.time_s += *clock_s;
        t.form = dated ? TimeForm::local : TimeForm::clock;
        while (at(i_) == ' ') ++i_;
        if (i_ == text_.size()) return t;
        if (!dated) return std::nullopt;  // a zone without a date tells nothing
        const auto zone_s = zone();
        if (!zone_s || i_ != text_.size()) return std::nullopt;
        t.time_s -= *zone_s;
        t.form = TimeForm::zoned;
        return t;
    }

private:
    [[nodiscard]] char at(std::size_t i) const { return i < text_.size() ? text_[i] : '\0'; }

    // At least `least` and at most `most` digits.
    std::optional<unsigned> digits(std::size_t least, std::size_t most) {
        unsigned value = 0;
        std::size_t n = 0;
        for (; n < most && at(i_) >= '0' && at(i_) <= '9'; ++n, ++i_)
            value = value * 10U + static_cast<unsigned>(at(i_) - '0');
        return n >= least ? std::optional<unsigned>(value) : std::nullopt;
    }

    std::optional<std::int64_t> date() {
        const bool year_first = at(4) == '-' || at(4) == '/';
        const char part = year_first ? at(4) : '.';
        const auto first = digits(1, 4);
        if (!first || at(i_++) != part) return std::nullopt;
        const auto month = digits(1, 2);
        if (!month || at(i_++) != part) return std::nullopt;
        const auto last = digits(year_first ? 1 : 4, year_first ? 2 : 4);
        if (!last) return std::nullopt;
        const unsigned year = year_first ? *first : *last;
        const unsigned day = year_first ? *last : *first;
        if (year < 1900U || *month < 1U || *month > 12U || day < 1U || day > days_in(year, *month)) return std::nullopt;
        return days_from_civil(year, *month, day);
    }

    std::optional<double> clock() {
        const auto hour = digits(1, 2);
        if (!hour || *hour > 24U || at(i_++) != ':') return std::nullopt;
        const auto minute = digits(2, 2);
        if (!minute || *minute > 59U) return std::nullopt;
        double total_s = *hour * 3600.0 + *minute * 60.0;
        if (at(i_) == ':') {
            ++i_;
            const auto second = digits(2, 2);
            if (!second || *second > 60U) return std::nullopt;  // 60: a leap second
            total_s += *second;
            if (at(i_) == '.' || at(i_) == ',') {
                ++i_;
                double place_s = 0.1;
                const std::size_t begin = i_;
                for (; at(i_) >= '0' && at(i_) <= '9'; ++i_, place_s /= 10.0) total_s += place_s * (at(i_) - '0');
                if (i_ == begin) return std::nullopt;
            }
        }
        return total_s > 86400.0 ? std::nullopt : std::optional<double>(total_s);
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
    std::size_t i_ = 0;
};

bool same_word(std::string_view a, std::string_view lower) {
    const auto equal = [](char x, char y) {
        if (x == '_' || x == '-') x = ' ';
        return (x >= 'A' && x <= 'Z' ? static_cast<char>(x - 'A' + 'a') : x) == y;
    };
    return a.size() == lower.size() && std::equal(a.begin(), a.end(), lower.begin(), equal);
}

template <std::size_t N>
bool is_one_of(std::string_view word, const std::array<std::string_view, N>& words) {
    return std::any_of(words.begin(), words.end(), [&](std::string_view w) { return same_word(word, w); });
}

}  // namespace

std::optional<WrittenTime> written_time(std::string_view text) { return Clock(text).read(); }

std::optional<MeasuredState> written_state(std::string_view word) {
    static constexpr std::array<std::string_view, 15> charging{
        "charging", "charge", "on",         "running", "run",      "working",      "active", "ok",
        "bulk",     "float",  "absorption", "mppt",    "tracking", "taking power", "1"};
    static constexpr std::array<std::string_view, 13> idle{"idle",     "standby",      "off",  "waiting", "wait",
                                                           "sleep",    "not charging", "none", "stopped", "ready",
                                                           "starting", "no power",     "0"};
    static constexpr std::array<std::string_view, 13> error{
        "error", "err",   "fault",   "trip",       "tripped",  "overvoltage", "over voltage",
        "ovp",   "alarm", "failure", "protection", "shutdown", "shut down"};
    if (is_one_of(word, charging)) return MeasuredState::charging;
    if (is_one_of(word, idle)) return MeasuredState::idle;
    if (is_one_of(word, error)) return MeasuredState::error;
    return std::nullopt;
}

bool says_not_measured(std::string_view cell) {
    static constexpr std::array<std::string_view, 4> words{"n/a", "na", "null", "nan"};
    return cell.empty() || cell == "-" || cell == "--" || cell == "–" || cell == "—" || is_one_of(cell, words);
}

}  // namespace plait::input
