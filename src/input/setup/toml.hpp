// The only file that includes toml++. Version 3.3.0 stops the program on some malformed keys when its assertions are
// on; without them the same text comes back as an ordinary parse error. (The text guard refuses those keys first; this
// is the second lock on the door.)
#pragma once

#ifndef TOML_ASSERT
#define TOML_ASSERT(expr) static_cast<void>(0)
#endif
#define TOML_ENABLE_WINDOWS_COMPAT 0

#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wsign-conversion"
#pragma GCC diagnostic ignored "-Wshadow"
#endif
#include <toml++/toml.h>
#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif
