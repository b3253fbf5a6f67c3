// The fields of a jar's record, each checked by the program as it is typed.
import { el } from "./dom.js";
import { field, fold, select } from "./parts.js";
import * as program from "./program.js";
import { shaken, stamp } from "./plan.js";
import { fahrenheit, inches, mark, t, written } from "./words.js";

/** What the program finds wrong with one key of a record; "" if nothing. */
export const mistakeIn = async (key, value) => (await program.ask("record", { [key]: value })).mistake || "";

// Fields that are a number with a unit: in each unit the least, the most and an example, as
// internal/record has them, and to how many decimals a stated one is shown; and the unit
// that is offered. The units of inches come first for those who use them.
const QUANTITIES = {
  "water-depth": { units: { mm: [20, 400, 130, 0], cm: [2, 40, 13, 1], in: [0.8, 15.7, "5 1/8", 2] }, usual: () => (inches() ? "in" : "mm") },
  temp: { units: { C: [0, 45, 20, 1], F: [32, 113, 68, 0] }, usual: () => (fahrenheit() ? "F" : "C") },
  "rooting-depth": { units: { mm: [50, 3000, 600, 0], cm: [5, 300, 60, 0], in: [2, 118, 24, 0] }, usual: () => (inches() ? "in" : "cm") },
  "daily-use": { units: { mm: [0.1, 20, 5, 1], in: [0.01, 0.78, "1/5", 2] }, usual: () => (inches() ? "in" : "mm") },
  "shaken-for": { units: { min: [1, 2880, 10, 0] }, usual: () => "min" },
  "dry-soil": { units: { g: [5, 5000, 250, 0], oz: [0.2, 176, 9, 1] }, usual: () => (inches() ? "oz" : "g") },
  stones: { units: { "%": [0, 90, 8, 1] }, usual: () => "%" },
  "organic-matter": { units: { "%": [0, 100, 3, 1] }, usual: () => "%" },
};
const SAME = { '"': "in", "″": "in", inch: "in", inches: "in" };

// How long nothing is typed before what is there is called wrong: half a number is no mistake.
const PATIENCE = 900;

/**
 * The field of a key with what the record states of it. Gives {element, value(),
 * check(), focus()}: value is the text for the record, "" where nothing is
 * stated; check says whether it will do, and tells the person if not. changed(text, unit) is
 * called as it is typed, with "" where it will not do. texts are those of another key, for a
 * field that is asked for otherwise.
 * @param {string} key
 * @param {string} [stated]
 * @param {{big?: boolean, changed?: (text: string, unit: string) => any, texts?: string}} [looks]
 */
export function quantity(key, stated = "", { big, changed = () => {}, texts = key } = {}) {
  const { units: ranges, usual } = QUANTITIES[key];
  const units = Object.keys(ranges).sort((a, b) => Number(b === usual()) - Number(a === usual()));
  const [, number, named] = /^\s*(.*?[0-9])\s*([^0-9]*)$/.exec(stated) || [null, stated, ""];
  const wrote = named.trim().replace("°", "");
  const unit = units.find((u) => u === wrote || u === SAME[wrote] || u.toLowerCase() === wrote.toLowerCase());
  const shown = unit || !wrote ? sensible(number, ranges[unit || usual()][3]) : stated;
  const input = el("input", { type: "text", value: shown, autocomplete: "off", enterkeyhint: "next" });
  const unitPicker = select(units.map((u) => [u, mark(u)]), unit || usual(), { "aria-label": t(`unit-${key}`) });
  const words = (end) => {
    const [low, high, example] = ranges[unitPicker.value].slice(0, 3).map((v) => (typeof v === "number" ? written(v, 2) : v)), sign = mark(unitPicker.value);
    return t(`field-${texts}-${end}`, { low, high: `${high} ${sign}`, example: `${example} ${sign}` });
  };
  const f = field({ label: t(`field-${texts}`), help: words("help"), control: input, beside: units.length > 1 ? unitPicker : el("span", { class: "suffix", "aria-hidden": "true" }, units[0]), big });
  const value = () => {
    const text = input.value.trim();
    if (input.value === shown && unitPicker.value === (unit || usual())) return stated; // rounded for showing alone
    if (!text || /[a-z"″%°]/i.test(text)) return text;
    return `${text} ${unitPicker.value}`;
  };
  let typed = 0;
  const check = async (tell = true) => {
    const mine = ++typed, text = value(), bad = text && await mistakeIn(key, text);
    if (mine !== typed) return !bad; // more was typed meanwhile
    if (tell || !bad) f.wrong(bad ? words("wrong") : "");
    changed(bad ? "" : text, unitPicker.value);
    return !bad;
  };
  // A keyboard of digits lacks the stroke of a fraction of an inch.
  const fit = () => {
    input.inputMode = unitPicker.value === "in" ? "text" : "decimal";
    f.help(words("help"));
  };
  fit();
  let wait;
  input.addEventListener("input", () => {
    clearTimeout(wait);
    wait = setTimeout(check, PATIENCE);
    check(false);
  });
  input.addEventListener("change", () => { clearTimeout(wait); check(); });
  unitPicker.addEventListener("change", () => { fit(); check(); });
  return { key, element: f.element, value, check: () => { clearTimeout(wait); return check(); }, wrong: f.wrong, focus: () => input.focus() };
}

// A stated number as a person would write it; a fraction stays one.
const sensible = (number, digits) => (/^\d+([.,]\d+)?$/.test(number) ? written(Number(number.replace(",", ".")), digits) : number);

/** The field of the jar's name. */
export function nameField(stated = "", big = false) {
  const input = el("input", { type: "text", value: stated, maxlength: 80, autocomplete: "off", enterkeyhint: "next" });
  const f = field({ label: t("field-name"), help: t("field-name-help"), control: input, big });
  const check = async () => {
    const bad = !input.value.trim();
    f.wrong(bad ? t("field-name-wrong") : "");
    return !bad;
  };
  return { key: "name", element: f.element, value: () => input.value.trim(), check, focus: () => input.focus() };
}

/** A field whose value is chosen: options [[value, words]]. */
export function chosen(key, options, stated = "") {
  const control = select(options, stated);
  const f = field({ label: t(`field-${key}`), help: t(`field-${key}-help`), control });
  return { key, element: f.element, value: () => control.value, check: async () => true, focus: () => control.focus() };
}

/** The field of when the jar was set down. What is stated stays as it was written until it is changed. */
export function moment(stated = "") {
  const ms = shaken({ shaken: stated });
  const local = ms === undefined ? "" : stamp(new Date(ms)).slice(0, 19);
  const input = el("input", { type: "datetime-local", step: 1, value: local, max: stamp(new Date()).slice(0, 19) });
  const f = field({ label: t("field-shaken"), help: t("field-shaken-help"), control: input });
  const value = () => (input.value === local || input.value === local.slice(0, 16) ? stated : input.value && stamp(new Date(input.value)));
  const check = async () => {
    const ahead = input.value && Date.parse(input.value) > Date.now() + 60_000;
    const bad = input.validity.badInput || ahead || (value() && await mistakeIn("shaken", value()));
    f.wrong(bad ? t(ahead ? "field-shaken-ahead" : "field-shaken-wrong") : "");
    return !bad;
  };
  input.addEventListener("change", check);
  return { key: "shaken", element: f.element, value, check, wrong: f.wrong, focus: () => input.focus() };
}

/** The fields of how the jar was prepared, all optional, from a record. */
export const prepared = (r) => [
  chosen("dispersant", [["", t("field-dispersant-unsaid")], ["yes", t("field-dispersant-yes")], ["no", t("field-dispersant-no")]], yesNo(r.dispersant)),
  quantity("shaken-for", r["shaken-for"]), quantity("dry-soil", r["dry-soil"]), quantity("stones", r.stones)];

// A record from elsewhere may hold yes and no as such.
const yesNo = (v) => ({ true: "yes", false: "no" }[v] ?? v);

/** Those fields behind one touch. */
export const preparedFold = (fields) => fold(t("setup-prepared"),
  el("div", { class: "card stack" }, el("p", { class: "soft" }, t("setup-prepared-why")), fields.map((f) => f.element)));

/** The first field that will not do, shown even where it is folded away; null if all will. */
export async function mistaken(fields) {
  for (const f of fields) {
    if (await f.check()) continue;
    f.element?.closest("details")?.setAttribute("open", "");
    return f;
  }
  return null;
}
