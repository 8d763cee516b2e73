// What is wrong with a measured table, gathered in bounded memory.
#pragma once

#include <plait/base/diagnostic.hpp>

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>

namespace plait::input {

/// The first complaints of a file, and how many there are.
class MeasuredComplaints {
public:
    explicit MeasuredComplaints(std::string file) : file_(std::move(file)) {}

    void add(int line, std::size_t column, Complaint kind, std::string message);
    /// About the cell that begins at a byte of the line.
    void add_at(std::string_view line, int number, std::size_t offset, Complaint kind, std::string message);

    /// So many that the rest of the file is not worth reading.
    [[nodiscard]] bool hopeless() const { return count_ >= 1000; }
    void stop_at(int line) { stopped_line_ = line; }

    [[nodiscard]] std::size_t count() const { return count_; }
    /// All of them, with a last one for those that were only counted.
    [[nodiscard]] Diagnostics taken();

private:
    std::string file_;
    Diagnostics first_;
    std::size_t count_ = 0;
    int stopped_line_ = 0;
};

/// Bytes that need not be text, quoted for a message.
[[nodiscard]] std::string shown(std::string_view bytes);

}  // namespace plait::input
