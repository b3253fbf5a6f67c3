// Sand, silt and clay with how sure they are, and what the page says of both.
import { el } from "./dom.js";
import { className } from "./chart.js";
import { explain } from "./explain.js";
import { number, oneOf, t } from "./words.js";

export const FRACTIONS = ["sand", "silt", "clay"];

// The soil's own colour of a part, an accent beside what tells the parts apart.
const ownOf = (reading, name) => {
  const own = reading.colours?.[name];
  if (!/^#[0-9a-f]{6}$/.test(own || "")) return null;
  const dot = el("span", { class: "own", title: t("result-own-colour"), "aria-hidden": "true" });
  dot.style.background = own;
  return dot;
};

/** A part's letter on its colour and pattern. */
export const letter = (name) => el("span", { class: `letter part ${name}`, "aria-hidden": "true" }, el("b", {}, t(`part-letter-${name}`)));

/** A percentage as text. */
export const percent = (v) => t("result-percent", { n: number(v) });

// The probability from which a class is called likely, and how many stand over a
// reading where none is: as in the program's own report.
const ENOUGH = 2 / 3;
const MOST_NAMED = 3;

/** The classes to put over a reading, likeliest first, and the probability that they have together. */
export function named(c) {
  const names = [c.name];
  let together = c.probability;
  for (const o of c.others || []) {
    if (together >= ENOUGH || names.length === MOST_NAMED) break;
    names.push(o.name);
    together += o.probability;
  }
  return { names, together };
}

/** How sure the classes over a reading are, in a few words. */
export function sureness(c) {
  if (named(c).names.length > 1) return t("result-sure-these");
  return t(`result-sure-${c.probability >= 0.9 ? "certain" : c.probability >= ENOUGH ? "likely" : "guess"}`);
}

/** That with the chance of it. */
export function certainty(c) {
  const { names, together } = named(c);
  return { words: sureness(c), chance: names.length > 1 ? t("result-together", { chance: chance(together) }) : chance(c.probability) };
}

/** A probability the way people say it. */
export function chance(p) {
  const n = Math.round(100 * p);
  if (n >= 100) return t("result-chance-over");
  return n < 1 ? t("result-chance-under") : t("result-chance", { n: number(n) });
}

/** Half the widest interval, in points of percent. */
export const halfWidth = (f) => Math.max(...FRACTIONS.map((k) => f[k].high - f[k].low)) / 2;

// What a gardener need not think about: what two kinds of laboratory instrument
// differ by, in points of percent.
const NARROW = 10;

/** How far to trust a reading, in a sentence, and whether that is far. */
export function trust(r) {
  const f = r.fractions;
  if (!f) return { text: t("result-trust-none"), firm: false };
  const off = number(Math.max(1, Math.round(halfWidth(f)))), narrow = halfWidth(f) <= NARROW;
  if (r.hand?.verdict === "disagree") return { text: t("result-trust-hands"), firm: false };
  if (!r.class) return { text: t("result-trust-noclass", { off }), firm: narrow };
  const why = r.warnings.find((w) => w.code === "single_photo" || w.code === "one_layer")?.code;
  const { names, together } = named(r.class), p = r.class.probability;
  const say = (key) => t(`result-trust-${key}`, { off });
  if (p >= 0.9) return { text: say(narrow ? "both" : "class"), firm: true };
  const doubtful = r.meaning?.lines.some((l) => l.topic === "doubt");
  if (p >= ENOUGH && !doubtful) return { text: say("likely"), firm: true };
  const text = say(p >= ENOUGH ? "wide" : names.length === 2 && together >= ENOUGH ? "guess" : "several");
  return { text: why ? `${text} ${t(`result-because-${why}`)}` : text, firm: false };
}

/** The headline of a reading: its class, the few of which it is one, or what stands in their place. */
export function headline(r) {
  if (r.class) return oneOf(named(r.class).names.map(className));
  return t(r.fractions ? "result-noclass" : "result-untold");
}

/** The fractions in a few words, or nothing where they cannot be told. No line break parts a number from its sign. */
export function partsOf(r) {
  if (!r.fractions) return "";
  const whole = (k) => percent(r.fractions[k].percent).replace(/\s/g, "\u00a0");
  return t("home-parts", { sand: whole("sand"), silt: whole("silt"), clay: whole("clay") });
}

/** A bar for each fraction: where it may lie, and its likeliest value. */
export function bars(r) {
  const list = el("div", { class: "bars" });
  for (const name of FRACTIONS) {
    const e = r.fractions[name];
    const spread = el("span", { class: "spread" }), fill = el("span", { class: `fill part ${name}` }), tick = el("span", { class: "likeliest" });
    fill.style.width = `${e.percent}%`;
    spread.style.left = `${e.low}%`;
    spread.style.width = `${Math.max(e.high - e.low, 0.5)}%`;
    tick.style.left = `${e.percent}%`;
    list.append(el("div", { class: `bar ${name}` },
      el("div", { class: "bar-name" }, letter(name), el("span", {}, t(`result-word-${name}`)), ownOf(r, name), explain(name)),
      el("div", { class: "bar-value" }, el("strong", {}, percent(e.percent)), " ",
        el("span", { class: "range" }, t("result-range", { low: number(e.low), high: number(e.high) }))),
      el("div", { class: "track", "aria-hidden": "true" }, fill, spread, tick)));
  }
  return list;
}

/**
 * The same in one line, for where room is short; its update(reading) redraws it.
 * While it is held its height stays, so that nothing below moves under a finger.
 */
export function strip() {
  const name = el("strong", { class: "strip-class" }), sure = el("span", { class: "strip-sure" });
  const track = el("div", { class: "stacked", "aria-hidden": "true" });
  const numbers = el("div", { class: "strip-numbers" });
  const head = el("div", { class: "strip-head" }, name, " ", sure);
  const element = el("div", { class: "strip" }, head, track, numbers);
  const hold = (on) => { head.style.height = on ? `${head.getBoundingClientRect().height}px` : ""; };
  const update = (r) => {
    name.textContent = headline(r);
    sure.textContent = r.class ? sureness(r.class) : "";
    track.replaceChildren();
    numbers.replaceChildren();
    if (!r.fractions) return;
    for (const k of FRACTIONS) {
      const e = r.fractions[k];
      const part = el("span", { class: `part ${k}` });
      part.style.width = `${e.percent}%`;
      track.append(part);
      const key = el("i", { class: `part ${k}`, "aria-hidden": "true" });
      numbers.append(el("span", {}, el("span", { class: "strip-name" }, key, t(`result-word-${k}`)), " ", el("b", {}, percent(e.percent)), " ",
        el("small", {}, t("result-give", { n: number(Math.max(1, (e.high - e.low) / 2)) }))));
    }
  };
  return { element, update, hold };
}
