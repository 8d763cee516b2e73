#include "storage_from.hpp"

#include "place_words.hpp"
#include "quantity/words.hpp"

#include <fmt/core.h>

namespace plait::input {
namespace {

constexpr std::size_t most_loads = 100;
constexpr std::string_view how_time = "a time of day such as \"18:30\", or hours from 0 to 24";
constexpr std::string_view how_loads =
    "Write each load under [[storage.load]] with double brackets, with power, from and to";

/// The two ends of a time of day; midnight where one is missing.
HourlyPower hours_from(const FileNotes& notes, const Table& table, double power_w) {
    HourlyPower hours{0.0, 24.0, power_w};
    const auto take = [&](std::string_view key, double& into) {
        const Entry* entry = find(table, key);
        if (entry == nullptr) return;
        if (const auto h = number_or(notes, *entry, 0, 24, written_time_of_day, how_time)) into = *h;
    };
    take("from", hours.from_h);
    take("to", hours.to_h);
    if (hours.from_h == hours.to_h) {
        notes.complain(
            find(table, "to") != nullptr ? find(table, "to")->at : find(table, "from")->at, Complaint::time,
            "'from' and 'to' are the same time. Write when it begins and when it ends; leave both out for all day.");
    }
    return hours;
}

std::vector<HourlyPower> loads_from(const FileNotes& notes, const Entry& entry) {
    std::vector<HourlyPower> loads;
    const List* list = read_list(notes, entry, how_loads);
    if (list == nullptr) return loads;
    if (list->size() > most_loads) {
        notes.complain(entry.at, Complaint::how_many,
                       fmt::format("{} loads are listed; up to {} are read.", list->size(), most_loads));
        return loads;
    }
    for (const Node& node : *list) {
        const auto* table = node.as<Table>();
        if (table == nullptr) {
            notes.complain(node.at, Complaint::wrong_type,
                           fmt::format("a load is {}. {}.", type_name(node), how_loads));
            continue;
        }
        check_keys(notes, *table, node.at, "[[storage.load]]", specs_of(load_fields()));
        RawHours raw;
        read_fields(notes, *table, load_fields(), raw);
        loads.push_back(hours_from(notes, *table, raw.power ? raw.power->value : 0.0));
    }
    return loads;
}

std::optional<WallCharging> wall_from(const FileNotes& notes, const Entry& entry) {
    const Table* table = read_table(notes, entry, "Write its keys under [storage.wall]");
    if (table == nullptr) return std::nullopt;
    check_keys(notes, *table, entry.value.at, "[storage.wall]", specs_of(wall_fields()));
    RawWall raw;
    read_fields(notes, *table, wall_fields(), raw);
    WallCharging wall;
    if (raw.power) wall.limit_w = raw.power->value;
    if (raw.combined_power) wall.combined_w = raw.combined_power->value;
    wall.wall_goes_first = raw.first && raw.first->index == 1;
    if (find(*table, "from") != nullptr || find(*table, "to") != nullptr) wall.hours = {hours_from(notes, *table, 0.0)};
    return wall;
}

}  // namespace

StatedLosses losses_from(const FileNotes& notes, const Entry& entry) {
    StatedLosses losses;
    const Table* table = read_table(notes, entry, "Write its keys under [losses]");
    if (table == nullptr) return losses;
    check_keys(notes, *table, entry.value.at, "[losses]", specs_of(losses_fields()));
    RawLosses raw;
    read_fields(notes, *table, losses_fields(), raw);
    const auto take = [](const std::optional<Measure>& m, std::optional<double>& into) {
        if (m) into = m->value;
    };
    take(raw.soiling, losses.soiling_ratio);
    take(raw.ageing, losses.ageing_per_year_ratio);
    take(raw.age, losses.age_years);
    take(raw.own_use, losses.own_use_w);
    static constexpr Spec snow{
        .key = "snow", .kind = Kind::percentage, .meaning = "", .if_missing = "", .limits = {0, 1}};
    if (const Entry* months = find(*table, "snow")) losses.snow_ratio = read_months(notes, snow, *months);
    if (raw.ageing.has_value() != raw.age.has_value()) {
        notes.complain(raw.ageing ? raw.ageing->at : raw.age->at, Complaint::without_effect,
                       fmt::format("'{}' stands without '{}', so it has no effect. Add it, or delete this line.",
                                   raw.ageing ? "ageing" : "age", raw.ageing ? "age" : "ageing"));
    }
    return losses;
}

std::optional<Storage> storage_from(const FileNotes& notes, const Entry& entry, const std::optional<Battery>& battery) {
    const Table* table = read_table(notes, entry, "Write its keys under [storage]");
    if (table == nullptr) return std::nullopt;
    const std::size_t before = notes.complaint_count();
    check_keys(notes, *table, entry.value.at, "[storage]", specs_of(storage_fields()));
    RawStorage raw;
    read_fields(notes, *table, storage_fields(), raw);
    Storage s;
    if (raw.capacity) {
        s.capacity_wh = raw.capacity->value;
        if (raw.capacity->dimension == Dimension::charge && battery) s.capacity_wh *= battery->nominal_voltage_v;
        if (raw.capacity->dimension == Dimension::charge && !battery) {
            notes.complain(raw.capacity->at, Complaint::unit,
                           "'capacity' is in Ah, which say little without a voltage. Write it in Wh, or add "
                           "[controller.battery] with its voltages.");
        }
    }
    const auto take = [](const std::optional<Measure>& m, auto& into) {
        if (m) into = m->value;
    };
    take(raw.usable, s.usable_ratio);
    take(raw.charge_power, s.charge_limit_w);
    take(raw.taper_from, s.taper_from_ratio);
    take(raw.taper_end, s.taper_end_ratio);
    take(raw.charge_efficiency, s.charge_efficiency_ratio);
    take(raw.full_efficiency, s.full_efficiency_ratio);
    take(raw.discharge_efficiency, s.discharge_efficiency_ratio);
    take(raw.standing_drain, s.standing_drain_w);
    take(raw.warmer_than_air, s.warmer_than_air_k);
    if (raw.coldest_charging) s.coldest_charging = Celsius{raw.coldest_charging->value};
    if (raw.taper_from && !raw.charge_power) {
        notes.complain(
            raw.taper_from->at, Complaint::without_effect,
            "'taper_from' needs 'charge_power', of which it takes less and less. Add it, or delete this line.");
    }
    if (const Entry* loads = find(*table, "load")) s.loads = loads_from(notes, *loads);
    if (const Entry* wall = find(*table, "wall")) s.wall = wall_from(notes, *wall);
    if (notes.complaint_count() != before) return std::nullopt;
    return s;
}

}  // namespace plait::input
