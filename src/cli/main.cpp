#include <plait/cli/run.hpp>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <memory>
#include <string>
#include <vector>

#include <unistd.h>

namespace {

// A little over what the reader accepts: enough for it to say that the file is too large.
constexpr std::size_t most_bytes = (1U << 20U) + 4096U;

plait::Result<std::string, std::string> read_file(const std::string& path) {
    const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"), &std::fclose);
    if (!file) return plait::Failure{std::string("cannot be opened (") + std::strerror(errno) + "); check the path"};
    std::string text(most_bytes, '\0');
    const std::size_t got = std::fread(text.data(), 1, text.size(), file.get());
    if (std::ferror(file.get()) != 0) {
        return plait::Failure{std::string("cannot be read (") + std::strerror(errno) + "); name a file, not a folder"};
    }
    text.resize(got);
    return text;
}

// Colour on a terminal only, and never under NO_COLOR (no-color.org) or on a dumb one.
bool wants_colour() {
    const char* no_color = std::getenv("NO_COLOR");
    const char* term = std::getenv("TERM");
    if (no_color != nullptr && *no_color != '\0') return false;
    if (term != nullptr && std::strcmp(term, "dumb") == 0) return false;
    return isatty(STDOUT_FILENO) != 0;
}

bool written(std::FILE* stream, const std::string& text) {
    return std::fwrite(text.data(), 1, text.size(), stream) == text.size() && std::fflush(stream) == 0;
}

}  // namespace

int main(int argc, char** argv) {
    const plait::cli::Ran ran =
        plait::cli::run(std::vector<std::string>(argv + 1, argv + argc), {&read_file, wants_colour()});
    const bool complained = written(stderr, ran.err);
    if (!written(stdout, ran.out)) {
        // A full disk must not look like a clean report.
        std::fputs("plait: the output could not be written; is the disk full?\n", stderr);
        return plait::cli::Exit::cannot_write;
    }
    return complained ? ran.exit_code : plait::cli::Exit::cannot_write;
}
