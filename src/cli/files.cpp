#include "files.hpp"

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <memory>
#include <system_error>
#include <utility>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace plait::cli {
namespace {

// A little over what the reader accepts: enough for it to say that the file is too large.
constexpr std::size_t most_bytes = (1U << 20U) + 4096U;
constexpr std::string_view standard_input = "-";
constexpr std::string_view used_up = "is standard input, which was read already; name a file";

using Stream = std::unique_ptr<std::FILE, int (*)(std::FILE*)>;

Stream opened(const std::string& path) { return {std::fopen(path.c_str(), "rb"), &std::fclose}; }

std::string why(const char* what, const char* advice) { return std::string(what) + " (" + std::strerror(errno) + "); " + advice; }
std::string cannot_open() { return why("cannot be opened", "check the path"); }
std::string cannot_read() { return why("cannot be read", "name a file, not a folder"); }

/// Which file a path means. One that is not there yet: by its folder and name.
struct Identity {
    dev_t device = 0;
    ino_t inode = 0;
    std::string name;  ///< empty where the file is there

    friend bool operator==(const Identity& a, const Identity& b) {
        return a.device == b.device && a.inode == b.inode && a.name == b.name;
    }
};

std::string folder_of(const std::string& path) {
    const std::size_t slash = path.find_last_of('/');
    if (slash == std::string::npos) return ".";
    return slash == 0 ? "/" : path.substr(0, slash);
}

std::optional<Identity> identity_of(const std::string& path) {
    struct stat info {};
    if (stat(path.c_str(), &info) == 0) return Identity{info.st_dev, info.st_ino, ""};
    const std::size_t slash = path.find_last_of('/');
    if (stat(folder_of(path).c_str(), &info) != 0) return std::nullopt;
    return Identity{info.st_dev, info.st_ino, slash == std::string::npos ? path : path.substr(slash + 1)};
}

/// A file beside its target, which it replaces when it is whole; it vanishes if it never is.
class NewFile {
public:
    explicit NewFile(const std::string& path) : target_(path) {
        // What a link names is replaced, not the link.
        if (const std::unique_ptr<char, void (*)(void*)> real{realpath(path.c_str(), nullptr), &std::free}) {
            target_ = real.get();
        }
        name_ = target_ + ".part-XXXXXX";
        handle_ = mkstemp(name_.data());
    }
    ~NewFile() {
        if (handle_ >= 0) close(handle_);
        if (handle_ >= 0 && !placed_) unlink(name_.c_str());
    }
    NewFile(const NewFile&) = delete;
    NewFile& operator=(const NewFile&) = delete;

    [[nodiscard]] bool open() const { return handle_ >= 0; }

    /// The permission bits are those of the file that was there, else what the user's mask leaves.
    [[nodiscard]] bool fill(std::string_view text) const {
        while (!text.empty()) {
            const ssize_t taken = ::write(handle_, text.data(), text.size());
            if (taken < 0 && errno == EINTR) continue;
            if (taken <= 0) return false;
            text.remove_prefix(static_cast<std::size_t>(taken));
        }
        struct stat info {};
        mode_t bits = 0666;
        if (stat(target_.c_str(), &info) == 0) {
            bits = info.st_mode & 07777U;
        } else {
            const mode_t mask = umask(0);
            umask(mask);
            bits &= ~mask;
        }
        return fchmod(handle_, bits) == 0 && fsync(handle_) == 0;
    }

    [[nodiscard]] bool place() {
        placed_ = std::rename(name_.c_str(), target_.c_str()) == 0;
        return placed_;
    }

private:
    std::string target_;
    std::string name_;
    int handle_ = -1;
    bool placed_ = false;
};

/// A file that is there and is not one of ours.
bool of_another(const CommandResult::File& f) {
    const Stream there = opened(f.path);
    if (!there) return false;
    std::string head(f.mark.size(), '\0');
    head.resize(std::fread(head.data(), 1, head.size(), there.get()));
    const bool empty = head.empty() && std::fgetc(there.get()) == EOF;
    return !empty && head != f.mark;
}

}  // namespace

Result<std::string, std::string> Files::read(const std::string& path) {
    if (path == standard_input) {
        if (!standard_input_ && standard_input_is_used_) return Failure{std::string(used_up)};
        if (!standard_input_) {
            standard_input_is_used_ = true;
            standard_input_.emplace();
            std::vector<char> piece(1U << 16U);
            while (standard_input_->size() < most_bytes) {
                const std::size_t got = std::fread(piece.data(), 1, piece.size(), stdin);
                if (got == 0) break;
                standard_input_->append(piece.data(), got);
            }
        }
        return *standard_input_;
    }
    const Stream file = opened(path);
    if (!file) return Failure{cannot_open()};
    read_.push_back(path);
    std::string text(most_bytes, '\0');
    const std::size_t got = std::fread(text.data(), 1, text.size(), file.get());
    if (std::ferror(file.get()) != 0) return Failure{cannot_read()};
    text.resize(got);
    return text;
}

std::optional<std::vector<std::string>> Files::files_of_folder(const std::string& path) {
    namespace fs = std::filesystem;
    std::error_code error;
    if (!fs::is_directory(path, error)) return std::nullopt;
    std::vector<std::string> files;
    const bool slash = !path.empty() && path.back() == '/';
    for (fs::directory_iterator at(path, error), end; !error && at != end; at.increment(error)) {
        std::error_code of_entry;
        const std::string name = at->path().filename().string();
        if (at->path().extension() == ".toml" && name.front() != '.' && at->is_regular_file(of_entry)) files.push_back(path + (slash ? "" : "/") + name);
    }
    std::sort(files.begin(), files.end());
    return files;
}

bool Files::is_there(const std::string& path) {
    struct stat info {};
    return lstat(path.c_str(), &info) == 0;
}

Result<std::string, std::string> Files::read_named(const std::string& path) {
    struct stat info {};
    if (stat(path.c_str(), &info) == 0 && !S_ISREG(info.st_mode)) {
        return Failure{std::string("is no ordinary file; name one that is")};
    }
    return read(path);
}

std::optional<std::string> Files::read_pieces(const std::string& path,
                                              const std::function<bool(std::string_view)>& take) {
    const bool standard = path == standard_input;
    if (standard && std::exchange(standard_input_is_used_, true)) return std::string(used_up);
    const Stream file = standard ? Stream(nullptr, &std::fclose) : opened(path);
    if (!standard && !file) return cannot_open();
    if (!standard) read_.push_back(path);
    std::FILE* const stream = standard ? stdin : file.get();
    std::vector<char> piece(1U << 16U);
    while (const std::size_t got = std::fread(piece.data(), 1, piece.size(), stream)) {
        if (!take(std::string_view(piece.data(), got))) return std::nullopt;
    }
    if (std::ferror(stream) == 0) return std::nullopt;
    return cannot_read();
}

std::optional<Files::Refusal> Files::may_not_write(const std::vector<CommandResult::File>& files) const {
    const auto refuse = [](const std::string& path, const char* message) {
        return Refusal{Exit::bad_input, path.empty() ? std::string("an output without a name") : path, message};
    };
    std::vector<Identity> inputs;
    for (const std::string& path : read_) {
        if (const std::optional<Identity> known = identity_of(path)) inputs.push_back(*known);
    }
    std::vector<Identity> outputs;
    for (const CommandResult::File& f : files) {
        if (f.path.empty()) return refuse(f.path, "give it a name");
        struct stat info {};
        if (stat(f.path.c_str(), &info) == 0 && !S_ISREG(info.st_mode)) {
            return refuse(f.path, "is no ordinary file; choose a name of its own for this output");
        }
        const std::optional<Identity> target = identity_of(f.path);
        if (!target) return Refusal{Exit::cannot_write, f.path, "its folder is not there; check the path"};
        if (std::find(inputs.begin(), inputs.end(), *target) != inputs.end()) {
            return refuse(f.path, "is a file that this command reads; choose another name, nothing was written");
        }
        if (std::find(outputs.begin(), outputs.end(), *target) != outputs.end()) {
            return refuse(f.path, "is named for two outputs; give each a name of its own, nothing was written");
        }
        outputs.push_back(*target);
        if (of_another(f)) {
            return Refusal{Exit::cannot_write, f.path,
                           "there is another file of that name already; choose a new name or move it away"};
        }
    }
    return std::nullopt;
}

std::optional<Files::Refusal> Files::write(const std::vector<CommandResult::File>& files) const {
    if (std::optional<Refusal> refused = may_not_write(files)) return refused;
    std::vector<std::unique_ptr<NewFile>> written;
    for (const CommandResult::File& f : files) {
        NewFile& file = *written.emplace_back(std::make_unique<NewFile>(f.path));
        if (!file.open()) return Refusal{Exit::cannot_write, f.path, why("cannot be written", "check the path")};
        if (!file.fill(f.text)) {
            return Refusal{Exit::cannot_write, f.path, "could not be written to the end; is the disk full?"};
        }
    }
    for (std::size_t i = 0; i < files.size(); ++i) {
        if (!written[i]->place()) {
            return Refusal{Exit::cannot_write, files[i].path, why("cannot be put in its place", "check the path")};
        }
    }
    return std::nullopt;
}

}  // namespace plait::cli
