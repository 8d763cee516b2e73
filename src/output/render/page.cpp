// A report as one HTML file that needs no network and no script, for a phone, a screen and paper. Everything that comes
// in as text is escaped here.
#include <plait/output/report.hpp>

#include "display_width.hpp"
#include "page_style.hpp"
#include "picture/svg.hpp"
#include "tone.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace plait::output {
namespace {

bool folds(const Section& s) { return s.purpose == Purpose::detail || s.purpose == Purpose::legend; }

class Page {
public:
    explicit Page(const Report& report) : report_(report) {
        for (const Section& s : report.sections) {
            for (const Block& b : s.blocks) {
                const auto* list = std::get_if<Items>(&b);
                if (list != nullptr && list->kind == Items::Kind::anchored) anchors_ = list->items.size();
            }
        }
    }

    std::string body() {
        headline();
        if (!report_.title.empty() && report_.title != report_.headline.about) {
            out_ += fmt::format("<p class=\"title\"><bdi>{}</bdi></p>\n", prose(report_.title));
        }
        if (!report_.kind.empty()) out_ += fmt::format("<p class=\"for\">{}</p>\n", prose(report_.kind));
        for (const Section& s : report_.sections) section(s);
        out_ += fmt::format("<footer><p>{}</p>\n<p>{}</p></footer>\n", prose(report_.last_word), escaped(origin(report_.provenance)));
        return std::move(out_);
    }

    static std::string origin(const Provenance& p) {
        std::vector<std::string> parts;
        for (const std::string& part : {p.file, joined(p.options, " "), p.digest, p.program, p.date}) {
            if (!part.empty()) parts.push_back(part);
        }
        return joined(parts, " · ");
    }

private:
    void headline() {
        const Headline& h = report_.headline;
        out_ += "<h1 dir=\"auto\">";
        if (h.tone != Tone::plain) {
            out_ += fmt::format("<span class=\"{}\"><span aria-hidden=\"true\">{}</span> {}</span>", css_of(h.tone),
                                shape_of(h.tone), prose(h.word));
        } else {
            out_ += prose(h.word);
        }
        if (!h.about.empty() && h.tone == Tone::plain) out_ += ":";
        if (!h.about.empty()) out_ += fmt::format(" <bdi>{}</bdi>", prose(h.about));
        out_ += "</h1>\n";
    }

    void section(const Section& s) {
        if (s.blocks.empty()) return;
        if (folds(s) && !s.heading.empty()) {
            out_ += fmt::format("<details>\n<summary><h2 dir=\"auto\">{}</h2></summary>\n", escaped(s.heading));
        } else if (!s.heading.empty()) {
            out_ += fmt::format("<section>\n<h2 dir=\"auto\">{}</h2>\n", escaped(s.heading));
        } else {
            out_ += "<section>\n";
        }
        for (const Block& b : s.blocks) {
            std::visit([this](const auto& block) { show(block); }, b);
        }
        out_ += folds(s) && !s.heading.empty() ? "</details>\n" : "</section>\n";
    }

    void show(const Paragraph& p) {
        if (p.tone == Tone::plain) {
            out_ += fmt::format("<p>{}</p>\n", prose(p.text));
        } else {
            out_ += fmt::format("<p class=\"{}\"><strong>{}</strong></p>\n", css_of(p.tone), prose(p.text));
        }
    }

    void show(const Items& list) {
        const bool counted = list.kind != Items::Kind::bullets;
        out_ += counted ? "<ol>\n" : "<ul>\n";
        std::size_t number = 0;
        for (const std::string& item : list.items) {
            const std::string anchor =
                list.kind == Items::Kind::anchored ? fmt::format(" id=\"line-{}\"", ++number) : std::string();
            const bool arrow = item.rfind("→ ", 0) == 0;
            out_ += fmt::format("<li{}{}>{}</li>\n", anchor, arrow ? " class=\"cure\"" : "", prose(item));
        }
        out_ += counted ? "</ol>\n" : "</ul>\n";
    }

    void show(const Cautions& c) {
        out_ += fmt::format("<div class=\"caution\" role=\"note\"><p><strong>{}</strong></p>\n", escaped(c.first));
        show(Items{c.items});
        out_ += "</div>\n";
    }

    void show(const WorkSteps& w) {
        out_ += "<ol class=\"work\">\n";
        for (const WorkSteps::Step& s : w.steps) {
            out_ += fmt::format("<li><p class=\"volts {}\"><span aria-hidden=\"true\">{}</span> {}</p>\n<p>{}</p>\n",
                                s.live ? "over" : "within", s.live ? "⚡" : "○", escaped(s.voltage), prose(s.text));
            for (const std::string& caution : s.cautions) {
                out_ += fmt::format("<p class=\"caution\"><strong>Be careful.</strong> {}</p>\n", prose(caution));
            }
            out_ += "</li>\n";
        }
        out_ += "</ol>\n";
    }

    void show(const Table& t) {
        out_ += fmt::format("<table{}>\n<caption>{}</caption>\n", t.entries ? " class=\"entries\"" : "", prose(t.caption));
        const bool headed =
            std::any_of(t.columns.begin(), t.columns.end(), [](const Table::Column& c) { return !c.heading.empty(); });
        if (headed) {
            out_ += "<thead><tr>";
            for (const Table::Column& c : t.columns) {
                out_ += c.heading.empty() ? std::string("<td></td>")
                                          : fmt::format("<th scope=\"col\"{}>{}</th>", c.number ? " class=\"n\"" : "",
                                                        escaped(c.heading));
            }
            out_ += "</tr></thead>\n";
        }
        out_ += "<tbody>\n";
        for (const Table::Row& row : t.rows) show(t, row);
        out_ += "</tbody></table>\n";
    }

    // The first cell names its row. An empty one is left out of the card that a row becomes on a narrow screen.
    void show(const Table& t, const Table::Row& row) {
        out_ += row.sum ? "<tr class=\"sum\">" : "<tr>";
        for (std::size_t i = 0; i < row.cells.size(); ++i) {
            const std::string& words = row.cells[i];
            const bool number = t.columns[i].number;
            const std::string css = fmt::format("{}{}", number ? "n" : "", words.empty() ? " none" : "");
            out_ += i == 0 ? "<th scope=\"row\"" : "<td";
            // A row that a figure names is nothing without its heading.
            const bool figure = number || (!words.empty() && words.front() >= '0' && words.front() <= '9');
            if ((i > 0 || figure) && !t.columns[i].heading.empty()) {
                out_ += fmt::format(" data-label=\"{}: \"", escaped(t.columns[i].heading));
            }
            if (!css.empty()) out_ += fmt::format(" class=\"{}\"", css);
            out_ += ">";
            if (i == 0 && row.mark) {
                out_ += fmt::format("<span class=\"mark {}\"><span aria-hidden=\"true\">{}</span> {}</span> ",
                                    css_of(row.mark->tone), shape_of(row.mark->tone), escaped(row.mark->word));
            }
            out_ += prose(words);
            // Notes belong to the paragraph of an entry, else to the row's name.
            if (i == (t.entries ? row.cells.size() - 1 : 0)) {
                for (const std::string& note : row.notes) out_ += fmt::format("<small>{}</small>", prose(note));
            }
            out_ += i == 0 ? "</th>" : "</td>";
        }
        out_ += "</tr>\n";
    }

    void show(const Picture& p) { out_ += fmt::format("<figure tabindex=\"0\">\n{}</figure>\n", p.svg()); }
    void show(const TextPlot&) {}

    void show(const Marks& m) {
        out_ += "<dl class=\"marks\">\n";
        for (const Marks::Entry& e : m.entries) {
            const std::string_view shape = shape_of(e.tone);
            out_ += fmt::format("<div><dt class=\"{}\">{}{}{}</dt><dd>{}</dd></div>\n", css_of(e.tone), shape,
                                shape.empty() ? "" : " ", escaped(e.mark), prose(e.meaning));
        }
        out_ += "</dl>\n";
    }

    void show(const Fields& f) {
        out_ += "<div class=\"fields\">\n";
        for (const std::string& name : f.names) out_ += fmt::format("<p><span>{}</span></p>\n", escaped(name));
        out_ += "</div>\n";
    }

    void show(const Lines& l) {
        out_ += "<p class=\"lines\">";
        for (const std::string& line : l.lines) out_ += fmt::format("<code>{}</code><br>\n", escaped(line));
        out_ += "</p>\n";
    }

    /// Text with what stands in backquotes set as something to type, and "[3]" linked to line 3 of the anchored list.
    [[nodiscard]] std::string prose(std::string_view words) const {
        std::string out;
        bool typed = false;
        for (std::size_t at = 0; at <= words.size();) {
            const std::size_t quote = words.find('`', at);
            const bool closed =
                typed || (quote != std::string_view::npos && words.find('`', quote + 1) != std::string_view::npos);
            if (quote == std::string_view::npos || !closed) return out + linked(words.substr(at));
            const std::string_view part = words.substr(at, quote - at);
            out += typed ? escaped(part) + "</code>" : linked(part) + "<code>";
            typed = !typed;
            at = quote + 1;
        }
        return out;
    }

    [[nodiscard]] std::string linked(std::string_view words) const {
        std::string out = escaped(units_kept(words));
        if (anchors_ == 0) return out;
        for (std::size_t open = out.find('['); open != std::string::npos; open = out.find('[', open + 1)) {
            const std::size_t close = out.find(']', open);
            if (close == std::string::npos) break;
            const std::string number = out.substr(open + 1, close - open - 1);
            const bool digits = !number.empty() && number.size() < 5 &&
                                number.find_first_not_of("0123456789") == std::string::npos;
            if (!digits || std::stoul(number) == 0 || std::stoul(number) > anchors_) continue;
            const std::string link = fmt::format("<a href=\"#line-{0}\">[{0}]</a>", number);
            out.replace(open, close + 1 - open, link);
            open += link.size() - 1;
        }
        return out;
    }

    const Report& report_;
    std::string out_;
    std::size_t anchors_ = 0;
};

}  // namespace

std::string page_fragment(const Report& report) { return Page(report).body(); }

std::string page(const Report& report) {
    const std::string title = report.title.empty() ? report.headline.word : report.title;
    // A blank before the style's own margin boxes: what a sheet of paper says of itself at its foot.
    return std::string(page_mark) +
           fmt::format("\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
                       "content=\"width=device-width, initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light "
                       "dark\">\n<title>{}</title>\n<style>{}{}{}</style>\n</head>\n<body>\n<main>\n{}</main>\n</body>\n"
                       "</html>\n",
                       escaped(title), page_style(),
                       paper_foot({title, report.headline.word, report.headline.about, Page::origin(report.provenance)}),
                       picture_style(), page_fragment(report));
}

}  // namespace plait::output
