#include "site_from.hpp"

#include "place_from.hpp"
#include "quantity/kinds.hpp"

#include <plait/base/constants.hpp>

#include <fmt/core.h>

#include <array>
#include <utility>

namespace plait::input {
namespace {

constexpr auto basis_words = first_texts<4>(temperature_basis_names);  // "unsaid" is not written
constexpr auto mounting_words = texts_of(mounting_names);
constexpr auto method_words = texts_of(cold_method_names);
constexpr auto code_words = texts_of(code_names);

// These three may be ranges, so they are read by hand.
constexpr Spec coldest_spec{.key = "coldest_air",
                            .kind = Kind::temperature,
                            .meaning = "coldest air of the place; `[\"-14 °C\", \"-9 °C\"]` where no more is known than "
                                       "a range",
                            .fall_back = FallBack{-20.0, Quantity::site_coldest_air, "coldest air",
                                                  "not stated; a cold winter of a temperate climate. Colder places need "
                                                  "their own"},
                            .limits = {-90, 40}};
constexpr Spec hottest_spec{.key = "hottest_air",
                            .kind = Kind::temperature,
                            .meaning = "hottest air of the place, or a range",
                            .fall_back = FallBack{40.0, Quantity::site_hottest_air, "hottest air",
                                                  "not stated; a hot summer of a temperate climate"},
                            .limits = {-40, 70}};
constexpr Spec warm_spec{.key = "warm_air",
                         .kind = Kind::temperature,
                         .meaning = "the day by which wirings are ranked, or a range",
                         .if_missing = "a convention",
                         .fall_back = FallBack{25.0, Quantity::site_warm_air, "warm day",
                                               "a convention: the day by which wirings are ranked"},
                         .limits = {-60, 60}};

using S = Field<RawSite>;
constexpr std::array site_table{
    S{coldest_spec, {}},
    S{{.key = "coldest_basis",
       .kind = Kind::word,
       .meaning = "where `coldest_air` is from: the `record`, the `mean-extreme` of yearly lows, a `forecast`, the "
                  "`fifty-year` level",
       .if_missing = "unsaid",
       .words = basis_words},
      &RawSite::coldest_basis},
    S{hottest_spec, {}},
    S{{.key = "hottest_basis",
       .kind = Kind::word,
       .meaning = "where `hottest_air` is from",
       .if_missing = "unsaid",
       .words = basis_words},
      &RawSite::hottest_basis},
    S{warm_spec, {}},
    S{{.key = "mounting",
       .kind = Kind::word,
       .meaning = "how well air gets behind the panels",
       .if_missing = "the hottest",
       .fall_back = FallBack{static_cast<double>(Mounting::flat_on_ground), Quantity::site_mounting, "mounting",
                             "not stated; the hottest way to lay a panel"},
       .words = mounting_words},
      &RawSite::mounting},
    S{{.key = "peak_irradiance",
       .kind = Kind::irradiance,
       .meaning = "strongest light on the panels",
       .fall_back = FallBack{1000.0, Quantity::site_peak_irradiance, "peak irradiance",
                             "not stated; that of test conditions"},
       .limits = {200, 1600}},
      &RawSite::peak_irradiance},
    S{{.key = "cold_method",
       .kind = Kind::word,
       .meaning = "how Voc in the cold is worked out: the panel's own `coefficient`, the NEC's `code-table`, one "
                  "`flat-factor`",
       .fall_back = FallBack{static_cast<double>(ColdMethod::coefficient)},
       .words = method_words},
      &RawSite::cold_method},
    S{{.key = "flat_factor",
       .kind = Kind::factor,
       .meaning = "the factor for `flat-factor`",
       .fall_back = FallBack{1.2},
       .limits = {1.0, 1.5}},
      &RawSite::flat_factor},
    S{{.key = "code",
       .kind = Kind::word,
       .meaning = "whose installation rules are quoted",
       .fall_back = FallBack{static_cast<double>(Code::both)},
       .words = code_words},
      &RawSite::code},
};

std::optional<RawRange> read_range(const FileNotes& notes, const Spec& spec, const Node& node) {
    const auto* list = node.as<List>();
    if (list == nullptr) {
        const auto one = read_measure(notes, spec, node);
        return one ? std::optional<RawRange>({*one, *one}) : std::nullopt;
    }
    if (list->size() != 2) {
        notes.complain(node.at, Complaint::wrong_type,
                       fmt::format("{} lists {} values. Write one temperature, or the two ends of a range: "
                                   "{} = [\"-14 °C\", \"-9 °C\"].",
                                   named(spec.key), list->size(), spec.key));
        return std::nullopt;
    }
    auto low = read_measure(notes, spec, (*list)[0]);
    auto high = read_measure(notes, spec, (*list)[1]);
    if (!low || !high) return std::nullopt;
    if (high->value < low->value) std::swap(low, high);
    return RawRange{*low, *high};
}

class SiteReading {
public:
    SiteReading(RawSite raw, const FileNotes& notes) : raw_(std::move(raw)), notes_(notes) {}

    // A key that is there, even if it was complained of, is not assumed.
    template <class IsThere>
    Site run(const IsThere& is_there) {
        Site site;
        const auto missing = [&](std::string_view key) { return !is_there(key); };
        temperature(coldest_spec, raw_.coldest_air, 0.0, missing, site.coldest_air, site.coldest_air_range);
        temperature(hottest_spec, raw_.hottest_air, 1.0, missing, site.hottest_air, site.hottest_air_range);
        temperature(warm_spec, raw_.warm_air, 0.5, missing, site.warm_air, site.warm_air_range);
        order(site);
        doubt_warm_winter();
        basis(raw_.coldest_basis, is_there("coldest_air"), "coldest", site.coldest_basis);
        basis(raw_.hottest_basis, is_there("hottest_air"), "hottest", site.hottest_basis);
        flat_factor();
        fill_missing(notes_, the_site, site_fields(), raw_, missing);
        if (raw_.mounting) site.mounting = mounting_names[raw_.mounting->index].value;
        if (raw_.peak_irradiance) site.peak_irradiance_w_per_m2 = raw_.peak_irradiance->value;
        if (raw_.cold_method) site.cold_method = cold_method_names[raw_.cold_method->index].value;
        if (raw_.flat_factor) site.flat_factor_ratio = raw_.flat_factor->value;
        if (raw_.code) site.code = code_names[raw_.code->index].value;
        return site;
    }

private:
    // Of a range the share between its ends that is judged: 0 the low one, 1 the high one.
    template <class Missing>
    void temperature(const Spec& spec, const std::optional<RawRange>& given, double share_of_high,
                     const Missing& missing, Celsius& member, std::optional<TemperatureRange>& range) {
        member = {spec.fall_back->value};
        if (given) {
            member = {given->low.value + share_of_high * (given->high.value - given->low.value)};
            if (given->low.value != given->high.value) range = TemperatureRange{{given->low.value}, {given->high.value}};
        }
        if (missing(spec.key)) assume_fall_back(notes_, the_site, spec);
    }

    // Cells are at 25 °C at test conditions: a winter that never gets below that is a slip of the unit more often than a
    // place in the tropics.
    void doubt_warm_winter() {
        if (!raw_.coldest_air || !(raw_.coldest_air->high.value > stc_cell.degc)) return;
        const Measure& m = raw_.coldest_air->high;
        notes_.doubt(m.at, fmt::format("'coldest_air' is {}, {:.3g} °C, warmer than a panel at test conditions. Check that it "
                                       "is the coldest air of the year, and its unit.",
                                       m.written, m.value));
    }

    // A factor that nothing uses would be believed to count.
    void flat_factor() {
        const bool used = raw_.cold_method && cold_method_names[raw_.cold_method->index].value == ColdMethod::flat_factor;
        if (!raw_.flat_factor || used) return;
        const std::string_view method =
            method_words[raw_.cold_method ? raw_.cold_method->index : static_cast<std::size_t>(ColdMethod::coefficient)];
        notes_.complain(
            raw_.flat_factor->at, Complaint::without_effect,
            fmt::format("'flat_factor' is {}, but 'cold_method' is {}\"{}\", which has no use for it. Write "
                        "cold_method = \"flat-factor\", or delete this line.",
                        raw_.flat_factor->written, raw_.cold_method ? "" : "not stated and so ", method));
    }

    void order(const Site& site) {
        if (!(site.hottest_air < site.coldest_air) || (!raw_.coldest_air && !raw_.hottest_air)) return;
        const auto said = [](const Measure* m, Celsius t) {
            return m != nullptr ? m->written : with_unit(t.degc, Kind::temperature) + " (assumed)";
        };
        const Measure* hottest = raw_.hottest_air ? &raw_.hottest_air->high : nullptr;
        const Measure* coldest = raw_.coldest_air ? &raw_.coldest_air->low : nullptr;
        notes_.complain(
            hottest != nullptr ? hottest->at : coldest->at, Complaint::disagreement,
            fmt::format("'hottest_air' is {}, below 'coldest_air' {}. Write the warmest air as hottest_air and "
                        "the coldest as coldest_air.",
                        said(hottest, site.hottest_air), said(coldest, site.coldest_air)));
    }

    void basis(const std::optional<Word>& given, bool air_is_there, std::string_view which, TemperatureBasis& member) {
        if (!given) return;
        member = temperature_basis_names[given->index].value;
        if (air_is_there) return;
        notes_.complain(given->at, Complaint::without_effect,
                        fmt::format("'{}_basis' says where '{}_air' is from, but there is no '{}_air'. Add it, or "
                                    "delete this line.",
                                    which, which, which));
    }

    RawSite raw_;
    const FileNotes& notes_;
    const Subject the_site{"the site", {}};
};

}  // namespace

std::span<const Field<RawSite>> site_fields() { return site_table; }

Site site_from(const FileNotes& notes, const Entry* entry) {
    const Table empty;
    const Table* table = entry == nullptr ? &empty : read_table(notes, *entry, "Write its keys under [site]");
    if (table == nullptr) return {};
    RawSite raw;
    if (entry != nullptr) {
        Specs known = specs_of(site_fields());
        for (const Spec* spec : specs_of(location_fields())) known.push_back(spec);
        check_keys(notes, *table, entry->value.at, "[site]", known);
    }
    read_fields(notes, *table, site_fields(), raw);
    const auto range = [&](const Spec& spec, std::optional<RawRange>& member) {
        if (const Entry* there = find(*table, spec.key)) member = read_range(notes, spec, there->value);
    };
    range(coldest_spec, raw.coldest_air);
    range(hottest_spec, raw.hottest_air);
    range(warm_spec, raw.warm_air);
    return SiteReading(std::move(raw), notes).run([&](std::string_view key) { return find(*table, key) != nullptr; });
}

}  // namespace plait::input
