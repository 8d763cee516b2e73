#include "files.hpp"

#include <plait/input/clean_text.hpp>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <thread>
#include <vector>

#include <sys/ioctl.h>
#include <unistd.h>

namespace {

// Colour on a terminal only, and never under NO_COLOR (no-color.org) or on a dumb one.
bool wants_colour() {
    const char* no_color = std::getenv("NO_COLOR");
    const char* term = std::getenv("TERM");
    if (no_color != nullptr && *no_color != '\0') return false;
    if (term != nullptr && std::strcmp(term, "dumb") == 0) return false;
    return isatty(STDOUT_FILENO) != 0;
}

// What the terminal has; 80 where the output goes elsewhere, so that a file does not depend on who made it.
std::size_t terminal_columns() {
    constexpr std::size_t usual = 80;
    constexpr std::size_t least = 40;
    constexpr std::size_t most = 200;
    if (isatty(STDOUT_FILENO) == 0) return usual;
    unsigned long columns = 0;
    if (const char* said = std::getenv("COLUMNS")) columns = std::strtoul(said, nullptr, 10);
    winsize size{};
    if (columns == 0 && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0) columns = size.ws_col;
    return columns == 0 ? usual : std::clamp<std::size_t>(columns, least, most);
}

std::string today() {
    const auto days = std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now());
    const std::chrono::year_month_day date(days);
    char text[16];
    std::snprintf(text, sizeof text, "%04d-%02u-%02u", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                  static_cast<unsigned>(date.day()));
    return text;
}

bool written(std::FILE* stream, const std::string& text) {
    return std::fwrite(text.data(), 1, text.size(), stream) == text.size() && std::fflush(stream) == 0;
}

volatile std::sig_atomic_t interrupted = 0;

// The second Ctrl-C ends the program as ever.
extern "C" void interrupt(int) {
    interrupted = 1;
    std::signal(SIGINT, SIG_DFL);
}

/// Stops after so many seconds or at Ctrl-C. From the second second on, a terminal gets a line that is wiped at the
/// end.
class Watch {
public:
    explicit Watch(double most_seconds) : most_seconds_(most_seconds), terminal_(isatty(STDERR_FILENO) != 0) {}
    ~Watch() { wipe(); }
    Watch(const Watch&) = delete;
    Watch& operator=(const Watch&) = delete;

    bool go_on(const plait::search::SearchProgress& p) {
        const double now_s = seconds();
        if (interrupted != 0 || now_s >= most_seconds_) {
            wipe();
            return false;
        }
        if (terminal_ && now_s >= next_line_s_) {
            next_line_s_ = now_s + 0.25;
            shown_ = true;
            std::fprintf(stderr,
                         "\r%.0f s: %zu solved, best %.1f W, at most %.1f W; Ctrl-C stops and shows the best \x1b[K",
                         now_s, p.solved, p.best_w, p.bound_w);
        }
        return true;
    }

private:
    [[nodiscard]] double seconds() const {
        return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
    }
    void wipe() {
        if (shown_) std::fputs("\r\x1b[K", stderr);
        shown_ = false;
    }

    double most_seconds_;
    bool terminal_;
    bool shown_ = false;
    double next_line_s_ = 1.0;
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

/// How far a long run is, on a terminal, and whether Ctrl-C was pressed.
class StepWatch {
public:
    explicit StepWatch(std::size_t steps) : steps_(steps), terminal_(isatty(STDERR_FILENO) != 0) {}
    ~StepWatch() { wipe(); }
    StepWatch(const StepWatch&) = delete;
    StepWatch& operator=(const StepWatch&) = delete;

    void progress(std::size_t done) {
        const double now_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
        if (!terminal_ || now_s < next_line_s_) return;
        next_line_s_ = now_s + 0.25;
        shown_ = true;
        std::fprintf(stderr, "\r%.0f s: %zu of %zu pairs; Ctrl-C stops and keeps what is done \x1b[K", now_s, done, steps_);
    }
    void wipe() {
        if (shown_) std::fputs("\r\x1b[K", stderr);
        shown_ = false;
    }

private:
    std::size_t steps_;
    bool terminal_;
    bool shown_ = false;
    double next_line_s_ = 1.0;
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

plait::cli::RunWatch watch_run(std::size_t steps) {
    std::signal(SIGINT, &interrupt);
    const auto w = std::make_shared<StepWatch>(steps);
    return {[] { return interrupted == 0; }, [w](std::size_t done) { w->progress(done); }, [w] { w->wipe(); }};
}

/// As many threads as the machine has cores share the jobs.
void in_parallel(std::size_t n, const std::function<void(std::size_t)>& job) {
    constexpr std::size_t most_threads = 64;
    const std::size_t cores = std::clamp<std::size_t>(std::thread::hardware_concurrency(), 1, most_threads);
    const std::size_t wanted = std::min(cores, n);
    std::atomic<std::size_t> next{0};
    std::exception_ptr trouble;
    std::mutex of_trouble;
    const auto work = [&] {
        try {
            for (std::size_t i = next++; i < n; i = next++) job(i);
        } catch (...) {
            const std::lock_guard<std::mutex> hold(of_trouble);
            trouble = std::current_exception();
            next = n;
        }
    };
    std::vector<std::thread> others;
    for (std::size_t t = 1; t < wanted; ++t) others.emplace_back(work);
    work();
    for (std::thread& t : others) t.join();
    if (trouble) std::rethrow_exception(trouble);
}

plait::search::KeepGoing watch(double most_seconds) {
    std::signal(SIGINT, &interrupt);
    const auto w = std::make_shared<Watch>(most_seconds);
    return [w](const plait::search::SearchProgress& p) { return w->go_on(p); };
}

}  // namespace

int main(int argc, char** argv) {
    using plait::cli::Exit;
    std::signal(SIGXFSZ, SIG_IGN);  // a file that may grow no longer is a disk that is full
    plait::cli::Files files;
    const plait::cli::World world{
        [&](const std::string& path) { return files.read(path); },
        wants_colour(),
        &watch,
        [&](const std::string& path, const auto& take) { return files.read_pieces(path, take); },
        terminal_columns(),
        &today,
        [&](const std::string& path) { return files.read_named(path); },
        &plait::cli::Files::is_there,
        &plait::cli::Files::files_of_folder,
        &in_parallel,
        &watch_run,
        [](std::string_view text) { return std::fwrite(text.data(), 1, text.size(), stdout) == text.size(); }};
    plait::cli::CommandResult result = plait::cli::run(std::vector<std::string>(argv + 1, argv + argc), world);
    // Files come first: a report on the terminal must not stand for pages that were refused.
    const std::optional<plait::cli::Files::Refusal> refusal = files.write(result.files);
    if (refusal && refusal->exit_code == Exit::bad_input) {
        result = plait::cli::refused_output(result, refusal->file, refusal->message);
    }
    const bool complained = written(stderr, result.err);
    if (!written(stdout, result.out)) {
        // A full disk must not look like a clean report.
        std::fputs("plait: the output could not be written; is the disk full?\n", stderr);
        return Exit::cannot_write;
    }
    if (refusal && refusal->exit_code != Exit::bad_input) {
        std::fputs((plait::input::clean_text(refusal->file + ": " + refusal->message) + "\n").c_str(), stderr);
        return refusal->exit_code;
    }
    return complained ? result.exit_code : Exit::cannot_write;
}
