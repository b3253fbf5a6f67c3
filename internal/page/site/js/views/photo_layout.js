// The places of the page on which a photo is worked on.
import { address } from "../route.js";
import { el } from "../dom.js";
import { back, button } from "../parts.js";
import { t } from "../words.js";

/** How close the photo is shown. */
export const ZOOMS = ["photo", "jar", "soil"];

/**
 * Lays the page out and gives its places by name. strip and charts are elements; zoom(kind)
 * and back("undo" or "redo") are what the tools below the photo do.
 */
export function layout(place, jar, { strip, charts, zoom, back: step }) {
  const part = {};
  const block = (name, cls, ...children) => (part[name] = el("div", { class: cls }, ...children));
  const tool = (name, key, act, more) => (part[name] = button(t(key), act, more));
  const zooms = ZOOMS.map((z) => tool(`zoom-${z}`, `photo-zoom-${z}`, () => zoom(z), { "aria-pressed": String(z === "jar") }));
  const tools = el("div", { class: "tools" },
    el("div", { class: "group", role: "group", "aria-label": t("photo-zoom") }, zooms),
    el("div", { class: "group" }, tool("undo", "photo-undo", () => step("undo")), tool("redo", "photo-redo", () => step("redo"))));
  const done = el("a", { class: "button main", href: address("jar", jar.id, "result") }, t("photo-done"));
  part.title = el("h1", { class: "unseen" }, t("photo-title"));
  place.append(back(jar.record.name || t("photo-jar"), "jar", jar.id), part.title, block("times", "times"),
    el("div", { class: "bench wide" },
      el("div", { class: "bench-photo" }, strip, block("stage", "stage-place"), tools, block("reach", "extras")),
      el("div", { class: "bench-side" }, block("ask", "asks"), block("lines", "line-list"), block("charts", "charts", ...charts), block("done", "row", done))));
  return part;
}
