// Sand, silt and clay with how sure they are, and what the page says of both.
import { el } from "./dom.js";
import { className } from "./chart.js";
import { explain } from "./explain.js";
import { number, t } from "./words.js";

export const FRACTIONS = ["sand", "silt", "clay"];

// Colours of a soil whose own are not known, as in its charts.
const PLAIN = { sand: "#dec18c", silt: "#978068", clay: "#7c3826" };
const colourOf = (reading, name) => {
  const own = reading.colours?.[name];
  return /^#[0-9a-f]{6}$/.test(own || "") ? own : PLAIN[name];
};

/** A percentage as text. */
export const percent = (v) => t("result-percent", { n: number(v) });

/** How sure a class is: a key of "certain", "likely", "guess" or "several". */
export function sureness(p) {
  if (p >= 0.9) return "certain";
  if (p >= 0.66) return "likely";
  return p >= 0.4 ? "guess" : "several";
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
  switch (sureness(r.class.probability)) {
    case "certain": return { text: t(narrow ? "result-trust-both" : "result-trust-class", { off }), firm: true };
    case "likely": return { text: t("result-trust-likely", { off }), firm: true };
    case "guess": return { text: `${t("result-trust-guess", { off })}${why ? ` ${t(`result-because-${why}`)}` : ""}`, firm: false };
    default: return { text: `${t("result-trust-several", { off })}${why ? ` ${t(`result-because-${why}`)}` : ""}`, firm: false };
  }
}

/** The headline of a reading: its class, or what stands in its place. */
export function headline(r) {
  if (r.class) return className(r.class.name);
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
    const spread = el("span", { class: "spread" }), fill = el("span", { class: "fill" }), tick = el("span", { class: "likeliest" });
    fill.style.width = `${e.percent}%`;
    fill.style.background = colourOf(r, name);
    spread.style.left = `${e.low}%`;
    spread.style.width = `${Math.max(e.high - e.low, 0.5)}%`;
    tick.style.left = `${e.percent}%`;
    list.append(el("div", { class: `bar ${name}` },
      el("div", { class: "bar-name" }, el("span", {}, t(`result-word-${name}`)), explain(name)),
      el("div", { class: "bar-value" }, el("strong", {}, percent(e.percent)), " ",
        el("span", { class: "range" }, t("result-range", { low: number(e.low), high: number(e.high) }))),
      el("div", { class: "track", "aria-hidden": "true" }, fill, spread, tick)));
  }
  return list;
}

/** The same in one line, for where room is short; its update(reading) redraws it. */
export function strip() {
  const name = el("strong", { class: "strip-class" }), sure = el("span", { class: "strip-sure" });
  const track = el("div", { class: "stacked", "aria-hidden": "true" });
  const numbers = el("div", { class: "strip-numbers" });
  const element = el("div", { class: "strip" }, el("div", { class: "strip-head" }, name, " ", sure), track, numbers);
  const update = (r) => {
    name.textContent = headline(r);
    sure.textContent = r.class ? t(`result-sure-${sureness(r.class.probability)}`) : "";
    track.replaceChildren();
    numbers.replaceChildren();
    if (!r.fractions) return;
    for (const k of FRACTIONS) {
      const e = r.fractions[k];
      const part = el("span", { class: k });
      part.style.width = `${e.percent}%`;
      part.style.background = colourOf(r, k);
      track.append(part);
      const key = el("i", { "aria-hidden": "true" });
      key.style.background = colourOf(r, k);
      numbers.append(el("span", {}, el("span", { class: "strip-name" }, key, t(`result-word-${k}`)), " ", el("b", {}, percent(e.percent)), " ",
        el("small", {}, t("result-give", { n: number(Math.max(1, (e.high - e.low) / 2)) }))));
    }
  };
  return { element, update };
}
