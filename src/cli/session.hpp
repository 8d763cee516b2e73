// One run of the program: the files it reads are recorded, so that a report can say what it was made from.
#pragma once

#include <plait/cli/run.hpp>
#include <plait/output/report.hpp>

#include "options.hpp"

#include <boost/crc.hpp>

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace plait::cli {

class Session {
public:
    explicit Session(const World& world) : world_(world) {}

    [[nodiscard]] const World& world() const { return world_; }
    /// A whole file; or a sentence why not.
    [[nodiscard]] Result<std::string, std::string> read_file(const std::string& path);
    /// A whole file that may be long, such as years of weather; up to 64 MiB.
    [[nodiscard]] Result<std::string, std::string> read_long_file(const std::string& path);
    /// The same as `read_file`, for readers that open the files that a file names.
    [[nodiscard]] input::ReadFile reader();
    /// A file in pieces; a sentence why it cannot be read, or nothing.
    [[nodiscard]] std::optional<std::string> read_pieces(const std::string& path,
                                                         const std::function<bool(std::string_view)>& take);
    /// Whether there is anything of that name, which is not opened: a pipe would wait for its writer.
    [[nodiscard]] bool is_there(const std::string& path) const;
    [[nodiscard]] search::KeepGoing watch(double most_seconds) const {
        return world_.watch ? world_.watch(most_seconds) : search::KeepGoing();
    }

    /// Of a report made from what was read so far.
    [[nodiscard]] output::Provenance provenance(const std::string& file, const Form& form) const;
    [[nodiscard]] output::TerminalStyle style(const Form& form) const;

private:
    const World& world_;
    // CRC-64 as in ECMA-182, reflected: it tells files apart, it guards against nobody.
    boost::crc_optimal<64, 0x42F0E1EBA9EA3693ULL, ~0ULL, ~0ULL, true, true> sum_;
};

}  // namespace plait::cli
