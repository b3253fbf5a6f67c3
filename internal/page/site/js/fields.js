// The fields of a jar's record, each checked by the program as it is left.
import { el } from "./dom.js";
import { field, select } from "./parts.js";
import * as program from "./program.js";
import { fahrenheit, inches, t } from "./words.js";

/** What the program finds wrong with one key of a record; "" if nothing. */
export const mistakeIn = async (key, value) => (await program.ask("record", { [key]: value })).mistake || "";

// Fields that are a number with a unit: in each unit the least, the most and an
// example, as internal/record has them; and the unit that is offered.
const QUANTITIES = {
  "water-depth": { units: { mm: ["20", "400", "130"], cm: ["2", "40", "13"], in: ["0.8", "15.7", "5 1/8"] }, usual: () => (inches() ? "in" : "mm") },
  temp: { units: { C: ["0", "45", "20"], F: ["32", "113", "68"] }, usual: () => (fahrenheit() ? "F" : "C") },
  "rooting-depth": { units: { mm: ["50", "3000", "600"], cm: ["5", "300", "60"], in: ["2", "118", "24"] }, usual: () => (inches() ? "in" : "cm") },
  "daily-use": { units: { mm: ["0.1", "20", "5"], in: ["0.01", "0.8", "1/5"] }, usual: () => (inches() ? "in" : "mm") },
  "shaken-for": { units: { min: ["1", "2880", "10"] }, usual: () => "min" },
  "dry-soil": { units: { g: ["5", "5000", "250"], oz: ["0.2", "176", "9"] }, usual: () => (inches() ? "oz" : "g") },
  stones: { units: { "%": ["0", "90", "8"] }, usual: () => "%" },
  "organic-matter": { units: { "%": ["0", "100", "3"] }, usual: () => "%" },
};
const MARKS = { C: "°C", F: "°F", '"': "in", "″": "in", inch: "in", inches: "in" };

/**
 * The field of a key with what the record states of it. Gives {element, value(),
 * check(), focus()}: value is the text for the record, "" where nothing is
 * stated; check says whether it will do, and tells the person if not.
 * @param {string} key
 * @param {string} [stated]
 * @param {{big?: boolean, changed?: (text: string) => any}} [looks]
 */
export function quantity(key, stated = "", { big, changed = () => {} } = {}) {
  const { units: ranges, usual } = QUANTITIES[key];
  const units = Object.keys(ranges);
  const [, number, written] = /^\s*(.*?[0-9])\s*([^0-9]*)$/.exec(stated) || [null, stated, ""];
  const named = written.trim().replace("°", "");
  const unit = units.find((u) => u === named || u === MARKS[named] || u.toLowerCase() === named.toLowerCase());
  const input = el("input", { type: "text", value: unit || !named ? number : stated, autocomplete: "off", enterkeyhint: "next" });
  const unitPicker = select(units.map((u) => [u, MARKS[u] || u]), unit || usual(), { "aria-label": t(`unit-${key}`) });
  const words = (end) => {
    const [low, high, example] = ranges[unitPicker.value], mark = MARKS[unitPicker.value] || unitPicker.value;
    return t(`field-${key}-${end}`, { low, high: `${high} ${mark}`, example: `${example} ${mark}` });
  };
  const f = field({ label: t(`field-${key}`), help: words("help"), control: input, beside: units.length > 1 ? unitPicker : el("span", { class: "suffix", "aria-hidden": "true" }, units[0]), big });
  const value = () => {
    const text = input.value.trim();
    if (!text || /[a-z"″%°]/i.test(text)) return text;
    return `${text} ${unitPicker.value}`;
  };
  const check = async () => {
    const bad = value() && await mistakeIn(key, value());
    f.wrong(bad ? words("wrong") : "");
    return !bad;
  };
  // A keyboard of digits lacks the stroke of a fraction of an inch.
  const fit = () => {
    input.inputMode = unitPicker.value === "in" ? "text" : "decimal";
    f.help(words("help"));
  };
  fit();
  input.addEventListener("change", async () => { if (await check()) changed(value()); });
  unitPicker.addEventListener("change", async () => { fit(); if (await check()) changed(value()); });
  return { key, element: f.element, value, check, wrong: f.wrong, focus: () => input.focus() };
}

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
