// The list beside a photo: in words and numbers what the picture shows of its lines.
import { el } from "../dom.js";
import { LAYERS, NONE, SIDES, heightOf, isBox, isSide, mayLack, statedOf } from "../lines.js";
import { button } from "../parts.js";
import { length, number, t } from "../words.js";

/**
 * The lines of a photo, and what can be done with them:
 *   inWords(line)       where a line stands
 *   change(name, at)    takes a line back (undefined), or says that it is not there (null)
 *   add(name)           adds a line that was not seen
 * missing are the lines that can be added here, guessed says that those shown are only a
 * place to begin from.
 */
export function lineList({ record, file, lines, guessed, missing, inWords, change, add }) {
  const stated = statedOf(record, file), name = (n) => t(`photo-line-${n}`);
  const back = (n) => (stated[n] === undefined ? null
    : button(t("photo-put-back"), () => change(n, undefined), { "aria-label": t("photo-put-back-line", { line: name(n) }) }));
  const away = (n) => (!mayLack(n) || stated[n] === NONE ? null
    : button(t("photo-not-there"), () => change(n, null), { "aria-label": t("photo-not-there-line", { line: name(n) }) }));
  const by = (n, line) => {
    if (stated[n] === undefined && guessed) return t("photo-guessed");
    if (stated[n] === undefined) return t(line?.unsure ? "photo-found-unsure" : "photo-found");
    return stated[n] === NONE ? t("photo-by-you-none") : t("photo-by-you", { place: stated[n] });
  };
  const row = (n, words, line) => el("li", { class: n },
    el("span", { class: `sample ${n}${line?.unsure ? " unsure" : ""}`, "aria-hidden": "true" }),
    el("span", { class: "line-name" }, name(n)),
    el("span", { class: "line-words" }, words, el("small", {}, by(n, line))), back(n), away(n));
  const seen = [...lines].reverse().map((l) => row(l.name, inWords(l), l));
  const gone = LAYERS.filter((n) => stated[n] === NONE).map((n) => row(n, ""));
  const sides = SIDES.filter((n) => stated[n] !== undefined).map((n) => row(n, ""));
  return [el("h2", {}, t("photo-lines-here")), el("p", { class: "soft" }, t("photo-how")), el("p", { class: "soft" }, t("photo-front")),
    el("ul", {}, seen, gone, sides),
    el("div", { class: "adds" }, missing.map((n) => button(t("photo-add", { line: name(n) }), () => add(n))))];
}

/** One thing that the page asks for help with: words, and a button for it. */
export const ask = (words, press, act, label) => el("div", { class: "ask" }, el("p", {}, words), button(press, act, { "aria-label": label }));

/**
 * Where a line stands, in words: a height above the floor as the reading has it, as the
 * person measures, with twice its standard deviation; without a reading as the program
 * tells the line's place.
 */
export function whereInWords(reading, file, name, at, line) {
  if (isSide(name)) return t("photo-column", { n: number(at) });
  if (isBox(name)) return t("photo-row", { n: number(at) });
  if (name === "floor") return t("photo-zero");
  if (name === "water") return t("photo-water-edge");
  const h = heightOf(reading, file, name) || (line?.percent === undefined ? undefined : { value: line.percent });
  if (!h) return "";
  const write = (v) => (h.mm ? length(v) : t("result-percent", { n: number(v, 1) }));
  const height = t(h.mm ? "photo-height" : "photo-height-share", { height: write(h.value) });
  return h.sd ? `${height}, ${t("photo-give", { height: write(2 * h.sd) })}` : height;
}
