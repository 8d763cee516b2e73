// Small help with the document. Nothing here builds markup from text: what a person typed is always a text node.

/** An element with attributes and children; on… are listeners, true and false switch an attribute. */
export function el(name, attributes = {}, ...children) {
  return fill(document.createElement(name), attributes, children);
}

/** The same in a drawing. */
export function draw(name, attributes = {}, ...children) {
  return fill(document.createElementNS('http://www.w3.org/2000/svg', name), attributes, children);
}

function fill(node, attributes, children) {
  for (const [key, value] of Object.entries(attributes)) {
    if (key.startsWith('on')) node.addEventListener(key.slice(2), value);
    else if (key === 'value') node.value = value;
    else if (value === true) node.setAttribute(key, '');
    else if (value !== false && value !== null && value !== undefined) node.setAttribute(key, value);
  }
  node.append(...children.flat().filter((c) => c !== null && c !== undefined && c !== false));
  return node;
}

export const byId = (id) => document.getElementById(id);

/** Puts children into a node in place of what is there. */
export const put = (node, ...children) => node.replaceChildren(...children.flat().filter(Boolean));

/** Offers a text as a file to save. */
export function saveAs(name, text, type) {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const a = el('a', { href: url, download: name });
  document.body.append(a);
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10000);
}

/** "−18" with at most so many decimals. */
export const figure = (value, digits = 1) => Number(value.toFixed(digits)).toString().replace('-', '−');
