// The [[panel]] tables of a set-up.
#pragma once

#include "document.hpp"
#include "quantity/fields.hpp"
#include "wiring_text.hpp"

#include <plait/input/read_setup.hpp>

#include <array>
#include <string_view>
#include <vector>

namespace plait::input {

struct PanelKinds {
    std::vector<PanelKind> kinds;  // complete only if there were no complaints
    std::vector<WiringKind> ids;   // of every [[panel]], read well or not
};

/// `planes` are the names of the set-up's planes.
[[nodiscard]] PanelKinds panel_kinds_from(const FileNotes& notes, Notes& all, const Entry& entry,
                                          const ReadFile& read_file, const std::vector<std::string>& planes);

/// What wirings call the panel of a file that is the first kind of a set-up and has no id there.
[[nodiscard]] std::string id_of_file(std::string_view path);

/// The path of a file that a set-up names, as seen from where the set-up's own path starts.
[[nodiscard]] std::string beside(std::string_view setup_file, std::string_view named_file);

/// The text of a file that a set-up names ("panel", "controller"); a complaint where it cannot be had. A caller may
/// have no reader.
/// Keys of which every panel file, and every controller file, has one at least.
inline constexpr std::array<std::string_view, 5> panel_file_keys{"voc", "isc", "vmp", "imp", "pmax"};
inline constexpr std::array<std::string_view, 2> controller_file_keys{"input", "battery"};

[[nodiscard]] std::optional<std::string> text_beside(const FileNotes& notes, const Text& file, std::string_view what,
                                                     const ReadFile& read_file);

}  // namespace plait::input
