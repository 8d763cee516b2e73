#include "site_from.hpp"

#include <fmt/core.h>

#include <array>

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

using S = Field<RawSite>;
constexpr std::array site_table{
    S{{.key = "coldest_air",
       .kind = Kind::temperature,
       .meaning = "coldest air of the place",
       .if_missing = "−20 °C, assumed",
       .limits = {-90, 40}},
      &RawSite::coldest_air},
    S{{.key = "coldest_basis",
       .kind = Kind::word,
       .meaning = "where `coldest_air` is from: the `record`, the `mean-extreme` of yearly lows, a `forecast`, the "
                  "`fifty-year` level",
       .if_missing = "unsaid",
       .words = basis_words},
      &RawSite::coldest_basis},
    S{{.key = "hottest_air",
       .kind = Kind::temperature,
       .meaning = "hottest air of the place",
       .if_missing = "40 °C, assumed",
       .limits = {-40, 70}},
      &RawSite::hottest_air},
    S{{.key = "hottest_basis",
       .kind = Kind::word,
       .meaning = "where `hottest_air` is from",
       .if_missing = "unsaid",
       .words = basis_words},
      &RawSite::hottest_basis},
    S{{.key = "warm_air",
       .kind = Kind::temperature,
       .meaning = "the day by which wirings are ranked",
       .if_missing = "25 °C, a convention, listed as assumed",
       .limits = {-60, 60}},
      &RawSite::warm_air},
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

class SiteReading {
public:
    SiteReading(const RawSite& raw, const FileNotes& notes) : raw_(raw), notes_(notes) {}

    // A key that is there, even if it was complained of, is not assumed.
    template <class IsThere>
    Site run(const IsThere& is_there) {
        Site site;
        temperature(raw_.coldest_air, is_there("coldest_air"), Quantity::site_coldest_air, "coldest air", -20.0,
                    "not stated; a cold winter of a temperate climate. Colder places need their own", site.coldest_air);
        temperature(raw_.hottest_air, is_there("hottest_air"), Quantity::site_hottest_air, "hottest air", 40.0,
                    "not stated; a hot summer of a temperate climate", site.hottest_air);
        temperature(raw_.warm_air, is_there("warm_air"), Quantity::site_warm_air, "warm day", 25.0,
                    "a convention: the day by which wirings are ranked", site.warm_air);
        order(site);
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

    void temperature(const std::optional<Measure>& given, bool is_there, Quantity quantity, std::string_view what,
                     double fall_back_degc, std::string_view why, Celsius& member) {
        member = {given ? given->value : fall_back_degc};
        if (!is_there) {
            assume(quantity, std::string(what), fmt::format("{} °C", plain(fall_back_degc)), std::string(why));
        }
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
        const auto said = [](const std::optional<Measure>& m, Celsius t) {
            return m ? m->written : fmt::format("{} °C (assumed)", plain(t.degc));
        };
        notes_.complain(
            raw_.hottest_air ? raw_.hottest_air->at : raw_.coldest_air->at,
            fmt::format("'hottest_air' is {}, below 'coldest_air' {}. Write the warmest air as hottest_air and "
                        "the coldest as coldest_air.",
                        said(raw_.hottest_air, site.hottest_air), said(raw_.coldest_air, site.coldest_air)));
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
    return SiteReading(raw, notes).run([&](std::string_view key) { return find(*table, key) != nullptr; });
}

}  // namespace plait::input
