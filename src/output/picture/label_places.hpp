// Where words can stand beside a mark without lying on other words.
#pragma once

#include "plot_frame.hpp"

#include <algorithm>
#include <string_view>
#include <vector>

namespace plait::output {

struct Box {
    double left = 0.0;
    double top = 0.0;
    double right = 0.0;
    double bottom = 0.0;
};

class LabelPlaces {
public:
    /// Everything is to stay inside.
    explicit LabelPlaces(Box inside) : inside_(inside) {}

    void take(Box box) { taken_.push_back(box); }

    /// Where to begin the words (at their left end, on their base line) near a mark; right of it if there is room. The
    /// place is taken then. With no room anywhere they stand at the mark.
    [[nodiscard]] Spot place(Spot mark, std::string_view words, double size, bool bold) {
        const double w = wide(words, size, bold);
        for (double ring = 0.0; ring < 8.0; ring += 1.0) {
            const double down = ring * (size + 1.0);
            for (const Spot at :
                 {Spot{mark.x + 9.0, mark.y - 5.0 - down}, Spot{mark.x - 9.0 - w, mark.y - 5.0 - down},
                  Spot{mark.x + 9.0, mark.y + 12.0 + down}, Spot{mark.x - 9.0 - w, mark.y + 12.0 + down}}) {
                const Box box{at.x - 1.0, at.y - size, at.x + w + 1.0, at.y + 2.0};
                if (!free(box)) continue;
                take(box);
                return at;
            }
        }
        return mark;
    }

private:
    [[nodiscard]] bool free(const Box& b) const {
        if (b.left < inside_.left || b.right > inside_.right || b.top < inside_.top || b.bottom > inside_.bottom) {
            return false;
        }
        return std::none_of(taken_.begin(), taken_.end(), [&](const Box& t) {
            return b.left < t.right && t.left < b.right && b.top < t.bottom && t.top < b.bottom;
        });
    }

    Box inside_;
    std::vector<Box> taken_;
};

}  // namespace plait::output
