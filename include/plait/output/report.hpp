// A report as a value: what a command says, in which order, and what each part is for. A composition makes it
// (output/reports.hpp), a renderer shows it. The purpose of a section lets a terminal shorten and a page fold without
// knowing the command.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace plait::output {

/// What colour and shape a word has. Each tone has a shape of its own, so that colour is never needed.
enum class Tone { plain, good, needs, clips, falls_short, doubtful, exceeds };

/// What a section is for. Conditions, cures and cautions are part of every form of a report.
enum class Purpose {
    answer,     ///< the verdict's reasons, what must be added, what to do instead
    next,       ///< what to do next
    look_up,    ///< which figures would settle most
    reading,    ///< what a meter or display should show; a ranking; a list to work through
    caution,    ///< what can hurt
    detail,     ///< rules, cables, curves, everything assumed: for who wants to check
    legend,     ///< what words and marks mean
};

/// Text in backquotes is something to type. "[3]" is line 3 of the report's anchored list, if it has one.
struct Paragraph {
    std::string text;
    Tone tone = Tone::plain;
};

struct Items {
    enum class Kind { bullets, numbered, anchored };  ///< anchored: "[1]", the lines that notes elsewhere refer to
    std::vector<std::string> items;
    Kind kind = Kind::bullets;
};

/// What must catch the eye, each with a ! before it.
struct Cautions {
    std::vector<std::string> items;
    std::string first = "Be careful.";  ///< what a page says above them
};

/// The order of work: what may be live, what to do, what to be careful of.
struct WorkSteps {
    struct Step {
        std::string voltage;  ///< "up to 67 V", "nothing live"
        bool live = false;
        std::string text;
        std::vector<std::string> cautions;
    };
    std::vector<Step> steps;
};

/// A table whose columns set themselves. Where a terminal is too narrow for it, and on a phone, each row becomes a
/// card.
struct Table {
    struct Column {
        std::string heading;
        bool number = false;  ///< set to the right
    };
    struct Mark {
        Tone tone = Tone::plain;
        std::string word;
    };
    struct Row {
        std::vector<std::string> cells;       ///< as many as columns; the first names the row
        std::vector<std::string> notes = {};  ///< further lines about the row
        std::optional<Mark> mark = {};        ///< before the row's name
        bool sum = false;                     ///< set in bold
    };
    std::string caption;
    std::vector<Column> columns;
    std::vector<Row> rows;
    bool entries = false;  ///< each row is read by itself, its last cell a paragraph: never set as a grid in a terminal
};

/// A picture for pages; drawn only when a page is made. What it draws from must live as long as the report.
struct Picture {
    std::function<std::string()> svg;  ///< as the pictures make them, for a page
};

/// Lines drawn with characters, for terminals only.
struct TextPlot {
    std::string lines;
};

/// What words and marks mean.
struct Marks {
    struct Entry {
        Tone tone = Tone::plain;
        std::string mark;
        std::string meaning;
    };
    std::vector<Entry> entries;
};

/// Lines to fill in by hand: on paper a line to write on, in a terminal dots.
struct Fields {
    std::vector<std::string> names;
};

/// Lines of a file, to copy as they are.
struct Lines {
    std::vector<std::string> lines;
};

using Block = std::variant<Paragraph, Items, Cautions, WorkSteps, Table, Picture, TextPlot, Marks, Fields, Lines>;

struct Section {
    Purpose purpose = Purpose::detail;
    std::string heading;  ///< may be empty: the section goes on without one
    std::vector<Block> blocks;

    /// Adds a block unless it has nothing to say.
    template <class B>
    void add(B block) {
        if (!empty(block)) blocks.emplace_back(std::move(block));
    }

private:
    static bool empty(const Paragraph& p) { return p.text.empty(); }
    static bool empty(const Items& i) { return i.items.empty(); }
    static bool empty(const Cautions& c) { return c.items.empty(); }
    static bool empty(const WorkSteps& s) { return s.steps.empty(); }
    static bool empty(const Table& t) { return t.rows.empty(); }
    static bool empty(const Picture& p) { return !p.svg; }
    static bool empty(const TextPlot& p) { return p.lines.empty(); }
    static bool empty(const Marks& m) { return m.entries.empty(); }
    static bool empty(const Fields& f) { return f.names.empty(); }
    static bool empty(const Lines& l) { return l.lines.empty(); }
};

/// The first line: a word, and what it is about. A report that judges nothing has a word without a tone.
struct Headline {
    Tone tone = Tone::plain;
    std::string word;   ///< "NEEDS 3 string fuses; then CLIPS 0.4 %"
    std::string about;  ///< "PV1 = 3s2p"
};

/// Where a report comes from, so that a sheet of paper can be traced to its files.
struct Provenance {
    std::string program;             ///< "plait 0.1.0"
    std::string file;                ///< as it was named
    std::string digest;              ///< of all files read, 16 hexadecimal digits
    std::vector<std::string> options;  ///< those that changed what the files say: "--wiring 2s3p"
    std::string date;                ///< only where it was asked for
};

struct Report {
    std::string title;  ///< of the set-up, or of what is reported
    std::string kind;   ///< "A wiring, judged: for its owner, …"
    Headline headline;
    Provenance provenance;
    std::vector<Section> sections;
    std::string last_word;  ///< the deferral

    /// A new section at the end. Its reference holds until the next one is added.
    Section& section(Purpose purpose, std::string heading = {}) {
        sections.push_back({purpose, std::move(heading), {}});
        return sections.back();
    }
};

enum class Colour { off, on };

struct TerminalStyle {
    Colour colour = Colour::off;
    std::size_t width = 80;  ///< columns
    bool full = false;       ///< false: without what is `Purpose::detail` or `Purpose::legend`
};

[[nodiscard]] std::string terminal_text(const Report& report, const TerminalStyle& style);
/// One self-contained HTML file: no network, no script.
[[nodiscard]] std::string page(const Report& report);
/// The same without head and style, for a page that brings them.
[[nodiscard]] std::string page_fragment(const Report& report);

/// How every page begins, so that no other file is written over.
inline constexpr std::string_view page_mark = "<!DOCTYPE html>\n<!-- a Plait page -->";

}  // namespace plait::output
