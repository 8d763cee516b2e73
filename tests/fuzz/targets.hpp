// What is fuzzed: every reader, and every command with its files in memory.
#pragma once

#include <string_view>
#include <vector>

namespace plait::fuzz {

struct Target {
    std::string_view name;
    void (*run)(std::string_view text);
};

/// Those of this program. Of plait_fuzz_readers one for each reader: whatever the text, there is a value or at least one
/// complaint, and every complaint is whole. Of plait_fuzz_commands one for each command, and one for command lines at large;
/// the text is arguments and files, as docs/fuzzing.md says.
[[nodiscard]] const std::vector<Target>& targets();

/// Ends the program with a sentence, for libFuzzer to keep the input.
[[noreturn]] void found(const char* what, std::string_view detail = {});

}  // namespace plait::fuzz
