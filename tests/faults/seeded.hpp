// Included before every source of a tree with faults in it (seeded_faults.py): which of them is switched on.
#pragma once

#include <cstdlib>

namespace plait_faults {

inline bool on(int number) {
    static const int chosen = [] {
        const char* text = std::getenv("PLAIT_FAULT");
        return text == nullptr ? 0 : std::atoi(text);
    }();
    return chosen == number;
}

}  // namespace plait_faults
