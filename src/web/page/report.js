// A report is the command line's own page, shown as it is: its words, its tables, its pictures. It keeps its style to
// itself in a shadow tree.
import { el, put } from './dom.js';

const sheets = new Map();

function sheetOf(css) {
  if (!sheets.has(css)) {
    const sheet = new CSSStyleSheet();
    // What the page says of its root, here its host does; its paper is that of this page.
    sheet.replaceSync(
      css
        .replace(/(^|[\n{},;])(:root|html)(?=[{,])/g, '$1:host')
        .replace(/(^|[\n{}])body(?=\{)/g, '$1.report')
        .replace(/(^|[\n{}])main(?=\{)/g, '$1.main') +
        ':host{background:none!important}.main{padding:0!important;max-width:none!important}',
    );
    if (sheets.size > 8) sheets.clear();
    sheets.set(css, sheet);
  }
  return sheets.get(css);
}

/** Shows a page of the library's in `host`; what was folded open stays open. */
export function showReport(host, html) {
  // Its style is taken out before it is read: the policy would refuse it there, and say so.
  const css = [];
  const bare = html.replace(/<style>([^]*?)<\/style>/g, (whole, text) => (css.push(text), ''));
  const page = new DOMParser().parseFromString(bare, 'text/html');
  const root = host.shadowRoot ?? host.attachShadow({ mode: 'open' });
  const open = new Set([...root.querySelectorAll('details[open]>summary')].map((s) => s.textContent));
  root.adoptedStyleSheets = [sheetOf(css.join('\n'))];
  const main = page.querySelector('main');
  for (const s of main.querySelectorAll('details>summary')) if (open.has(s.textContent)) s.parentElement.open = true;
  // The page around it is the document; here its parts are those of an article.
  put(
    root,
    el(
      'article',
      { class: 'report', lang: 'en' },
      el('div', { class: 'main' }, ...document.adoptNode(main).childNodes),
    ),
  );
}
