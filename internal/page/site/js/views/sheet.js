// The sheet that stands behind the jar, to print.
import { go } from "../route.js";
import { el, save } from "../dom.js";
import { back, button, choices } from "../parts.js";
import * as program from "../program.js";
import * as store from "../store.js";
import { inches, t } from "../words.js";

export async function view(place, id) {
  const jar = await store.jar(id);
  if (!jar) return go();
  const name = jar.record.name || "";
  const picture = el("img", { class: "sheet", alt: t("sheet-picture") });
  let url;
  let svg;
  // A sheet keeps its identity, so that one printed again is the same.
  const show = async (paper) => {
    const made = await program.ask("sheet", { name, paper, identity: jar.sheet || "" });
    if (!jar.sheet) await store.edit(id, (j) => { j.sheet = made.identity; });
    jar.sheet = made.identity;
    if (url) URL.revokeObjectURL(url);
    svg = new Blob([made.svg], { type: "image/svg+xml" });
    picture.src = url = URL.createObjectURL(svg);
    picture.classList.toggle("letter", paper === "letter");
  };
  const paper = inches() ? "letter" : "a4";
  await show(paper);
  place.append(el("div", { class: "stack" }, el("div", { class: "stack unprinted" },
    back(name || t("jar-unnamed"), "jar", id), el("h1", {}, t("sheet-title")), el("p", {}, t("sheet-what")),
    el("ol", { class: "dots" }, ["print", "stand", "jar"].map((k) => el("li", {}, t(`sheet-${k}`)))),
    choices(t("sheet-paper"), [["a4", "A4"], ["letter", "Letter"]], paper, show),
    el("div", { class: "row" }, button(t("sheet-do"), () => window.print(), { kind: "main grow" }),
      button(t("sheet-save"), () => save(`sheet-${jar.sheet}.svg`, svg), { kind: "quiet" }))), picture));
  const style = el("link", { rel: "stylesheet", href: "sheet.css" });
  document.head.append(style);
  return () => { style.remove(); URL.revokeObjectURL(url); };
}
