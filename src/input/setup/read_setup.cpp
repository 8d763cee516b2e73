#include <plait/input/read_setup.hpp>

#include "cable_from.hpp"
#include "controller_fields.hpp"
#include "controller_from.hpp"
#include "panel_kinds.hpp"
#include "place_from.hpp"
#include "setup_fields.hpp"
#include "site_from.hpp"
#include "storage_from.hpp"
#include "wiring_table.hpp"

#include <fmt/core.h>

#include <array>

namespace plait::input {
namespace {

constexpr auto curve_words = texts_of(curve_method_names);

using S = Field<RawSetup>;
constexpr std::array setup_table{
    S{{.key = "title", .kind = Kind::text, .meaning = "heads the report", .if_missing = "none", .limits = {1, 120}},
      &RawSetup::title},
    S{{.key = "currency",
       .kind = Kind::text,
       .meaning = "of every price",
       .if_missing = "prices stand without one",
       .limits = {1, 10}},
      &RawSetup::currency},
    S{{.key = "curve_method",
       .kind = Kind::word,
       .meaning = "how a datasheet becomes a curve (docs/physics.md)",
       .fall_back = FallBack{static_cast<double>(CurveMethod::prior_ideality)},
       .words = curve_words},
      &RawSetup::curve_method},
    S{{.key = "drop_target",
       .kind = Kind::percentage,
       .meaning = "how much of the working voltage the cables of an input may take together",
       .if_missing = "counts where there are cables",
       .fall_back = FallBack{0.02, Quantity::drop_target, "most of the working voltage they may take",
                             "not stated; common practice is 1 to 3 %"},
       .limits = {0.001, 0.2}},
      &RawSetup::drop_target},
    S{{.key = "panel",
       .kind = Kind::by_hand,
       .meaning = "the kinds of panel",
       .if_missing = "at least one",
       .form = "[[panel]] tables, with a count and the panel's keys or its file",
       .required = true},
      {}},
    S{{.key = "controller",
       .kind = Kind::by_hand,
       .meaning = "the charge controller or power station",
       .form = "a [controller] table, with its type and inputs or its file",
       .required = true},
      {}},
    S{{.key = "site",
       .kind = Kind::by_hand,
       .meaning = "the weather and the mounting",
       .if_missing = "all assumed",
       .form = "[site]"},
      {}},
    S{{.key = "plane",
       .kind = Kind::by_hand,
       .meaning = "the surfaces panels are on, for a harvest over time",
       .if_missing = "one is assumed there, towards the equator",
       .form = "[[plane]] tables, with name, tilt and azimuth"},
      {}},
    S{{.key = "losses",
       .kind = Kind::by_hand,
       .meaning = "what a harvest over time loses besides",
       .if_missing = "none is counted",
       .form = "[losses]"},
      {}},
    S{{.key = "storage",
       .kind = Kind::by_hand,
       .meaning = "what the battery takes and gives over time",
       .if_missing = "no battery is run over time",
       .form = "[storage]"},
      {}},
    S{{.key = "wiring",
       .kind = Kind::by_hand,
       .meaning = "the wiring to be judged",
       .if_missing = "none is judged on its own",
       .form = "[wiring]"},
      {}},
    S{{.key = "cable",
       .kind = Kind::by_hand,
       .meaning = "the cables between panels, input and battery",
       .if_missing = "none is reckoned with",
       .form = "[[cable]] tables, with run, length and size"},
      {}},
    S{{.key = "fittings",
       .kind = Kind::by_hand,
       .meaning = "ratings of fuses, disconnect and connectors",
       .if_missing = "what is needed is worked out",
       .form = "[fittings]"},
      {}},
};

constexpr std::string_view how_controller = "Write its keys under [controller]";

class SetupReader {
public:
    SetupReader(const std::string& file, const ReadFile& read_file) : notes_(file, all_), read_file_(read_file) {}

    Result<Setup> run(std::string_view text) {
        const auto table = parse_document(text, notes_);
        if (table && !is_panel_file(*table)) read(*table);
        if (!all_.complaints.empty()) return Failure{in_order(std::move(all_.complaints))};
        setup_.assumptions = std::move(all_.assumptions);
        setup_.doubts = std::move(all_.doubts);
        return std::move(setup_);
    }

private:
    bool is_panel_file(const Table& table) {
        if (find(table, "panel") != nullptr) return false;
        for (const std::string_view key : {"pmax", "vmp", "imp", "voc", "isc"}) {
            const Entry* entry = find(table, key);
            if (entry == nullptr) continue;
            notes_.complain(
                entry->at, Complaint::wrong_file,
                fmt::format("{} at the top makes this a panel file, but a set-up was wanted. Write a set-up that "
                            "names it: [[panel]], file = \"{}\", count = 1, and a [controller].",
                            named(key), notes_.file()));
            return true;
        }
        return false;
    }

    void read(const Table& table) {
        check_keys(notes_, table, {1, 1}, "a set-up", specs_of(setup_fields()));
        RawSetup raw;
        read_fields(notes_, table, setup_fields(), raw);
        if (raw.title) setup_.title = raw.title->value;
        if (raw.currency) setup_.currency = raw.currency->value;
        if (raw.curve_method) setup_.curve_method = curve_method_names[raw.curve_method->index].value;

        if (const Entry* entry = find(table, "plane")) setup_.planes = planes_from(notes_, *entry);
        std::vector<std::string> planes;
        for (const Plane& plane : setup_.planes) planes.push_back(plane.name);
        PanelKinds kinds;
        if (const Entry* entry = find(table, "panel")) {
            kinds = panel_kinds_from(notes_, all_, *entry, read_file_, planes);
        }
        setup_.kinds = std::move(kinds.kinds);
        const Entry* controller = find(table, "controller");
        std::optional<Controller> read_controller;
        if (controller != nullptr) read_controller = controller_of(*controller);
        const Entry* site = find(table, "site");
        setup_.site = site_from(notes_, site);
        if (site != nullptr && site->value.as<Table>() != nullptr) {
            place_from(notes_, *site->value.as<Table>(), setup_);
        }
        if (const Entry* entry = find(table, "losses")) setup_.losses = losses_from(notes_, *entry);

        WiringScope scope{std::move(kinds.ids), {}, std::move(planes)};
        if (read_controller) {
            for (const Input& input : read_controller->inputs) scope.inputs.push_back(input.name);
            setup_.controller = std::move(*read_controller);
        }
        if (const Entry* entry = find(table, "storage")) {
            setup_.storage = storage_from(notes_, *entry, setup_.controller.battery);
        }
        cables(table, raw);
        // Without a single id that was read, every panel of the wiring would be complained of for no fault of its own.
        const Entry* wiring = find(table, "wiring");
        if (wiring != nullptr && !scope.kinds.empty()) setup_.wiring = wiring_from_table(notes_, *wiring, scope);
    }

    void cables(const Table& table, RawSetup& raw) {
        if (const Entry* entry = find(table, "fittings")) setup_.fittings = fittings_from(notes_, *entry);
        const Entry* entry = find(table, "cable");
        if (entry != nullptr) setup_.cables = cables_from(notes_, *entry, setup_);
        fill_missing(notes_, {"the cables", {}}, setup_fields(), raw, [&](std::string_view key) {
            return key == "drop_target" && entry != nullptr && find(table, key) == nullptr;
        });
        if (raw.drop_target) setup_.drop_target_ratio = raw.drop_target->value;
    }

    std::optional<Controller> controller_of(const Entry& entry) {
        const Table* table = read_table(notes_, entry, how_controller);
        if (table == nullptr) return std::nullopt;
        const Place at = entry.value.at;
        const Specs of_controller = specs_of(controller_fields());
        const Entry* file = find(*table, "file");
        if (file == nullptr) {
            const std::size_t before = notes_.complaint_count();
            Specs known = of_controller;
            known.push_back(&controller_file_spec());
            check_keys(notes_, *table, at, "[controller]", known);
            auto controller = controller_from(notes_, *table, at);
            return notes_.complaint_count() == before ? std::move(controller) : std::nullopt;
        }
        for (const Entry& key : *table) {
            if (key.key == "file" || key.key == "price") continue;
            notes_.complain(key.at, Complaint::without_effect,
                            fmt::format("{} stands beside 'file', which already describes the controller. Delete it, "
                                        "or delete 'file' and write all of the controller's keys here; only price may "
                                        "stand beside it.",
                                        named(key.key)));
        }
        RawController price;
        for (const Field<RawController>& field : controller_fields()) {
            const Entry* given = find(*table, "price");
            if (field.spec.key == "price" && given != nullptr) {
                price.price = read_measure(notes_, field.spec, given->value);
            }
        }
        const auto path = read_text(notes_, controller_file_spec(), file->value);
        if (!path) return std::nullopt;
        auto controller = controller_in_file(*path);
        if (controller && price.price) controller->price = price.price->value;
        return controller;
    }

    std::optional<Controller> controller_in_file(const Text& file) {
        const auto text = text_beside(notes_, file, "controller", read_file_);
        return text ? controller_from_file(notes_.about(beside(notes_.file(), file.value)), *text) : std::nullopt;
    }

    Notes all_;
    FileNotes notes_;
    const ReadFile& read_file_;
    Setup setup_;
};

}  // namespace

std::span<const Field<RawSetup>> setup_fields() { return setup_table; }

Result<Setup> read_setup(std::string_view text, const std::string& file, const ReadFile& read_file) {
    return SetupReader(file, read_file).run(text);
}

}  // namespace plait::input
