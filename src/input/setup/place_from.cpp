#include "place_from.hpp"

#include "place_words.hpp"
#include "quantity/words.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace plait::input {
namespace {

constexpr std::array<std::string_view, 3> sky_words{name_of(SkyModel::isotropic), name_of(SkyModel::hay_davies),
                                                    name_of(SkyModel::perez)};
constexpr std::array<std::string_view, 4> incidence_words{
    name_of(IncidenceModel::none), name_of(IncidenceModel::ashrae), name_of(IncidenceModel::physical),
    name_of(IncidenceModel::martin_ruiz)};
constexpr std::array<std::string_view, 3> warming_words{name_of(WarmingModel::nominal), name_of(WarmingModel::faiman),
                                                        name_of(WarmingModel::exponential)};
constexpr std::array<std::string_view, 4> mounting_words{name_of(Mounting::open_rack), name_of(Mounting::close_to_roof),
                                                         name_of(Mounting::propped_up),
                                                         name_of(Mounting::flat_on_ground)};

using L = Field<RawPlaceKeys>;
constexpr std::array location_table{
    L{{.key = "latitude",
       .kind = Kind::by_hand,
       .meaning = "of the place, north positive",
       .if_missing = "no sun and no harvest over time",
       .form = "degrees, or \"52° 18' N\""},
      {}},
    L{{.key = "longitude",
       .kind = Kind::by_hand,
       .meaning = "of the place, east positive",
       .if_missing = "see `latitude`; give both",
       .form = "degrees, or \"4° 54' E\""},
      {}},
    L{{.key = "from_utc",
       .kind = Kind::by_hand,
       .meaning = "how far standard time is ahead of universal time",
       .if_missing = "see `latitude`; give it too",
       .form = "hours, or \"+5:45\""},
      {}},
    L{{.key = "summer_time",
       .kind = Kind::by_hand,
       .meaning = "the first day of summer time and the first day after it, month and day",
       .if_missing = "none",
       .form = "summer_time = [\"03-30\", \"10-26\"]"},
      {}},
    L{{.key = "height", .kind = Kind::length, .meaning = "above the sea", .if_missing = "0 m", .limits = {-450, 6000}},
      &RawPlaceKeys::height},
    L{{.key = "turbidity",
       .kind = Kind::factor,
       .meaning = "Linke turbidity of clear air: 2 clean and cold, 3 usual, 5 hazy",
       .if_missing = "3",
       .limits = {1, 10}},
      &RawPlaceKeys::turbidity},
    L{{.key = "daily_light",
       .kind = Kind::by_hand,
       .meaning = "mean light of a day on flat ground by month, kWh/m², January first",
       .if_missing = "clear days, where there is no weather file",
       .form = "a list of twelve numbers"},
      {}},
    L{{.key = "monthly_air",
       .kind = Kind::by_hand,
       .meaning = "mean air by month, January first",
       .if_missing = "`warm_air` all year, where there is no weather file",
       .form = "a list of twelve temperatures"},
      {}},
    L{{.key = "sky_model",
       .kind = Kind::word,
       .meaning = "how light from the sky is spread over it (docs/sun.md)",
       .if_missing = "`perez`",
       .words = sky_words},
      &RawPlaceKeys::sky_model},
    L{{.key = "incidence_model",
       .kind = Kind::word,
       .meaning = "what glass reflects (docs/sun.md)",
       .if_missing = "`martin-ruiz`",
       .words = incidence_words},
      &RawPlaceKeys::incidence_model},
    L{{.key = "warming_model",
       .kind = Kind::word,
       .meaning = "how cells warm over time (docs/sun.md)",
       .if_missing = "`exponential` where the wind is known, else `nominal`",
       .words = warming_words},
      &RawPlaceKeys::warming_model},
};

using P = Field<RawPlane>;
constexpr std::array plane_table{
    P{{.key = "name",
       .kind = Kind::text,
       .meaning = "what panels and wirings call it",
       .if_missing = "required",
       .limits = {1, 40},
       .required = true},
      &RawPlane::name},
    P{{.key = "tilt",
       .kind = Kind::angle,
       .meaning = "0 lies flat, 90 stands upright",
       .if_missing = "required",
       .limits = {0, 90},
       .required = true},
      &RawPlane::tilt},
    P{{.key = "azimuth",
       .kind = Kind::by_hand,
       .meaning = "which way it looks, from north through east",
       .if_missing = "required",
       .form = "degrees, or a compass word such as \"SSE\"",
       .required = true},
      {}},
    P{{.key = "mounting",
       .kind = Kind::word,
       .meaning = "how well air gets behind the panels on it",
       .if_missing = "that of `[site]`",
       .words = mounting_words},
      &RawPlane::mounting},
    P{{.key = "albedo",
       .kind = Kind::share,
       .meaning = "share of the light that the ground before it throws back: grass 0.2, snow 0.8",
       .if_missing = "0.2",
       .limits = {0, 1}},
      &RawPlane::albedo},
    P{{.key = "horizon",
       .kind = Kind::by_hand,
       .meaning = "what hides the sky: pairs of azimuth and elevation in degrees, straight lines between them",
       .if_missing = "a flat horizon",
       .form = "horizon = [[90, 12], [180, 3], [\"WSW\", 20]]"},
      {}},
};

constexpr std::string_view how_planes =
    "Write each plane under [[plane]] with double brackets, with name, tilt and azimuth";
constexpr std::string_view how_azimuth = "degrees from north through east, 0 to 360, or a compass word such as \"SSE\"";
constexpr std::size_t most_planes = 50;
constexpr std::size_t most_horizon_points = 360;

std::optional<double> latitude_of(std::string_view text) { return written_coordinate(text, 'N', 'S'); }
std::optional<double> longitude_of(std::string_view text) { return written_coordinate(text, 'E', 'W'); }

std::optional<SummerTime> summer_time_from(const FileNotes& notes, const Entry& entry) {
    constexpr std::string_view how =
        "Write the first day of summer time and the first day after it: [\"03-30\", \"10-26\"].";
    const auto* list = entry.value.as<List>();
    std::optional<DayOfYear> days[2];
    for (std::size_t i = 0; i < 2; ++i) {
        const auto* text = list != nullptr && list->size() == 2 ? (*list)[i].as<std::string>() : nullptr;
        if (text != nullptr) days[i] = written_day_of_year(*text);
    }
    const bool alike = days[0] && days[1] && days[0]->month == days[1]->month && days[0]->day == days[1]->day;
    if (days[0] && days[1] && !alike)
        return SummerTime{days[0]->month, days[0]->day, days[1]->month, days[1]->day, 1.0};
    notes.complain(entry.value.at, Complaint::time, fmt::format("'summer_time' cannot be read. {}", how));
    return std::nullopt;
}

void location_from(const FileNotes& notes, const Table& site, const RawPlaceKeys& raw, Setup& setup) {
    const Entry* latitude = find(site, "latitude");
    const Entry* longitude = find(site, "longitude");
    const Entry* zone = find(site, "from_utc");
    if (latitude == nullptr && longitude == nullptr && zone == nullptr) return;
    const Entry* any = latitude != nullptr ? latitude : longitude != nullptr ? longitude : zone;
    for (const std::string_view key : {"latitude", "longitude", "from_utc"}) {
        if (find(site, key) != nullptr) continue;
        notes.complain(
            any->at, Complaint::missing,
            fmt::format("{} is missing in [site]: latitude, longitude and from_utc go together. Add it.", named(key)));
    }
    Location l;
    const auto take = [&](const Entry* entry, double low, double high, std::optional<double> (*reads)(std::string_view),
                          std::string_view how, double& into) {
        if (entry == nullptr) return;
        if (const auto value = number_or(notes, *entry, low, high, reads, how)) into = *value;
    };
    take(latitude, -90, 90, latitude_of, "degrees, north positive, or text such as \"52.3 N\" or \"52° 18' N\"",
         l.latitude_deg);
    take(longitude, -180, 180, longitude_of, "degrees, east positive, or text such as \"4.9 E\" or \"4° 54' E\"",
         l.longitude_deg);
    take(zone, -12, 14, written_zone, "hours ahead of universal time, such as 1, -5 or \"+5:45\"", l.from_utc_h);
    if (raw.height) l.height_m = raw.height->value;
    if (raw.turbidity) l.turbidity_value = raw.turbidity->value;
    if (const Entry* entry = find(site, "summer_time")) l.summer_time = summer_time_from(notes, *entry);
    setup.location = l;
    if (longitude == nullptr || zone == nullptr) return;
    // The sun's noon of a zone is within some three hours of twelve everywhere; more is a wrong sign.
    double off_h = l.from_utc_h - l.longitude_deg / 15.0;
    if (off_h > 12.0) off_h -= 24.0;
    if (off_h < -12.0) off_h += 24.0;
    if (off_h > 3.5 || off_h < -3.5) {
        notes.doubt(longitude->at,
                    fmt::format("'longitude' {} and 'from_utc' {} put noon {} hours off twelve o'clock. West is "
                                "negative in both; check the signs.",
                                plain(l.longitude_deg), plain(l.from_utc_h), plain(off_h)));
    }
}

std::vector<HorizonPoint> horizon_from(const FileNotes& notes, const Entry& entry) {
    constexpr std::string_view how = "Write pairs of azimuth and elevation in degrees, such as [[90, 12], [180, 3]].";
    const auto* list = entry.value.as<List>();
    std::vector<HorizonPoint> points;
    const auto fail = [&](Place at) {
        notes.complain(at, Complaint::wrong_type, fmt::format("'horizon' cannot be read. {}", how));
        return std::vector<HorizonPoint>{};
    };
    if (list == nullptr || list->empty() || list->size() > most_horizon_points) return fail(entry.value.at);
    for (const Node& node : *list) {
        const auto* pair = node.as<List>();
        if (pair == nullptr || pair->size() != 2) return fail(node.at);
        const auto azimuth = number_or(notes, {"azimuth", node.at, (*pair)[0]}, 0, 360, written_azimuth, how_azimuth);
        const auto elevation = number_or(notes, {"elevation", node.at, (*pair)[1]}, 0, 90, written_azimuth,
                                         "the elevation in degrees, 0 to 90");
        if (!azimuth || !elevation) return {};
        points.push_back({*azimuth == 360.0 ? 0.0 : *azimuth, *elevation});
    }
    std::stable_sort(points.begin(), points.end(),
                     [](const HorizonPoint& a, const HorizonPoint& b) { return a.azimuth_deg < b.azimuth_deg; });
    for (std::size_t i = 1; i < points.size(); ++i) {
        if (points[i].azimuth_deg > points[i - 1].azimuth_deg) continue;
        notes.complain(
            entry.value.at, Complaint::twice,
            fmt::format("'horizon' has two points at azimuth {}. Keep one of them.", plain(points[i].azimuth_deg)));
        return {};
    }
    return points;
}

}  // namespace

std::span<const Field<RawPlaceKeys>> location_fields() { return location_table; }
std::span<const Field<RawPlane>> plane_fields() { return plane_table; }

void place_from(const FileNotes& notes, const Table& site, Setup& setup) {
    RawPlaceKeys raw;
    read_fields(notes, site, location_fields(), raw);
    location_from(notes, site, raw, setup);
    if (raw.sky_model) setup.light_models.sky = static_cast<SkyModel>(raw.sky_model->index);
    if (raw.incidence_model) setup.light_models.incidence = static_cast<IncidenceModel>(raw.incidence_model->index);
    if (raw.warming_model) setup.light_models.warming = static_cast<WarmingModel>(raw.warming_model->index);
    static constexpr Spec light{
        .key = "daily_light", .kind = Kind::factor, .meaning = "", .if_missing = "", .limits = {0, 13}};
    static constexpr Spec air{
        .key = "monthly_air", .kind = Kind::temperature, .meaning = "", .if_missing = "", .limits = {-70, 50}};
    if (const Entry* entry = find(site, "daily_light")) {
        setup.climate.daily_global_wh_per_m2 = read_months(notes, light, *entry);
        if (setup.climate.daily_global_wh_per_m2) {
            for (double& wh : *setup.climate.daily_global_wh_per_m2) wh *= 1000.0;
        }
    }
    if (const Entry* entry = find(site, "monthly_air")) setup.climate.mean_air_degc = read_months(notes, air, *entry);
}

std::vector<Plane> planes_from(const FileNotes& notes, const Entry& entry) {
    const List* list = read_list(notes, entry, how_planes);
    std::vector<Plane> planes;
    if (list == nullptr) return planes;
    if (list->empty() || list->size() > most_planes) {
        notes.complain(
            entry.at, Complaint::how_many,
            fmt::format("{} planes are listed; 1 to {} are read. {}.", list->size(), most_planes, how_planes));
        return planes;
    }
    for (const Node& node : *list) {
        const auto* table = node.as<Table>();
        if (table == nullptr) {
            notes.complain(node.at, Complaint::wrong_type,
                           fmt::format("a plane is {}. {}.", type_name(node), how_planes));
            continue;
        }
        check_keys(notes, *table, node.at, "[[plane]]", specs_of(plane_fields()));
        RawPlane raw;
        read_fields(notes, *table, plane_fields(), raw);
        Plane plane;
        if (raw.name) plane.name = raw.name->value;
        if (raw.tilt) plane.tilt_deg = raw.tilt->value;
        if (const Entry* azimuth = find(*table, "azimuth")) {
            plane.azimuth_deg = number_or(notes, *azimuth, 0, 360, written_azimuth, how_azimuth).value_or(0.0);
        }
        if (raw.mounting) plane.mounting = static_cast<Mounting>(raw.mounting->index);
        if (raw.albedo) plane.albedo_ratio = raw.albedo->value;
        if (const Entry* horizon = find(*table, "horizon")) plane.horizon = horizon_from(notes, *horizon);
        const bool taken =
            std::any_of(planes.begin(), planes.end(), [&](const Plane& p) { return p.name == plane.name; });
        if (raw.name && taken) {
            notes.complain(raw.name->at, Complaint::twice,
                           fmt::format("two planes are called {}. Give each a name of its own.", named(plane.name)));
        }
        planes.push_back(std::move(plane));
    }
    return planes;
}

std::optional<std::size_t> plane_named(const FileNotes& notes, const Text& name,
                                       const std::vector<std::string>& planes) {
    for (std::size_t i = 0; i < planes.size(); ++i) {
        if (planes[i] == name.value) return i;
    }
    notes.complain(name.at, Complaint::unknown_word,
                   fmt::format("no plane is called {}. {}", named(name.value),
                               planes.empty() ? "Add it as a [[plane]] with name, tilt and azimuth."
                                              : suggestion(name.value, Words(planes.begin(), planes.end()), "Planes")));
    return std::nullopt;
}

}  // namespace plait::input
