// A page: headings, paragraphs, tables and pictures in one file that needs no network and no script. Everything that
// comes in as text is escaped here.
#pragma once

#include <plait/rules/finding.hpp>

#include "table_words.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

class PageBuilder {
public:
    explicit PageBuilder(std::string_view title);

    /// The verdict as the page's heading: a shape, its word, and what it is about.
    void verdict(rules::Outcome outcome, std::string_view about);
    /// The same with a word of its own.
    void verdict(rules::Outcome outcome, std::string_view word, std::string_view about);
    /// The page's heading where there is no verdict.
    void title_heading(std::string_view words);
    /// What the page is and for whom, right under its heading.
    void audience(std::string_view words);
    void heading(std::string_view words);
    void subheading(std::string_view words);
    /// `so` in backquotes is something to type. Nothing for no words.
    void paragraph(std::string_view words);
    /// What stands where the eye lands.
    void cautions(const std::vector<std::string>& items, std::string_view first = "Be careful.");
    void list(const std::vector<std::string>& items);
    /// The same where the order counts.
    void numbered(const std::vector<std::string>& items);

    struct Mark {
        std::string mark;
        std::string meaning;
    };
    /// What the marks of this page mean.
    void marks(const std::vector<Mark>& items);

    struct WorkStep {
        std::string voltage;  ///< what stands beside it
        bool live = false;
        std::string words;
        std::vector<std::string> cautions;
    };
    void work_steps(const std::vector<WorkStep>& steps);
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
    void table(const TableWords& words);

    [[nodiscard]] std::string html() const;

private:
    void open_table(std::string_view caption, const std::vector<std::string>& headings,
                    const std::vector<bool>& number);
    void row(const std::vector<std::string>& headings, const std::vector<Cell>& cells, bool sum);

    std::string title_;
    std::string body_;
};

/// The shape of a verdict, as in the pictures: ● ⊕ ▣ ▽ ✕.
[[nodiscard]] std::string_view shape_of(rules::Outcome outcome);

}  // namespace plait::output
