// A picture as SVG text: shapes with classes, styled by one sheet, so that light and dark, colour and print are decided
// in one place. Whatever comes from a file is escaped here and nowhere else.
#pragma once

#include <plait/output/report.hpp>

#include <fmt/core.h>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

/// Text for XML and HTML, safe inside elements and quoted attributes. Control characters, which XML has no way to
/// write, become U+FFFD.
[[nodiscard]] std::string escaped(std::string_view text);

struct Spot {
    double x = 0.0;
    double y = 0.0;
};

class Svg {
public:
    /// `title` names the picture, `description` says what it shows to whoever cannot see it. `id` must be unique on a
    /// page.
    Svg(double width, double height, std::string_view id, std::string_view title, std::string_view description);

    void line(Spot a, Spot b, std::string_view css);
    void polyline(const std::vector<Spot>& spots, std::string_view css);
    void polygon(const std::vector<Spot>& spots, std::string_view css);
    void rect(Spot corner, double width, double height, std::string_view css);
    void circle(Spot centre, double radius, std::string_view css);
    /// `anchor`: start, middle or end.
    void text(Spot at, std::string_view words, std::string_view css, std::string_view anchor = "start");
    /// Opens a group; `attributes` as they stand, already escaped.
    void open(std::string_view attributes);
    void close();
    /// A title shown when a pointer rests on the open group.
    void tip(std::string_view words);

    /// What a picture that goes its own way says below itself: the plan's verdict, if any, and whose word is the last.
    void foot(Tone tone, std::string_view verdict);
    /// One word across the whole picture: over a wiring that must not be connected.
    void across(std::string_view word);

    /// For a page, which brings the style sheet.
    [[nodiscard]] std::string inner() const;
    /// A file of its own, with the style sheet in it.
    [[nodiscard]] std::string file() const;

private:
    [[nodiscard]] std::string head(std::string_view extra) const;

    double width_;
    double height_;
    std::string id_;
    std::string title_;
    std::string description_;
    std::string body_;
};

/// The sheet for pictures, used on pages and in files.
[[nodiscard]] std::string_view picture_style();

}  // namespace plait::output
