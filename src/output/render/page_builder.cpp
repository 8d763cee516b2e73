#include "page_builder.hpp"

#include <plait/output/page.hpp>

#include "style.hpp"
#include "picture/svg.hpp"

namespace plait::output {
namespace {

constexpr std::string_view sheet = R"css(
:root{--paper:#fff;--ink:#1d2430;--soft:#4d5768;--rule:#c9d0da;--box:#f3f6f9;--within:#0b6b4f;--needs:#6a4a00;--clips:#7a4700;
--short:#5b3a9e;--over:#a3122f}
@media (prefers-color-scheme:dark){:root{--paper:#14181f;--ink:#e8ecf2;--soft:#b4becd;--rule:#3b4554;--box:#1d242e;--within:#6fd6b0;
--needs:#e6c26a;--clips:#f0b35e;--short:#bda6ff;--over:#ff8b9a}}
@media print{:root{--paper:#fff;--ink:#000;--soft:#222;--rule:#888;--box:#fff;--within:#000;--needs:#000;--clips:#000;--short:#000;--over:#000}}
@page{margin:14mm}
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink)}
body{margin:0;font:16px/1.5 system-ui,"Segoe UI",Roboto,"DejaVu Sans",sans-serif;overflow-wrap:anywhere}
main{max-width:52rem;margin:0 auto;padding:1rem}
h1{font-size:1.5rem;line-height:1.25;margin:.5rem 0}h2{font-size:1.2rem;margin:2rem 0 .5rem;border-top:1px solid var(--rule);padding-top:1rem}
h3{font-size:1rem;margin:1.2rem 0 .4rem}p,ul,ol{margin:.5rem 0;max-width:46rem}ul{padding-left:1.2rem}ol{padding-left:1.6rem}
.for{color:var(--soft)}code{font-family:ui-monospace,"DejaVu Sans Mono",Consolas,monospace;font-size:.9em;white-space:pre-wrap}
.marks{margin:.6rem 0;font-size:.92rem}.marks div{display:flex;gap:.6rem;margin:.2rem 0}.marks dt{flex:0 0 8rem;font-weight:600}
.marks dd{margin:0}.work>li{border-left:.2rem solid var(--rule);padding:.1rem 0 .3rem .8rem;margin:.9rem 0;break-inside:avoid}
.work p{margin:.2rem 0}.work .caution{margin:.4rem 0}.volts{font-weight:700;font-size:.92rem}
.within{color:var(--within)}.needs{color:var(--needs)}.clips{color:var(--clips)}.short{color:var(--short)}.over{color:var(--over)}
.caution{border:2px solid var(--over);border-left-width:.6rem;padding:.5rem .7rem;margin:.6rem 0;background:var(--box)}
figure{margin:1rem 0;break-inside:avoid}figure svg{display:block;width:100%;max-width:40rem;height:auto}
table{border-collapse:collapse;width:100%;margin:.6rem 0;font-size:.92rem}caption{text-align:left;color:var(--soft);padding-bottom:.3rem}
th,td{text-align:left;vertical-align:top;padding:.3rem .5rem .3rem 0;border-bottom:1px solid var(--rule)}
th{font-weight:600;overflow-wrap:normal}.n{text-align:right}tbody .n{white-space:nowrap}
tbody th{font-weight:inherit}.sum{font-weight:700}small{display:block;color:var(--soft);font-size:.85em;font-weight:400}
.n+:not(.n){padding-left:.8rem}
tr{break-inside:avoid}
@media (max-width:600px){table,tbody,caption{display:block}thead{position:absolute;clip-path:inset(50%);height:1px;width:1px;overflow:hidden}
tr{display:flex;flex-wrap:wrap;column-gap:1.2rem;border:1px solid var(--rule);margin:.5rem 0;padding:.3rem .6rem;background:var(--box)}
tbody th,tbody td:not(.n){flex:1 1 100%}
tbody th,tbody td{display:block;border:0;padding:.15rem 0;text-align:left}tbody th{font-weight:700}tbody .n{text-align:left}
tbody .n+:not(.n){padding-left:0}.none{display:none!important}
[data-label]::before{content:attr(data-label);color:var(--soft);font-size:.85em;font-weight:400}}
footer{color:var(--soft);font-size:.88rem;margin-top:2rem;border-top:1px solid var(--rule);padding-top:.6rem}
)css";

/// Text with what stands in backquotes set as something to type.
std::string prose(std::string_view words) {
    std::string out;
    bool typed = false;
    for (std::size_t at = 0; at <= words.size();) {
        const std::size_t quote = words.find('`', at);
        const bool closed =
            typed || (quote != std::string_view::npos && words.find('`', quote + 1) != std::string_view::npos);
        if (quote == std::string_view::npos || !closed) return out + escaped(units_kept(words.substr(at)));
        const std::string_view part = words.substr(at, quote - at);
        out += typed ? escaped(part) + "</code>" : escaped(units_kept(part)) + "<code>";
        typed = !typed;
        at = quote + 1;
    }
    return out;
}

}  // namespace

std::string_view shape_of(rules::Outcome outcome) {
    switch (outcome) {
        case rules::Outcome::within:
            return "●";
        case rules::Outcome::undecided:
        case rules::Outcome::needs:
            return "⊕";
        case rules::Outcome::clips:
            return "▣";
        case rules::Outcome::falls_short:
            return "▽";
        case rules::Outcome::exceeds:
            return "✕";
    }
    return "";
}

PageBuilder::PageBuilder(std::string_view title) : title_(escaped(title)) {}

void PageBuilder::verdict(rules::Outcome outcome, std::string_view about) { verdict(outcome, word_of(outcome), about); }
void PageBuilder::verdict(rules::Outcome outcome, std::string_view word, std::string_view about) {
    body_ += fmt::format("<h1><span class=\"{}\"><span aria-hidden=\"true\">{}</span> {}</span> <bdi>{}</bdi></h1>\n",
                         css_of(outcome), shape_of(outcome), word, escaped(about));
}
void PageBuilder::heading(std::string_view words) {
    body_ += fmt::format("<h2 dir=\"auto\">{}</h2>\n", escaped(words));
}
void PageBuilder::subheading(std::string_view words) {
    body_ += fmt::format("<h3 dir=\"auto\">{}</h3>\n", escaped(words));
}
void PageBuilder::audience(std::string_view words) { body_ += fmt::format("<p class=\"for\">{}</p>\n", prose(words)); }
void PageBuilder::paragraph(std::string_view words) {
    if (!words.empty()) body_ += fmt::format("<p>{}</p>\n", prose(words));
}
void PageBuilder::cautions(const std::vector<std::string>& items, std::string_view first) {
    if (items.empty()) return;
    body_ += fmt::format("<div class=\"caution\" role=\"note\"><p><strong>{}</strong></p>\n", first);
    list(items);
    body_ += "</div>\n";
}
void PageBuilder::title_heading(std::string_view words) {
    body_ += fmt::format("<h1 dir=\"auto\">{}</h1>\n", escaped(words));
}
void PageBuilder::list(const std::vector<std::string>& items) {
    if (items.empty()) return;
    body_ += "<ul>\n";
    for (const std::string& i : items) body_ += fmt::format("<li>{}</li>\n", prose(i));
    body_ += "</ul>\n";
}
void PageBuilder::numbered(const std::vector<std::string>& items) {
    if (items.empty()) return;
    body_ += "<ol>\n";
    for (const std::string& i : items) body_ += fmt::format("<li>{}</li>\n", prose(i));
    body_ += "</ol>\n";
}
void PageBuilder::marks(const std::vector<Mark>& items) {
    body_ += "<dl class=\"marks\">\n";
    for (const Mark& m : items) {
        body_ += fmt::format("<div><dt>{}</dt><dd>{}</dd></div>\n", escaped(m.mark), prose(m.meaning));
    }
    body_ += "</dl>\n";
}
void PageBuilder::work_steps(const std::vector<WorkStep>& steps) {
    body_ += "<ol class=\"work\">\n";
    for (const WorkStep& s : steps) {
        body_ += fmt::format("<li><p class=\"volts {}\"><span aria-hidden=\"true\">{}</span> {}</p>\n<p>{}</p>\n",
                             s.live ? "over" : "within", s.live ? "⚡" : "○", escaped(s.voltage), prose(s.words));
        for (const std::string& c : s.cautions) {
            body_ += fmt::format("<p class=\"caution\"><strong>Be careful.</strong> {}</p>\n", prose(c));
        }
        body_ += "</li>\n";
    }
    body_ += "</ol>\n";
}
void PageBuilder::picture(std::string_view svg) { body_ += fmt::format("<figure>\n{}</figure>\n", svg); }

void PageBuilder::open_table(std::string_view caption, const std::vector<std::string>& headings,
                             const std::vector<bool>& number) {
    body_ += fmt::format("<table>\n<caption>{}</caption>\n<thead><tr>", prose(caption));
    for (std::size_t i = 0; i < headings.size(); ++i) {
        const char* css = number[i] ? " class=\"n\"" : "";
        body_ += headings[i].empty() ? std::string("<td></td>")
                                     : fmt::format("<th scope=\"col\"{}>{}</th>", css, escaped(headings[i]));
    }
    body_ += "</tr></thead>\n<tbody>\n";
}

void PageBuilder::table(std::string_view caption, const std::vector<std::string>& headings,
                        const std::vector<std::vector<Cell>>& rows) {
    std::vector<bool> number;
    for (std::size_t i = 0; i < headings.size(); ++i) {
        number.push_back(!rows.empty() && i < rows.front().size() && rows.front()[i].number);
    }
    open_table(caption, headings, number);
    for (const std::vector<Cell>& cells : rows) row(headings, cells, false);
    body_ += "</tbody></table>\n";
}

void PageBuilder::table(const TableWords& words) {
    if (words.empty()) return;
    std::vector<std::string> headings;
    std::vector<bool> number;
    for (const TableWords::Column& c : words.columns) {
        headings.push_back(c.heading);
        number.push_back(c.number);
    }
    open_table(words.caption, headings, number);
    for (const TableWords::Row& r : words.rows) {
        std::vector<Cell> cells;
        for (std::size_t i = 0; i < r.cells.size(); ++i) cells.push_back({r.cells[i], words.columns[i].number, {}});
        row(headings, cells, r.sum);
    }
    body_ += "</tbody></table>\n";
}

// The first cell names its row. An empty one is left out of the card that a row becomes on a narrow screen.
void PageBuilder::row(const std::vector<std::string>& headings, const std::vector<Cell>& cells, bool sum) {
    body_ += sum ? "<tr class=\"sum\">" : "<tr>";
    for (std::size_t i = 0; i < cells.size() && i < headings.size(); ++i) {
        const Cell& cell = cells[i];
        const std::string css = fmt::format("{}{}", cell.number ? "n" : "", cell.words.empty() ? " none" : "");
        body_ += i == 0 ? "<th scope=\"row\"" : "<td";
        // A row that a figure names is nothing without its heading.
        const bool figure =
            cell.number || (!cell.words.empty() && cell.words.front() >= '0' && cell.words.front() <= '9');
        if ((i > 0 || figure) && !headings[i].empty())
            body_ += fmt::format(" data-label=\"{}: \"", escaped(headings[i]));
        if (!css.empty()) body_ += fmt::format(" class=\"{}\"", css);
        body_ += ">" + escaped(cell.words);
        for (const std::string& s : cell.small) body_ += fmt::format("<small>{}</small>", prose(s));
        body_ += i == 0 ? "</th>" : "</td>";
    }
    body_ += "</tr>\n";
}

std::string PageBuilder::html() const {
    return std::string(page_mark) + fmt::format(
                                        "\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta "
                                        "name=\"viewport\" content=\"width=device-width, "
                                        "initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light "
                                        "dark\">\n<title>{}</title>\n<style>{}{}</style>\n"
                                        "</head>\n<body>\n<main>\n{}<footer>{}</footer>\n</main>\n</body>\n</html>\n",
                                        title_, sheet, picture_style(), body_, escaped(deferral));
}

}  // namespace plait::output
