// A report for a terminal: the headline first, tables set to the width there is, and in the short form only what a
// person acts on.
#include <plait/output/report.hpp>

#include "display_width.hpp"
#include "table_layout.hpp"
#include "tone.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace plait::output {
namespace {

constexpr std::size_t step_voltage_width = 15;
constexpr std::size_t mark_width = 13;

class Terminal {
public:
    explicit Terminal(const TerminalStyle& style) : style_(style) {}

    std::string text(const Report& r) {
        headline(r);
        bool folded = false;
        const Section* last = nullptr;
        for (const Section& s : r.sections) {
            if (!has_words(s)) continue;
            const bool fold = !style_.full && (s.purpose == Purpose::detail || s.purpose == Purpose::legend);
            folded = folded || fold;
            if (fold) continue;
            section(s);
            last = &s;
        }
        // The last word is the last of the cautions.
        if (last == nullptr || last->purpose != Purpose::caution || r.last_word.empty()) out_ += "\n";
        if (!r.last_word.empty()) prose("", r.last_word);
        provenance(r.provenance, folded);
        return std::move(out_);
    }

private:
    // `first` stands before the first line, blanks of its width before the others.
    void prose(const std::string& first, std::string_view text, std::string_view tail_style = {}) {
        const std::size_t indent = display_width(first);
        const std::string margin(indent, ' ');
        bool begun = false;
        for (const std::string& line : broken(plain(text), style_.width > indent + 20 ? style_.width - indent : 20)) {
            const std::string words = tail_style.empty() ? line : bold(line, style_.colour);
            out_ += (begun ? margin : first) + words + "\n";
            begun = true;
        }
    }

    static bool has_words(const Section& s) {
        return std::any_of(s.blocks.begin(), s.blocks.end(),
                           [](const Block& b) { return !std::holds_alternative<Picture>(b); });
    }

    // In a terminal backquotes help nobody but the one who copies: they become quotes.
    static std::string plain(std::string_view text) {
        std::string out(text);
        std::replace(out.begin(), out.end(), '`', '\'');
        return out;
    }

    void headline(const Report& r) {
        const std::string title = r.title == r.headline.about ? "" : r.title;
        const std::size_t wide = display_width(r.headline.word) + 2 + display_width(r.headline.about);
        if (wide <= style_.width || r.headline.about.empty()) {
            out_ += coloured(r.headline.word, r.headline.tone, style_.colour);
            if (!r.headline.about.empty()) out_ += (r.headline.tone == Tone::plain ? ": " : "  ") + r.headline.about;
            const std::string beside = " · " + title;
            if (!title.empty() && !r.headline.about.empty() && wide + display_width(beside) <= style_.width) {
                out_ += beside + "\n";
                return;
            }
            out_ += "\n";
        } else {
            for (const std::string& line : broken(r.headline.word, style_.width)) {
                out_ += coloured(line, r.headline.tone, style_.colour) + "\n";
            }
            prose("", r.headline.about);
        }
        if (!title.empty()) prose("", title);
    }

    void section(const Section& s) {
        if (!s.heading.empty()) {
            out_ += "\n";
            prose("", s.heading, "bold");
            margin_ = "  ";
        } else if (s.purpose != Purpose::answer && s.purpose != Purpose::look_up) {
            out_ += "\n";
        }
        for (const Block& b : s.blocks) {
            std::visit([this](const auto& block) { show(block); }, b);
        }
        margin_.clear();
    }

    void show(const Paragraph& p) {
        if (p.tone == Tone::plain) {
            prose(margin_, p.text);
            return;
        }
        for (const std::string& line : broken(plain(p.text), style_.width - margin_.size())) {
            out_ += margin_ + coloured(line, p.tone, style_.colour) + "\n";
        }
    }

    void show(const Items& list) {
        const std::size_t digits = fmt::formatted_size("{}", list.items.size());
        std::size_t number = 0;
        for (const std::string& item : list.items) {
            ++number;
            const std::string count = fmt::format("{}", number);
            switch (list.kind) {
                case Items::Kind::bullets:
                    show_bullet(item);
                    break;
                case Items::Kind::numbered:
                    prose(margin_ + padded_left(count, digits) + ". ", item);
                    break;
                case Items::Kind::anchored:
                    prose(margin_ + padded_left("[" + count + "]", digits + 2) + " ", item);
                    break;
            }
        }
    }

    // An arrow, before what to do instead, is a mark of its own.
    void show_bullet(std::string_view item) {
        constexpr std::string_view arrow = "→ ";
        const bool cure = item.substr(0, arrow.size()) == arrow;
        prose(margin_ + std::string(cure ? arrow : "- "), cure ? item.substr(arrow.size()) : item);
    }

    void show(const Cautions& c) {
        for (const std::string& item : c.items) prose(margin_ + "! ", item);
    }

    void show(const WorkSteps& w) {
        const std::size_t digits = fmt::formatted_size("{}", w.steps.size());
        std::size_t number = 0;
        for (const WorkSteps::Step& s : w.steps) {
            const std::string first = margin_ + padded_left(fmt::format("{}.", ++number), digits + 1) + " " +
                                      padded(s.voltage, step_voltage_width);
            prose(first, s.text);
            const std::string under(display_width(first), ' ');
            for (const std::string& c : s.cautions) prose(under + "! ", c);
        }
    }

    void show(const Table& t) {
        if (t.entries) {
            for (const Table::Row& row : t.rows) entry(t, row);
            return;
        }
        const TableLayout layout = laid_out(t, style_.width - margin_.size());
        if (!layout.fits) {
            for (const Table::Row& row : t.rows) card(t, row);
            return;
        }
        bool headed = false;
        for (const Table::Column& c : t.columns) headed = headed || !c.heading.empty();
        if (headed) grid_line(t, layout, headings(t), true);
        for (const Table::Row& row : t.rows) {
            grid_line(t, layout, row.cells, row.sum);
            for (const std::string& note : row.notes) prose(margin_ + "    ", note);
        }
    }

    static std::vector<std::string> headings(const Table& t) {
        std::vector<std::string> words;
        for (const Table::Column& c : t.columns) words.push_back(c.heading);
        return words;
    }

    // A cell may take several lines.
    void grid_line(const Table& t, const TableLayout& layout, const std::vector<std::string>& cells, bool strong) {
        std::vector<std::vector<std::string>> lines;
        std::size_t height = 1;
        for (std::size_t i = 0; i < cells.size(); ++i) {
            lines.push_back(broken(cells[i], layout.widths[i]));
            height = std::max(height, lines.back().size());
        }
        for (std::size_t l = 0; l < height; ++l) {
            std::string line;
            for (std::size_t i = 0; i < lines.size(); ++i) {
                const std::string words = l < lines[i].size() ? lines[i][l] : "";
                if (i > 0) line += std::string(table_gap, ' ');
                line += t.columns[i].number ? padded_left(words, layout.widths[i]) : padded(words, layout.widths[i]);
            }
            line.erase(line.find_last_not_of(' ') + 1);
            out_ += margin_ + (strong ? bold(line, style_.colour) : line) + "\n";
        }
    }

    // A row as a card: its name, then the other cells under their headings' names.
    void card(const Table& t, const Table::Row& row) {
        name_of(row);
        std::string rest;
        for (std::size_t i = 1; i < row.cells.size(); ++i) {
            if (row.cells[i].empty()) continue;
            const std::string& heading = t.columns[i].heading;
            rest += (rest.empty() ? "" : "; ") + (heading.empty() ? "" : heading + " ") + row.cells[i];
        }
        if (!rest.empty()) prose(margin_ + "    ", rest);
        for (const std::string& note : row.notes) prose(margin_ + "    ", note);
    }

    void name_of(const Table::Row& row) {
        const std::string mark =
            row.mark ? coloured(padded(row.mark->word, mark_width), row.mark->tone, style_.colour) + " " : "";
        out_ += margin_ + mark + bold(row.cells.front(), style_.colour) + "\n";
    }

    // A row read by itself: its figures in a line, then its last cell and its notes.
    void entry(const Table& t, const Table::Row& row) {
        name_of(row);
        std::string figures;
        for (std::size_t i = 1; i + 1 < row.cells.size(); ++i) {
            if (row.cells[i].empty()) continue;
            figures += (figures.empty() ? "" : ", ") + t.columns[i].heading + " " + row.cells[i];
        }
        const std::string under = margin_ + "    ";
        if (!figures.empty()) prose(under, figures);
        if (row.cells.size() > 1) prose(under, row.cells.back());
        for (const std::string& note : row.notes) note_line(under, note);
    }

    void note_line(const std::string& under, std::string_view note) {
        constexpr std::string_view arrow = "→ ";
        const bool cure = note.substr(0, arrow.size()) == arrow;
        prose(under + std::string(cure ? arrow : ""), cure ? note.substr(arrow.size()) : note);
    }

    void show(const Picture&) {}
    void show(const TextPlot& p) { out_ += p.lines; }

    void show(const Marks& m) {
        for (const Marks::Entry& e : m.entries) {
            const std::string mark = padded(e.mark, mark_width);
            const std::string under(margin_.size() + mark_width + 1, ' ');
            const std::size_t from = out_.size();
            prose(under, e.meaning);
            // The mark goes where the first line left room for it; its colour takes no column.
            out_.replace(from, under.size(), margin_ + coloured(mark, e.tone, style_.colour) + " ");
        }
    }

    void show(const Fields& f) {
        for (const std::string& name : f.names) {
            const std::size_t used = margin_.size() + display_width(name) + 2;
            const std::size_t line = std::min<std::size_t>(style_.width, 78);
            out_ += margin_ + name + " " + std::string(used < line ? line - used : 3, '.') + "\n";
        }
    }

    // Unbroken: a line of a file is one line.
    void show(const Lines& l) {
        for (const std::string& line : l.lines) out_ += margin_ + line + "\n";
    }

    // The last line, with how to see what the short form leaves out.
    void provenance(const Provenance& p, bool folded) {
        std::vector<std::string> parts;
        for (const std::string& part : {p.program, p.file, p.digest, joined(p.options, " "), p.date}) {
            if (!part.empty()) parts.push_back(part);
        }
        if (folded) parts.emplace_back("more: --full");
        if (!parts.empty()) prose("", joined(parts, " · "));
    }

    TerminalStyle style_;
    std::string out_;
    std::string margin_;
};

}  // namespace

std::string terminal_text(const Report& report, const TerminalStyle& style) { return Terminal(style).text(report); }

}  // namespace plait::output
