// How it is done and what to keep in mind, short.
import { el } from "../dom.js";
import { jarDrawing } from "../parts.js";
import * as program from "../program.js";
import { t } from "../words.js";

const PARTS = [["care", 6], ["make", 6], ["photo", 6], ["tell", 3], ["sure", 1], ["not", 4], ["private", 1]];

export function view(place) {
  place.append(el("div", { class: "stack loose" },
    el("div", { class: "hello" }, el("div", { class: "picture" }, jarDrawing(2)),
      el("h1", {}, t("help-title")), el("p", { class: "rest" }, t("help-lead"))),
    PARTS.map(([part, n]) => el("section", { class: `stack help-${part}` }, el("h2", {}, t(`help-${part}`)), lines(part, n)))));
  checked(place.querySelector(".help-sure"));
}

// On what readings were checked: the program has the figures.
async function checked(section) {
  const text = await program.ask("checked").catch(() => ""); // without the program the help is whole all the same
  if (text) section.append(el("p", {}, text));
}

const lines = (part, n) => {
  const words = Array.from({ length: n }, (_, i) => t(`help-${part}-${i + 1}`));
  return n === 1 ? el("p", {}, words[0]) : el(part === "make" ? "ol" : "ul", { class: "dots" }, words.map((w) => el("li", {}, w)));
};
