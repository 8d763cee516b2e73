// The one question whether strings are to be fused, for whoever has the figures but no sheet.
#pragma once

#include <plait/study/wire_sheet.hpp>

#include <span>

namespace plait::study {

/// Whether every string of an input is to have a fuse: there are strings in parallel, and the code in force asks for
/// fuses or the file says that they are fitted. `fuses` as `rules::string_fuse_figures` gives them.
[[nodiscard]] bool fuses_wanted(const Setup& setup, std::span<const rules::StringFuse> fuses);

}  // namespace plait::study
