#include "page_builder.hpp"

#include <plait/output/page.hpp>

#include "style.hpp"
#include "svg.hpp"

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
main{max-width:46rem;margin:0 auto;padding:1rem}
h1{font-size:1.5rem;line-height:1.25;margin:.5rem 0}h2{font-size:1.2rem;margin:2rem 0 .5rem;border-top:1px solid var(--rule);padding-top:1rem}
h3{font-size:1rem;margin:1.2rem 0 .4rem}p,ul{margin:.5rem 0}ul{padding-left:1.2rem}
.within{color:var(--within)}.needs{color:var(--needs)}.clips{color:var(--clips)}.short{color:var(--short)}.over{color:var(--over)}
.caution{border:2px solid var(--over);border-left-width:.6rem;padding:.5rem .7rem;margin:.6rem 0;background:var(--box)}
figure{margin:1rem 0;break-inside:avoid}figure svg{display:block;width:100%;max-width:40rem;height:auto}
table{border-collapse:collapse;width:100%;margin:.6rem 0;font-size:.92rem}caption{text-align:left;color:var(--soft);padding-bottom:.3rem}
th,td{text-align:left;vertical-align:top;padding:.3rem .5rem .3rem 0;border-bottom:1px solid var(--rule)}
th{font-weight:600;overflow-wrap:normal}td.n,th.n{text-align:right}td.n{white-space:nowrap}td small{display:block;color:var(--soft);font-size:.85em}
tr{break-inside:avoid}
@media (max-width:600px){table,tbody,tr,td,caption{display:block}thead{position:absolute;clip-path:inset(50%);height:1px;width:1px;overflow:hidden}
tr{border:1px solid var(--rule);margin:.5rem 0;padding:.3rem .6rem;background:var(--box)}td,td.n{border:0;padding:.15rem 0;text-align:left}
td::before{content:attr(data-label) ": ";color:var(--soft);font-size:.85em}}
pre.report{white-space:pre-wrap;font:.78rem/1.45 ui-monospace,"DejaVu Sans Mono",Consolas,monospace;background:var(--box);padding:.6rem}
footer{color:var(--soft);font-size:.88rem;margin-top:2rem;border-top:1px solid var(--rule);padding-top:.6rem}
)css";

std::string_view css_of(rules::Outcome outcome) {
    switch (outcome) {
        case rules::Outcome::within:
            return "within";
        case rules::Outcome::undecided:
        case rules::Outcome::needs:
            return "needs";
        case rules::Outcome::clips:
            return "clips";
        case rules::Outcome::falls_short:
            return "short";
        case rules::Outcome::exceeds:
            return "over";
    }
    return "";
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

void PageBuilder::verdict(rules::Outcome outcome, std::string_view about) {
    body_ += fmt::format("<h1><span class=\"{}\"><span aria-hidden=\"true\">{}</span> {}</span> <bdi>{}</bdi></h1>\n",
                         css_of(outcome), shape_of(outcome), word_of(outcome), escaped(about));
}
void PageBuilder::heading(std::string_view words) {
    body_ += fmt::format("<h2 dir=\"auto\">{}</h2>\n", escaped(words));
}
void PageBuilder::subheading(std::string_view words) {
    body_ += fmt::format("<h3 dir=\"auto\">{}</h3>\n", escaped(words));
}
void PageBuilder::paragraph(std::string_view words) { body_ += fmt::format("<p>{}</p>\n", escaped(words)); }
void PageBuilder::cautions(const std::vector<std::string>& items) {
    if (items.empty()) return;
    body_ += "<section class=\"caution\" aria-label=\"Cautions\"><p><strong>Be careful.</strong></p>\n";
    list(items);
    body_ += "</section>\n";
}
void PageBuilder::title_heading(std::string_view words) {
    body_ += fmt::format("<h1 dir=\"auto\">{}</h1>\n", escaped(words));
}
void PageBuilder::list(const std::vector<std::string>& items) {
    if (items.empty()) return;
    body_ += "<ul>\n";
    for (const std::string& i : items) body_ += fmt::format("<li>{}</li>\n", escaped(i));
    body_ += "</ul>\n";
}
void PageBuilder::report(std::string_view text) {
    body_ += fmt::format("<pre class=\"report\">{}</pre>\n", escaped(text));
}
void PageBuilder::picture(std::string_view svg) { body_ += fmt::format("<figure>\n{}</figure>\n", svg); }

void PageBuilder::table(std::string_view caption, const std::vector<std::string>& headings,
                        const std::vector<std::vector<Cell>>& rows) {
    body_ += fmt::format("<table>\n<caption>{}</caption>\n<thead><tr>", escaped(caption));
    for (std::size_t i = 0; i < headings.size(); ++i) {
        const bool number = !rows.empty() && i < rows.front().size() && rows.front()[i].number;
        body_ += fmt::format("<th scope=\"col\"{}>{}</th>", number ? " class=\"n\"" : "", escaped(headings[i]));
    }
    body_ += "</tr></thead>\n<tbody>\n";
    for (const std::vector<Cell>& row : rows) {
        body_ += "<tr>";
        for (std::size_t i = 0; i < row.size() && i < headings.size(); ++i) {
            body_ += fmt::format("<td data-label=\"{}\"{}>{}", escaped(headings[i]),
                                 row[i].number ? " class=\"n\"" : "", escaped(row[i].words));
            for (const std::string& s : row[i].small) body_ += fmt::format("<small>{}</small>", escaped(s));
            body_ += "</td>";
        }
        body_ += "</tr>\n";
    }
    body_ += "</tbody></table>\n";
}

std::string PageBuilder::html() const {
    return std::string(page_mark) + fmt::format(
                                        "\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta "
                                        "name=\"viewport\" content=\"width=device-width, "
                                        "initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light "
                                        "dark\">\n<title>{}</title>\n<style>{}{}</style>\n"
                                        "</head>\n<body>\n<main>\n{}<footer>Plait compares stated values with stated "
                                        "limits. It approves nothing: the local "
                                        "code, the makers’ manuals and a licensed electrician have the last "
                                        "word.</footer>\n</main>\n</body>\n</html>\n",
                                        title_, sheet, picture_style(), body_);
}

}  // namespace plait::output
