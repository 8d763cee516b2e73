// The entry for libFuzzer: `plait_fuzz_readers --target=setup FOLDER`; libFuzzer leaves options with two dashes alone.
#include "targets.hpp"

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>

namespace plait::fuzz {
namespace {

const Target* chosen = nullptr;

const Target* target_named(std::string_view name) {
    for (const Target& t : targets()) {
        if (t.name == name) return &t;
    }
    return nullptr;
}

void list_names() {
    for (const Target& t : targets()) std::printf("%.*s\n", static_cast<int>(t.name.size()), t.name.data());
}

}  // namespace

void found(const char* what, std::string_view detail) {
    std::fprintf(stderr, "FOUND: %s\n%.*s\n", what, static_cast<int>(detail.size()), detail.data());
    std::abort();
}

}  // namespace plait::fuzz

extern "C" int LLVMFuzzerInitialize(int* argc, char*** argv) {
    constexpr std::string_view option = "--target=";
    for (int i = 1; i < *argc; ++i) {
        const std::string_view typed = (*argv)[i];
        if (typed.substr(0, option.size()) == option)
            plait::fuzz::chosen = plait::fuzz::target_named(typed.substr(option.size()));
        if (typed == "--list") {
            plait::fuzz::list_names();
            std::exit(0);
        }
    }
    if (plait::fuzz::chosen == nullptr) {
        std::fputs("say which with --target=NAME; --list names them\n", stderr);
        std::exit(2);
    }
    return 0;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    // The copy is of the exact size, so that reading past its end is seen.
    const std::string text(reinterpret_cast<const char*>(bytes), size);
    plait::fuzz::chosen->run(text);
    return 0;
}
