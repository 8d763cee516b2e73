// Everything that is said about the files of one reading, gathered so that a person hears all of it at once.
#pragma once

#include <plait/base/diagnostic.hpp>
#include <plait/model/assumption.hpp>

#include <string>
#include <utility>
#include <vector>

namespace plait::input {

/// A place in a text; line and column count from 1, columns in characters.
struct Place {
    int line = 0;
    int column = 0;

    friend bool operator<(Place a, Place b) { return a.line != b.line ? a.line < b.line : a.column < b.column; }
};

struct Notes {
    Diagnostics complaints;
    std::vector<std::string> doubts;
    std::vector<Assumption> assumptions;
};

/// The notes as seen from one file.
class FileNotes {
public:
    FileNotes(std::string file, Notes& notes) : file_(std::move(file)), notes_(&notes) {}

    void complain(Place at, Complaint kind, std::string message) const {
        notes_->complaints.push_back({file_, at.line, at.column, kind, std::move(message)});
    }
    void doubt(Place at, const std::string& message) const;
    void assume(Assumption assumption) const { notes_->assumptions.push_back(std::move(assumption)); }

    [[nodiscard]] const std::string& file() const { return file_; }
    [[nodiscard]] std::size_t complaint_count() const { return notes_->complaints.size(); }
    [[nodiscard]] FileNotes about(std::string other_file) const { return {std::move(other_file), *notes_}; }

private:
    std::string file_;
    Notes* notes_;
};

/// The complaints file by file and from top to bottom, each once, and no more of them than a person can use.
[[nodiscard]] Diagnostics in_order(Diagnostics complaints);

}  // namespace plait::input
