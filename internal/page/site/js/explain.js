// Words of the trade, with their meaning one touch away.
import { el, unique } from "./dom.js";
import { t } from "./words.js";

/** A small button that opens what a word means: explain("clay"). */
export function explain(word) {
  const id = unique("explain");
  const name = t(`result-word-${word}`), meaning = t(`result-what-${word}`);
  if (!("popover" in HTMLElement.prototype)) {
    return el("details", { class: "explain" }, el("summary", {}, t("result-what-is", { word: name })), el("p", {}, meaning));
  }
  return [
    el("button", { type: "button", class: "what", popovertarget: id, "aria-label": t("result-what-is", { word: name }) }, "?"),
    el("div", { id, popover: "", class: "meaning", role: "note" }, el("strong", {}, name), el("p", {}, meaning),
      el("button", { type: "button", popovertarget: id, popovertargetaction: "hide" }, t("result-close"))),
  ];
}
