#include "source_dir.hpp"

const char* support::source_dir() { return PLAIT_SOURCE_DIR; }
