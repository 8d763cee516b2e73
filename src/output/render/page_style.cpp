#include "page_style.hpp"

#include <fmt/core.h>

namespace plait::output {
namespace {

constexpr std::string_view sheet = R"css(
:root{--paper:#fff;--ink:#1d2430;--soft:#4d5768;--rule:#c9d0da;--box:#f3f6f9;--within:#0b6b4f;--needs:#6a4a00;--clips:#7a4700;
--short:#5b3a9e;--doubtful:#7a2a6a;--over:#a3122f}
@media (prefers-color-scheme:dark){:root{--paper:#14181f;--ink:#e8ecf2;--soft:#b4becd;--rule:#3b4554;--box:#1d242e;--within:#6fd6b0;
--needs:#e6c26a;--clips:#f0b35e;--short:#bda6ff;--doubtful:#f0a6dc;--over:#ff8b9a}}
@media print{:root{--paper:#fff;--ink:#000;--soft:#222;--rule:#888;--box:#fff;--within:#000;--needs:#000;--clips:#000;--short:#000;
--doubtful:#000;--over:#000}}
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink)}
body{margin:0;font:16px/1.5 system-ui,"Segoe UI",Roboto,"DejaVu Sans",sans-serif;overflow-wrap:anywhere}
main{max-width:52rem;margin:0 auto;padding:1rem}
h1{font-size:1.5rem;line-height:1.25;margin:.5rem 0}h2{font-size:1.2rem;margin:2rem 0 .5rem;border-top:1px solid var(--rule);padding-top:1rem}
p,ul,ol{margin:.5rem 0;max-width:46rem}ul{padding-left:1.2rem}ol{padding-left:1.8rem}
.title{font-weight:600}.for{color:var(--soft)}.cure{list-style:none;margin-left:-1.2rem;font-weight:600}a{color:inherit}
code{font-family:ui-monospace,"DejaVu Sans Mono",Consolas,monospace;font-size:.9em;white-space:pre-wrap}
details{border-top:1px solid var(--rule);margin:1rem 0 0;padding-top:.6rem}summary{cursor:pointer;min-height:2rem}
summary h2{display:inline;border:0;margin:0;padding:0;font-size:1.05rem}
.marks{margin:.6rem 0;font-size:.92rem}.marks div{display:flex;gap:.6rem;margin:.2rem 0}.marks dt{flex:0 0 9rem;font-weight:600}
.marks dd{margin:0}.work>li{border-left:.2rem solid var(--rule);padding:.1rem 0 .3rem .8rem;margin:.9rem 0;break-inside:avoid}
.work p{margin:.2rem 0}.work .caution{margin:.4rem 0}.volts,.mark{font-weight:700;font-size:.92rem}
.within{color:var(--within)}.needs{color:var(--needs)}.clips{color:var(--clips)}.short{color:var(--short)}
.doubtful{color:var(--doubtful)}.over{color:var(--over)}
.caution{border:2px solid var(--over);border-left-width:.6rem;padding:.5rem .7rem;margin:.6rem 0;background:var(--box);break-inside:avoid}
figure{margin:1rem 0;overflow-x:auto;break-inside:avoid}figure svg{display:block;width:100%;max-width:44rem;min-width:36rem;height:auto}
table{border-collapse:collapse;width:100%;margin:.6rem 0;font-size:.92rem}caption{text-align:left;color:var(--soft);padding-bottom:.3rem}
th,td{text-align:left;vertical-align:top;padding:.3rem .5rem .3rem 0;border-bottom:1px solid var(--rule)}
th{font-weight:600;overflow-wrap:normal}.n{text-align:right}tbody .n{white-space:nowrap}
tbody th{font-weight:inherit}.sum{font-weight:700}small{display:block;color:var(--soft);font-size:.85em;font-weight:400}
.n+:not(.n){padding-left:.8rem}
tr{break-inside:avoid}
.fields p{display:flex;max-width:46rem}.fields p::after{content:"";flex:1;border-bottom:1px solid var(--soft);margin-left:.6rem;min-height:1.8rem}
.entries,.entries tbody,.entries caption{display:block}.entries thead{position:absolute;clip-path:inset(50%);height:1px;width:1px;overflow:hidden}
.entries tr{display:flex;flex-wrap:wrap;column-gap:1.4rem;border:1px solid var(--rule);margin:.5rem 0;padding:.3rem .6rem;background:var(--box)}
.entries tbody th,.entries tbody td:not(.n){flex:1 1 100%}
.entries tbody th,.entries tbody td{display:block;border:0;padding:.15rem 0;text-align:left}.entries tbody th{font-weight:700}
.entries tbody .n+:not(.n){padding-left:0}.entries .none{display:none}
.entries .n[data-label]::before{content:attr(data-label);color:var(--soft);font-size:.85em;font-weight:400}
@media (max-width:600px){table,tbody,caption{display:block}thead{position:absolute;clip-path:inset(50%);height:1px;width:1px;overflow:hidden}
tr{display:flex;flex-wrap:wrap;column-gap:1.2rem;border:1px solid var(--rule);margin:.5rem 0;padding:.3rem .6rem;background:var(--box)}
tbody th,tbody td:not(.n){flex:1 1 100%}
tbody th,tbody td{display:block;border:0;padding:.15rem 0;text-align:left}tbody th{font-weight:700}tbody .n{text-align:left}
tbody .n+:not(.n){padding-left:0}.none{display:none!important}
table:not(.entries) [data-label]::before{content:attr(data-label);color:var(--soft);font-size:.85em;font-weight:400}}
footer{color:var(--soft);font-size:.88rem;margin-top:2rem;border-top:1px solid var(--rule);padding-top:.6rem}
@media (forced-colors:active){.caution{border-color:Mark}}
@media print{body{font-size:10pt}main{max-width:none;padding:0}h1,h2,summary,caption,thead{break-after:avoid}p,li{orphans:3;widows:3}
thead{display:table-header-group}figure svg{min-width:0}
details::details-content{content-visibility:visible;display:block;height:auto}details>summary{list-style:none}footer{break-before:avoid}}
)css";

// A string of CSS. What is not printable ASCII is written as an escape, so that no text can end the string or the sheet.
std::string quoted(const std::string& text) {
    std::string out = "\"";
    for (std::size_t i = 0; i < text.size();) {
        const auto lead = static_cast<unsigned char>(text[i]);
        const std::size_t bytes = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
        unsigned code = bytes == 1 ? lead : lead & (0xFFU >> (bytes + 1));
        for (std::size_t k = 1; k < bytes && i + k < text.size(); ++k) {
            code = (code << 6U) | (static_cast<unsigned char>(text[i + k]) & 0x3FU);
        }
        const bool plain = code >= 0x20 && code < 0x7F && code != '"' && code != '\\' && code != '<' && code != '>';
        out += plain ? std::string(1, static_cast<char>(code)) : fmt::format("\\{:x} ", code);
        i += bytes;
    }
    return out + "\"";
}

}  // namespace

std::string_view page_style() { return sheet; }

std::string paper_foot(const std::vector<std::string>& words) {
    std::string line;
    for (const std::string& word : words) {
        if (!word.empty()) line += (line.empty() ? "" : " · ") + word;
    }
    return fmt::format(
        "@page{{margin:14mm 14mm 20mm;@bottom-left{{content:{};font:7.5pt sans-serif;width:82%;text-align:left}}"
        "@bottom-right{{content:counter(page) \" / \" counter(pages);font:7.5pt sans-serif}}}}\n",
        quoted(line));
}

}  // namespace plait::output
