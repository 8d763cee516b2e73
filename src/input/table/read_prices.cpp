#include <plait/input/read_catalogue.hpp>

#include "quantity/fields.hpp"
#include "quantity/text_guard.hpp"
#include "quantity/words.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

namespace plait::input {
namespace {

constexpr Spec price_spec{.key = "price", .kind = Kind::money, .limits = {0.01, 1e7}};

std::vector<std::string_view> parts_of(std::string_view line) {
    // One sign throughout, so that a decimal comma cannot part a price.
    const char sign = line.find(';') != std::string_view::npos ? ';' : line.find('\t') != std::string_view::npos ? '\t' : ',';
    std::vector<std::string_view> parts;
    for (std::size_t from = 0; from <= line.size();) {
        const std::size_t to = std::min(line.find(sign, from), line.size());
        std::string_view part = trimmed(line.substr(from, to - from));
        if (part.size() > 1 && part.front() == '"' && part.back() == '"') part = part.substr(1, part.size() - 2);
        parts.push_back(part);
        from = to + 1;
    }
    return parts;
}

class Prices {
public:
    Prices(const std::string& file, Notes& all) : notes_(file, all), all_(all) {}

    void take(std::string_view line, int number) {
        if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
        line = trimmed(line);
        if (line.empty() || line.front() == '#') return;
        const std::vector<std::string_view> parts = parts_of(line);
        const Place at{number, 1};
        if (parts.size() < 2 || parts.size() > 3 || parts[0].empty()) {
            notes_.complain(
                at, Complaint::grammar,
                fmt::format("{} is no price of a file; write the file's name and its price: roof-430.toml, 95, EUR",
                            quoted(line)));
            return;
        }
        const bool first = std::exchange(first_, false);
        const std::size_t before = notes_.complaint_count();
        const auto price = read_typed(notes_, price_spec, parts[1], at);
        if (!price) {
            // A heading is no fault.
            const bool heading = first && parts[1].find_first_of("0123456789") == std::string_view::npos;
            if (heading) all_.complaints.resize(before);
            return;
        }
        if (const auto same = std::find_if(out_.prices.begin(), out_.prices.end(),
                                           [&](const FilePrice& p) { return p.name == parts[0]; });
            same != out_.prices.end()) {
            notes_.complain(
                at, Complaint::twice,
                fmt::format("{} has a price in line {} already; keep one of the two", named(parts[0]), same->line));
            return;
        }
        out_.prices.push_back({std::string(parts[0]), price->value, number});
        currency(parts.size() > 2 ? parts[2] : std::string_view(), at);
    }

    PriceTable result() { return std::move(out_); }

private:
    void currency(std::string_view word, Place at) {
        if (word.empty()) return;
        if (has_control_character(word) || character_count(word) > 10) {
            notes_.complain(
                at, Complaint::no_number,
                fmt::format("{} is no currency; write one of at most ten letters, such as EUR", quoted(word)));
        } else if (out_.currency.empty()) {
            out_.currency = word;
        } else if (out_.currency != word) {
            notes_.complain(
                at, Complaint::disagreement,
                fmt::format(
                    "the currency is {} here and {} above; amounts in different currencies are not compared, so "
                    "write one throughout",
                    quoted(word), quoted(out_.currency)));
        }
    }

    FileNotes notes_;
    Notes& all_;
    PriceTable out_;
    bool first_ = true;
};

}  // namespace

Result<PriceTable> read_prices(std::string_view text, const std::string& file) {
    if (const auto complaint = encoding_complaint(text, file)) return Failure{Diagnostics{*complaint}};
    if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
    Notes all;
    Prices prices(file, all);
    int number = 0;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        prices.take(text.substr(0, end), ++number);
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    PriceTable out = prices.result();
    if (all.complaints.empty() && out.prices.empty()) {
        all.complaints.push_back(
            {file, 0, 0, Complaint::no_rows, "has no price in it; write a line for each file: roof-430.toml, 95, EUR"});
    }
    if (!all.complaints.empty()) return Failure{in_order(std::move(all.complaints))};
    return out;
}

}  // namespace plait::input
