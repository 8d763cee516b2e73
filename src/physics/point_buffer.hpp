#pragma once

#include <plait/physics/group_curve.hpp>

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace plait::physics {

/// Room for the states of all groups; on the stack for ordinary arrays.
class PointBuffer {
public:
    explicit PointBuffer(std::size_t size) : size_(size) {
        if (size > few_.size()) many_.resize(size);
    }
    [[nodiscard]] std::span<GroupPoint> all() {
        return many_.empty() ? std::span(few_).first(size_) : std::span<GroupPoint>(many_);
    }

private:
    std::size_t size_;
    std::array<GroupPoint, 16> few_;
    std::vector<GroupPoint> many_;
};

}  // namespace plait::physics
