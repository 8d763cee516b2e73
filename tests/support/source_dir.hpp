// Where the project's own files are.
#pragma once

namespace support {

/// The source tree, an absolute path. One small file knows it, so that a compiler cache knows all the other tests in every
/// clone.
[[nodiscard]] const char* source_dir();

}  // namespace support
