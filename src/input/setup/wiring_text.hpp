// Wirings in their short form.
#pragma once

#include "quantity/words.hpp"

#include <plait/base/complaint.hpp>
#include <plait/model/panel.hpp>
#include <plait/model/wiring.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::input {

inline constexpr std::size_t most_panels = 500;

struct WiringKind {
    std::string id;
    std::size_t groups = 0;  ///< bypass groups of one panel; 0: not known, as the panel was not read
    int group_cells = 0;     ///< cells, or half cells, of one group; 0: what is known of cells in reverse is not of these
};

/// The kind as its panel has it.
[[nodiscard]] WiringKind wiring_kind(const std::string& id, const Panel& panel);

/// What a wiring may speak of.
struct WiringScope {
    std::vector<WiringKind> kinds;
    std::vector<std::string> inputs;
    std::vector<std::string> planes{};  ///< their names

    [[nodiscard]] Words kind_ids() const;
    [[nodiscard]] Words input_names() const;
    [[nodiscard]] std::optional<std::size_t> kind(std::string_view id) const;
    [[nodiscard]] std::optional<std::size_t> input(std::string_view name) const;
};

struct WiringFault {
    std::size_t offset = 0;  ///< bytes into the text
    Complaint kind = Complaint::wiring;
    std::string message;
};

/// One input's wiring; `offset` is where `text` begins in the whole, for the faults.
[[nodiscard]] std::optional<InputWiring> wiring_from_text(std::string_view text, std::size_t offset,
                                                          const WiringScope& scope, std::vector<WiringFault>& faults);

}  // namespace plait::input
