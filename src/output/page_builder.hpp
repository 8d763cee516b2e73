// A page: headings, paragraphs, tables and pictures in one file that needs no network and no script. Everything that
// comes in as text is escaped here.
#pragma once

#include <plait/rules/finding.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

class PageBuilder {
public:
    explicit PageBuilder(std::string_view title);

    /// The verdict as the page's heading: a shape, its word, and what it is about.
    void verdict(rules::Outcome outcome, std::string_view about);
    /// The page's heading where there is no verdict.
    void title_heading(std::string_view words);
    void heading(std::string_view words);
    void subheading(std::string_view words);
    void paragraph(std::string_view words);
    /// What stands where the eye lands.
    void cautions(const std::vector<std::string>& items);
    void list(const std::vector<std::string>& items);
    /// A text report as it stands, broken where the screen ends.
    void report(std::string_view text);
    /// `svg` as pictures make it, for a page.
    void picture(std::string_view svg);

    struct Cell {
        std::string words;
        bool number = false;
        std::vector<std::string> small = {};  ///< further lines under it
    };
    /// On a narrow screen every row becomes a card, each cell under its heading.
    void table(std::string_view caption, const std::vector<std::string>& headings,
               const std::vector<std::vector<Cell>>& rows);

    [[nodiscard]] std::string html() const;

private:
    std::string title_;
    std::string body_;
};

/// The shape of a verdict, as in the pictures: ● ⊕ ▣ ▽ ✕.
[[nodiscard]] std::string_view shape_of(rules::Outcome outcome);

}  // namespace plait::output
