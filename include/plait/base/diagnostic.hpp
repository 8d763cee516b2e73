#pragma once

#include <plait/base/complaint.hpp>

#include <string>
#include <vector>

namespace plait {

/// One complaint about what a person wrote, with the place and what to write instead.
/// `line` and `column` count from 1; 0 means the complaint belongs to the file as a whole.
struct Diagnostic {
    std::string file;
    int line = 0;
    int column = 0;
    Complaint kind = Complaint::internal;
    std::string message;
};

using Diagnostics = std::vector<Diagnostic>;

}  // namespace plait
