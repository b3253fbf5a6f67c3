// Pieces that several views are made of.
import { address } from "./route.js";
import { el, unique } from "./dom.js";
import { t } from "./words.js";

const SVG = "http://www.w3.org/2000/svg";

/** shape makes an SVG element. */
export function shape(tag, attributes = {}, ...children) {
  const e = document.createElementNS(SVG, tag);
  for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
  e.append(...children);
  return e;
}

// Icons on a grid of 24, drawn with a line of 2.
const ICONS = {
  camera: "M4 8h3l2-3h6l2 3h3v11H4zM12 10a3.5 3.5 0 1 0 0 7a3.5 3.5 0 1 0 0-7",
  pictures: "M4 5h16v14H4zM4 16l5-5 4 4 3-3 4 4",
  film: "M4 5h16v14H4zM8 5v14M16 5v14M4 9.7h4M4 14.3h4M16 9.7h4M16 14.3h4",
  check: "M5 13l4.5 4.5L19 7.5",
  clock: "M12 3a9 9 0 1 0 0 18a9 9 0 1 0 0-18M12 7v5l3.5 2",
  warn: "M12 3.5L22 20.5H2zM12 10v4.5M12 17.4v.2",
  plus: "M12 5v14M5 12h14",
  minus: "M5 12h14",
  file: "M6 3h8l4 4v14H6zM14 3v4h4",
  save: "M12 4v11M7.5 11l4.5 4.5 4.5-4.5M5 20h14",
  back: "M14.5 5L8 12l6.5 7",
  more: "M5 12h.1M12 12h.1M19 12h.1",
  bell: "M6 17v-6a6 6 0 0 1 12 0v6l2 1H4zM10 21h4",
  info: "M12 3a9 9 0 1 0 0 18a9 9 0 1 0 0-18M12 11v5.5M12 7.6v.2",
};

/** An icon beside words; it says nothing to a screen reader. */
export const icon = (name) =>
  shape("svg", { class: "icon", viewBox: "0 0 24 24", "aria-hidden": "true", focusable: "false" }, shape("path", { d: ICONS[name] }));

/**
 * A drawn jar: stage 0 is just shaken, 1 with the sand down, 2 with the silt
 * down, 3 with all down. measure shows what the depth of the water is.
 */
export function jarDrawing(stage = 3, measure = false) {
  const layer = (kind, y, h) => shape("rect", { class: kind, x: 17, y, width: 86, height: h });
  const clip = unique("jar");
  const inside = "M17 40h86v98a12 12 0 0 1-12 12H29a12 12 0 0 1-12-12z";
  const layers = [[layer("sand", 112, 40)], [layer("silt", 90, 22)], [layer("clay", 78, 12)]].slice(0, stage);
  const grains = stage === 3 ? [] : [[34, 62], [58, 54], [82, 66], [44, 78], [72, 80], [92, 88], [28, 92], [60, 96], [40, 112], [80, 108], [56, 124], [94, 122], [30, 132]]
    .filter(([, y]) => y < [150, 108, 86][stage]).map(([cx, cy]) => shape("circle", { class: "grain", cx, cy, r: 2.6 - 0.6 * stage }));
  return shape("svg", { class: "jar-drawing", viewBox: "0 0 120 160", "aria-hidden": "true", focusable: "false" },
    shape("clipPath", { id: clip }, shape("path", { d: inside })),
    shape("g", { "clip-path": `url(#${clip})` }, layer(stage < 2 ? "mud" : "water", 40, 112), ...layers.flat(), ...grains,
      shape("rect", { class: "shine", x: 24, y: 46, width: 7, height: 96, rx: 3.5 })),
    shape("path", { class: "glass", d: "M30 19v5c0 4-15 6-15 16v98a14 14 0 0 0 14 14h62a14 14 0 0 0 14-14V40c0-10-15-12-15-16v-5" }),
    shape("rect", { class: "lid", x: 24, y: 8, width: 72, height: 12, rx: 4 }),
    measure ? shape("path", { class: "measure", d: "M60 44v103M52 53l8-9 8 9M52 138l8 9 8-9" }) : "");
}

const SIGNS = { warn: "warn", bad: "warn", good: "check", "": "info" };

/** A notice of a kind: "" (to know), "warn", "bad" or "good". */
export const notice = (kind, ...children) =>
  el("div", { class: `notice ${kind}` }, icon(SIGNS[kind]), el("div", { class: "words" }, ...children));

/** What a refusal says and what to do about it; both in the person's words. */
export const refusal = (text, remedy) => notice("bad", el("p", { class: "strong" }, text), remedy ? el("p", {}, remedy) : null);

/** A link one step back. */
export const back = (word, ...to) => el("a", { class: "back", href: address(...to) }, icon("back"), word);

/**
 * A button. kind is "", "main", "quiet" or "bad"; sign the name of an icon.
 * @param {string} word
 * @param {(e: any) => any} onclick
 * @param {Record<string, any>} [looks]
 */
export const button = (word, onclick, { kind = "", sign, ...more } = {}) =>
  el("button", { type: "button", class: kind || null, onclick, ...more }, sign ? icon(sign) : null, word);

/**
 * A field: label, control, help and a place for what is wrong with it. Gives
 * {element, control, help(text), wrong(text)}; wrong("") clears it.
 * @param {{label: string, help?: string, control: any, beside?: Element, big?: boolean}} what
 */
export function field({ label, help, control, beside, big }) {
  const id = control.id || unique("field");
  control.id = id;
  const wrongPlace = el("p", { class: "wrong", id: `${id}-wrong` });
  const helpPlace = help ? el("p", { class: "help", id: `${id}-help` }, help) : null;
  control.setAttribute("aria-describedby", [helpPlace?.id, wrongPlace.id].filter(Boolean).join(" "));
  const element = el("div", { class: big ? "field big-field" : "field" }, el("label", { for: id }, label), helpPlace,
    beside ? el("div", { class: "with-unit" }, control, beside) : control, wrongPlace);
  return {
    element, control,
    help(text) { if (helpPlace) helpPlace.textContent = text; },
    wrong(text) {
      wrongPlace.replaceChildren(...(text ? [icon("warn"), text] : []));
      if (text) control.setAttribute("aria-invalid", "true");
      else control.removeAttribute("aria-invalid");
    },
  };
}

/**
 * Choices that are all in sight: options [[value, words]]; change(value).
 * @param {string} legend
 * @param {string[][]} options
 * @param {string} value
 * @param {(value: string) => any} change
 * @param {{help?: string, tiles?: boolean}} [looks]
 */
export function choices(legend, options, value, change, { help, tiles } = {}) {
  const name = unique("choice");
  return el("fieldset", { class: "field" }, el("legend", {}, legend), help ? el("p", { class: "help" }, help) : null,
    el("div", { class: tiles ? "choices tiles" : "choices" }, options.map(([v, words]) =>
      el("label", {}, el("input", { type: "radio", name, value: v, checked: v === value, onchange: () => change(v) }), words))));
}

/** A drop-down of options [[value, words]]. */
export const select = (options, value, attributes = {}) =>
  el("select", attributes, options.map(([v, words]) => el("option", { value: v, selected: v === value }, words)));

/** A menu of lesser actions: items [[words, action]] or elements. */
export function menu(label, items) {
  const m = el("details", { class: "menu", onkeydown: (e) => {
    if (e.key !== "Escape" || !m.open) return;
    m.open = false;
    m.firstChild.focus();
  }, onfocusout: (e) => { if (e.relatedTarget && !m.contains(e.relatedTarget)) m.open = false; } },
  el("summary", { "aria-label": label }, icon("more")),
  el("div", { class: "items" }, items.map((i) => Array.isArray(i)
    ? button(i[0], () => { m.open = false; m.firstChild.focus(); i[1](); }, i[2]) : i)));
  const outside = (e) => {
    if (!m.isConnected) document.removeEventListener("pointerdown", outside);
    else if (!m.contains(e.target)) m.open = false;
  };
  m.addEventListener("toggle", () => (m.open ? document.addEventListener("pointerdown", outside) : document.removeEventListener("pointerdown", outside)));
  return m;
}

/** Hides lesser things behind one touch. */
export const fold = (words, ...children) => el("details", { class: "fold" }, el("summary", {}, words), el("div", { class: "stack" }, ...children));

/**
 * Asks before something is done. actions are [words, kind, value]; gives the
 * value of the one taken, undefined where the person turned back.
 */
export function confirm(title, body, actions) {
  return new Promise((resolve) => {
    let answer;
    const id = unique("dialog");
    const d = el("dialog", { "aria-labelledby": id, onclose: () => { d.remove(); resolve(answer); } },
      el("div", { class: "stack" }, el("h2", { id }, title), ...body.map((b) => (typeof b === "string" ? el("p", {}, b) : b)),
        el("div", { class: "actions" }, button(t("cancel"), () => d.close(), { kind: "quiet" }),
          actions.map(([words, kind, value]) => button(words, () => { answer = value; d.close(); }, { kind })))));
    document.body.append(d);
    d.showModal();
  });
}

/** A passing message at the foot of the page, with an action such as undoing. */
export function toast(words, action, run) {
  document.querySelector(".toast")?.remove();
  const box = el("div", { class: "toast", role: "status" }, el("span", {}, words),
    action ? button(action, () => { box.remove(); run(); }) : null, button(t("close"), () => box.remove()));
  document.body.append(box);
  // It waits while it is looked at.
  let timer = setTimeout(() => box.remove(), 12_000);
  for (const on of ["pointerenter", "focusin"]) box.addEventListener(on, () => clearTimeout(timer));
  for (const off of ["pointerleave", "focusout"]) box.addEventListener(off, () => { clearTimeout(timer); timer = setTimeout(() => box.remove(), 6_000); });
  return box;
}

/** A bar of progress: {element, tell(done, all, words)}. */
export function progress(words) {
  const label = el("p", { id: unique("progress") }, words);
  const bar = el("progress", { max: 1, "aria-labelledby": label.id });
  return {
    element: el("div", { class: "progress" }, label, bar),
    tell(done, all, text) {
      bar.max = all;
      bar.value = done;
      if (text) label.textContent = text;
    },
  };
}

/** A picture from a blob; its address is let go when the picture is loaded. */
export function thumb(blob, alt = "") {
  if (!blob) return el("div", { class: "thumb none" }, jarDrawing(0));
  const url = URL.createObjectURL(blob);
  const done = () => URL.revokeObjectURL(url);
  return el("img", { class: "thumb", src: url, alt, onload: done, onerror: done });
}
