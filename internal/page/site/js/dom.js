// Small help with the document. Text always goes in as text, never as markup.

/**
 * el makes an element: el("button", {type: "button", class: "big", onclick: f}, "Save").
 * Attributes that are null, undefined or false are left out; those beginning
 * with "on" are listeners.
 */
export function el(tag, attributes = {}, ...children) {
  const e = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) e.addEventListener(name.slice(2), value);
    else if (name in e && (name === "value" || name === "checked" || name === "disabled")) e[name] = value;
    else e.setAttribute(name, value === true ? "" : value);
  }
  e.append(...children.flat(Infinity).filter((c) => c !== null && c !== undefined && c !== false));
  return e;
}

/** drawing takes a chart's SVG text into the document. */
export function drawing(text) {
  const doc = new DOMParser().parseFromString(text, "image/svg+xml");
  return document.importNode(doc.documentElement, true);
}

/** say tells a screen reader something that shows elsewhere on the page. */
export function say(text) {
  const e = document.getElementById("say");
  e.textContent = "";
  requestAnimationFrame(() => { e.textContent = text; });
}

/** save hands a file to the person. */
export function save(name, blob) {
  const a = el("a", { href: URL.createObjectURL(blob), download: name });
  document.body.append(a);
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(a.href), 60_000);
}

/** unique gives an id for labels. */
let count = 0;
export const unique = (prefix) => `${prefix}-${++count}`;
