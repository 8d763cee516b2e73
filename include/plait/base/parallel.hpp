// Work that may be shared out over threads. Threads belong to the program that has them; a layer below asks for them by this.
#pragma once

#include <cstddef>
#include <functional>

namespace plait {

/// Runs job(0) … job(n − 1), in any order, several at a time; returns when all are done. Empty: nobody has threads.
using InParallel = std::function<void(std::size_t n, const std::function<void(std::size_t)>& job)>;

/// By threads where there are some, else one after another.
inline void run_jobs(const InParallel& in_parallel, std::size_t n, const std::function<void(std::size_t)>& job) {
    if (in_parallel && n > 1) return in_parallel(n, job);
    for (std::size_t i = 0; i < n; ++i) job(i);
}

}  // namespace plait
