#include "site_from.hpp"

#include <plait/base/constants.hpp>

#include <fmt/core.h>

#include <array>
#include <utility>

namespace plait::input {
namespace {

constexpr std::array<std::string_view, 4> basis_words{
    name_of(TemperatureBasis::record), name_of(TemperatureBasis::mean_extreme), name_of(TemperatureBasis::forecast),
    name_of(TemperatureBasis::fifty_year)};
constexpr std::array<std::string_view, 4> mounting_words{name_of(Mounting::open_rack), name_of(Mounting::close_to_roof),
                                                         name_of(Mounting::propped_up),
                                                         name_of(Mounting::flat_on_ground)};
constexpr std::array<std::string_view, 3> method_words{
    name_of(ColdMethod::coefficient), name_of(ColdMethod::code_table), name_of(ColdMethod::flat_factor)};
constexpr std::array<std::string_view, 3> code_words{name_of(Code::nec), name_of(Code::iec), name_of(Code::both)};

// These three may be ranges, so they are read by hand.
constexpr Spec coldest_spec{.key = "coldest_air",
                            .kind = Kind::temperature,
                            .meaning = "coldest air of the place; `[\"-14 °C\", \"-9 °C\"]` where no more is known than "
                                       "a range",
                            .if_missing = "−20 °C, assumed",
                            .limits = {-90, 40}};
constexpr Spec hottest_spec{.key = "hottest_air",
                            .kind = Kind::temperature,
                            .meaning = "hottest air of the place, or a range",
                            .if_missing = "40 °C, assumed",
                            .limits = {-40, 70}};
constexpr Spec warm_spec{.key = "warm_air",
                         .kind = Kind::temperature,
                         .meaning = "the day by which wirings are ranked, or a range",
                         .if_missing = "25 °C, a convention, listed as assumed",
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
       .if_missing = "`flat-on-ground`, the hottest, assumed",
       .words = mounting_words},
      &RawSite::mounting},
    S{{.key = "peak_irradiance",
       .kind = Kind::irradiance,
       .meaning = "strongest light on the panels",
       .if_missing = "1000 W/m², assumed",
       .limits = {200, 1600}},
      &RawSite::peak_irradiance},
    S{{.key = "cold_method",
       .kind = Kind::word,
       .meaning = "how Voc in the cold is worked out: the panel's own `coefficient`, the NEC's `code-table`, one "
                  "`flat-factor`",
       .if_missing = "`coefficient`",
       .words = method_words},
      &RawSite::cold_method},
    S{{.key = "flat_factor",
       .kind = Kind::factor,
       .meaning = "the factor for `flat-factor`",
       .if_missing = "1.2",
       .limits = {1.0, 1.5}},
      &RawSite::flat_factor},
    S{{.key = "code",
       .kind = Kind::word,
       .meaning = "whose installation rules are quoted",
       .if_missing = "`both`",
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
        notes.complain(node.at, fmt::format("{} lists {} values. Write one temperature, or the two ends of a range: "
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
    SiteReading(const RawSite& raw, const FileNotes& notes) : raw_(raw), notes_(notes) {}

    // A key that is there, even if it was complained of, is not assumed.
    template <class IsThere>
    Site run(const IsThere& is_there) {
        Site site;
        const auto judged = [](const std::optional<RawRange>& given, double fall_back_degc, double share_of_high) {
            if (!given) return Celsius{fall_back_degc};
            return Celsius{given->low.value + share_of_high * (given->high.value - given->low.value)};
        };
        site.coldest_air = judged(raw_.coldest_air, -20.0, 0.0);
        site.hottest_air = judged(raw_.hottest_air, 40.0, 1.0);
        site.warm_air = judged(raw_.warm_air, 25.0, 0.5);
        site.coldest_air_range = range_of(raw_.coldest_air);
        site.hottest_air_range = range_of(raw_.hottest_air);
        site.warm_air_range = range_of(raw_.warm_air);
        if (!is_there("coldest_air")) {
            assume(Quantity::site_coldest_air, "coldest air", degrees(site.coldest_air),
                   "not stated; a cold winter of a temperate climate. Colder places need their own");
        }
        if (!is_there("hottest_air")) {
            assume(Quantity::site_hottest_air, "hottest air", degrees(site.hottest_air),
                   "not stated; a hot summer of a temperate climate");
        }
        if (!is_there("warm_air")) {
            assume(Quantity::site_warm_air, "warm day", degrees(site.warm_air),
                   "a convention: the day by which wirings are ranked");
        }
        order(site);
        doubt_warm_winter();
        basis(raw_.coldest_basis, is_there("coldest_air"), "coldest", site.coldest_basis);
        basis(raw_.hottest_basis, is_there("hottest_air"), "hottest", site.hottest_basis);
        site.mounting = Mounting::flat_on_ground;
        if (raw_.mounting) site.mounting = static_cast<Mounting>(raw_.mounting->index);
        if (!is_there("mounting")) {
            assume(Quantity::site_mounting, "mounting", "flat-on-ground", "not stated; the hottest way to lay a panel");
        }
        if (raw_.peak_irradiance) site.peak_irradiance_w_per_m2 = raw_.peak_irradiance->value;
        if (!is_there("peak_irradiance")) {
            assume(Quantity::site_peak_irradiance, "peak irradiance", "1000 W/m²",
                   "not stated; that of test conditions");
        }
        if (raw_.cold_method) site.cold_method = static_cast<ColdMethod>(raw_.cold_method->index);
        flat_factor(site);
        if (raw_.code) site.code = static_cast<Code>(raw_.code->index);
        return site;
    }

private:
    void assume(Quantity quantity, std::string what, std::string value, std::string why) {
        notes_.assume(
            {quantity, std::nullopt, std::nullopt, "the site", std::move(what), std::move(value), std::move(why)});
    }

    static std::string degrees(Celsius t) { return fmt::format("{} °C", plain(t.degc)); }

    static std::optional<TemperatureRange> range_of(const std::optional<RawRange>& given) {
        if (!given || given->low.value == given->high.value) return std::nullopt;
        return TemperatureRange{{given->low.value}, {given->high.value}};
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

    // A factor that nothing uses would be taken for heeded.
    void flat_factor(Site& site) {
        if (!raw_.flat_factor) return;
        site.flat_factor_ratio = raw_.flat_factor->value;
        if (site.cold_method == ColdMethod::flat_factor) return;
        notes_.complain(
            raw_.flat_factor->at,
            fmt::format("'flat_factor' is {}, but 'cold_method' {}, which has no use for it. Write "
                        "cold_method = \"flat-factor\", or delete this line.",
                        raw_.flat_factor->written,
                        raw_.cold_method ? fmt::format("is \"{}\"", name_of(site.cold_method))
                                         : fmt::format("is not stated and so \"{}\"", name_of(site.cold_method))));
    }

    void order(const Site& site) {
        if (!(site.hottest_air < site.coldest_air) || (!raw_.coldest_air && !raw_.hottest_air)) return;
        const auto said = [](const Measure* m, Celsius t) { return m ? m->written : degrees(t) + " (assumed)"; };
        const Measure* hottest = raw_.hottest_air ? &raw_.hottest_air->high : nullptr;
        const Measure* coldest = raw_.coldest_air ? &raw_.coldest_air->low : nullptr;
        notes_.complain(
            hottest != nullptr ? hottest->at : coldest->at,
            fmt::format("'hottest_air' is {}, below 'coldest_air' {}. Write the warmest air as hottest_air and "
                        "the coldest as coldest_air.",
                        said(hottest, site.hottest_air), said(coldest, site.coldest_air)));
    }

    void basis(const std::optional<Word>& given, bool air_is_there, std::string_view which, TemperatureBasis& member) {
        if (!given) return;
        member = static_cast<TemperatureBasis>(given->index);
        if (air_is_there) return;
        notes_.complain(given->at,
                        fmt::format("'{}_basis' says where '{}_air' is from, but there is no '{}_air'. Add it, or "
                                    "delete this line.",
                                    which, which, which));
    }

    const RawSite& raw_;
    const FileNotes& notes_;
};

}  // namespace

std::span<const Field<RawSite>> site_fields() { return site_table; }

Site site_from(const FileNotes& notes, const Entry* entry) {
    const Table empty;
    const Table* table = entry == nullptr ? &empty : read_table(notes, *entry, "Write its keys under [site]");
    if (table == nullptr) return {};
    RawSite raw;
    if (entry != nullptr) check_keys(notes, *table, entry->value.at, "[site]", specs_of(site_fields()));
    read_fields(notes, *table, site_fields(), raw);
    const auto range = [&](const Spec& spec, std::optional<RawRange>& member) {
        if (const Entry* there = find(*table, spec.key)) member = read_range(notes, spec, there->value);
    };
    range(coldest_spec, raw.coldest_air);
    range(hottest_spec, raw.hottest_air);
    range(warm_spec, raw.warm_air);
    return SiteReading(raw, notes).run([&](std::string_view key) { return find(*table, key) != nullptr; });
}

}  // namespace plait::input
