#include "nmot_from.hpp"

#include "quantity/words.hpp"

#include <fmt/core.h>

#include <array>

namespace plait::input {
namespace {

using N = Field<RawNmot>;
constexpr std::array nmot_table{
    N{{.key = "temperature",
       .kind = Kind::temperature,
       .meaning = "nominal module operating temperature",
       .if_missing = "required",
       .limits = {20, 90},
       .required = true},
      &RawNmot::temperature},
    N{{.key = "pmax",
       .kind = Kind::power,
       .meaning = "maximum power there",
       .if_missing = "Vmp · Imp",
       .limits = {0.05, 2000}},
      &RawNmot::pmax},
    N{{.key = "vmp",
       .kind = Kind::voltage,
       .meaning = "voltage at maximum power there",
       .if_missing = "not compared",
       .limits = {0.3, 500}},
      &RawNmot::vmp},
    N{{.key = "imp",
       .kind = Kind::current,
       .meaning = "current at maximum power there",
       .if_missing = "not compared",
       .limits = {0.005, 100}},
      &RawNmot::imp},
    N{{.key = "voc",
       .kind = Kind::voltage,
       .meaning = "open-circuit voltage there",
       .if_missing = "not compared",
       .limits = {0.3, 600}},
      &RawNmot::voc},
    N{{.key = "isc",
       .kind = Kind::current,
       .meaning = "short-circuit current there",
       .if_missing = "not compared",
       .limits = {0.005, 100}},
      &RawNmot::isc},
};

}  // namespace

std::span<const Field<RawNmot>> nmot_fields() { return nmot_table; }

NmotTable nmot_from(const FileNotes& notes, const Entry& entry) {
    NmotTable out;
    const auto* table = entry.value.as<Table>();
    if (table == nullptr) return out;
    check_keys(notes, *table, entry.value.at, "the panel's nmot", specs_of(nmot_fields()));
    RawNmot raw;
    read_fields(notes, *table, nmot_fields(), raw);
    out.temperature = raw.temperature;
    const auto value = [](const std::optional<Measure>& m) { return m ? std::optional(m->value) : std::nullopt; };
    NmotPoint point{value(raw.pmax), value(raw.vmp), value(raw.imp), value(raw.voc), value(raw.isc)};
    if (!point.pmax_w && point.vmp_v && point.imp_a) point.pmax_w = *point.vmp_v * *point.imp_a;
    if (point.pmax_w || point.vmp_v || point.imp_a || point.voc_v || point.isc_a) out.point = point;
    if (point.pmax_w && point.vmp_v && point.imp_a) {
        const double product_w = *point.vmp_v * *point.imp_a;
        if (product_w > 1.05 * *point.pmax_w || product_w < 0.95 * *point.pmax_w) {
            notes.complain(
                raw.pmax ? raw.pmax->at : entry.at, Complaint::disagreement,
                fmt::format("of the nmot point, 'pmax' {} W is not 'vmp' times 'imp', {} W. Check the three.",
                            plain(*point.pmax_w), plain(product_w)));
        }
    }
    return out;
}

}  // namespace plait::input
