// Words and units. All text lies in words/*.json, keyed alike in every language; {name}
// in a text is filled in. The program writes what it says with the same files.

export const LANGUAGES = { en: "English", es: "Español", fr: "Français" };
const KEPT = "mudline-settings";

export const settings = { language: "", length: "", temperature: "", ...kept() };

function kept() {
  try { return JSON.parse(localStorage.getItem(KEPT)) || {}; } catch { return {}; }
}

/** Keeps a choice; an empty one follows the browser's language again. */
export function choose(key, value) {
  settings[key] = value;
  try { localStorage.setItem(KEPT, JSON.stringify(settings)); } catch { /* private window: it holds until reload */ }
}

/** The language in use. */
export function language() {
  if (LANGUAGES[settings.language]) return settings.language;
  for (const l of navigator.languages || []) {
    const short = l.slice(0, 2).toLowerCase();
    if (LANGUAGES[short]) return short;
  }
  return "en";
}

// Regions where lengths are in inches, and where temperatures are in Fahrenheit.
const INCHES = ["US", "LR", "MM"];
const FAHRENHEIT = ["US", "BS", "BZ", "KY", "PW", "LR", "FM", "MH"];

function region() {
  try { return new Intl.Locale(navigator.language).maximize().region; } catch { return ""; }
}

export const inches = () => (settings.length ? settings.length === "in" : INCHES.includes(region()));
export const fahrenheit = () => (settings.temperature ? settings.temperature === "F" : FAHRENHEIT.includes(region()));

// Numbers, dates and times as the person's own country writes them, where it is
// their device that chose the language.
const locale = () => (navigator.languages || []).find((l) => l.slice(0, 2).toLowerCase() === language()) || language();

let words = {};
let english = {};

/** Loads the language in use; called at the start and when it is changed. */
export async function load() {
  const fetched = async (l) => (await fetch(`words/${l}.json`)).json();
  const l = language();
  english = await fetched("en");
  words = l === "en" ? english : await fetched(l);
  document.documentElement.lang = l;
}

/** How the person is spoken to, for the program; see speakRequest in internal/desk. */
export const speech = () => ({ tag: language(), catalogue: language() === "en" ? undefined : words, signs: language() === "en" ? undefined : signs(),
  inches: inches(), fahrenheit: fahrenheit() });

// How the person's country writes numbers.
const signs = () => ({ thousands: number(12345)[2], grouped: number(1234).length > 4 ? 4 : 5, decimal: number(0.5, 1)[1] });

/** The text of a key, with {name} filled in. */
export function t(key, fill = {}) {
  const text = words[key] ?? english[key] ?? key;
  return text.replace(/\{(\w+)\}/g, (whole, name) => (name in fill ? String(fill[name]) : whole));
}

/** A text that counts: key-one for one thing where there is such a key, else key. */
export function counted(key, n, fill = {}) {
  const one = new Intl.PluralRules(language()).select(n) === "one" && `${key}-one` in english;
  return t(one ? `${key}-one` : key, { n: number(n), ...fill });
}

/** Names of which one is right: "A, b or c", as a heading. */
export function oneOf(names) {
  const all = names.map((n, i) => (i ? n.toLocaleLowerCase(language()) : n)), last = all.pop();
  return all.length ? t("list-or", { list: all.join(", "), last }) : last;
}

/** A number in the person's way of writing. */
export const number = (v, digits = 0) =>
  new Intl.NumberFormat(locale(), { maximumFractionDigits: digits, minimumFractionDigits: digits }).format(v);

export const MM_PER_INCH = 25.4;

/** A length of v mm with its unit: "24.2 mm", "0.95 in". */
export const length = (mm, digits = 1) =>
  inches() ? `${number(mm / MM_PER_INCH, digits + 1)} ${mark("in")}` : `${number(mm, digits)} mm`;

/** How a unit is written: "°C" of C. */
export const mark = (unit) => ({ C: "°C", F: "°F", in: t("mark-in") }[unit] || unit);

/** A length of v mm in a unit that was chosen, rounded for a rule: "26 mm", "2.6 cm", "1 in". */
export const lengthIn = (mm, unit) => `${written(mm / { mm: 1, cm: 10, in: MM_PER_INCH }[unit], { mm: 0, cm: 1, in: 1 }[unit])} ${mark(unit)}`;

/** A number as it is typed into a field: the person's decimal sign, at most so many decimals, no grouping. */
export const written = (v, digits) =>
  new Intl.NumberFormat(locale(), { maximumFractionDigits: digits, useGrouping: false }).format(v);

/** A temperature of v C with its unit. */
export const temperature = (c, digits = 0) =>
  fahrenheit() ? `${number(c * 9 / 5 + 32, digits)} °F` : `${number(c, digits)} °C`;

/** A moment as date and time, short. */
export const moment = (ms) =>
  new Intl.DateTimeFormat(locale(), { dateStyle: "medium", timeStyle: "short" }).format(new Date(ms));

/** A moment near now, as people say it: "today, 14:05", "Sat 28 Nov, 14:05". */
export function day(ms) {
  const at = new Date(ms), now = new Date();
  const time = new Intl.DateTimeFormat(locale(), { timeStyle: "short" }).format(at);
  const days = Math.round((new Date(at).setHours(0, 0, 0, 0) - new Date(now).setHours(0, 0, 0, 0)) / 86_400_000);
  if (Math.abs(days) > 1) {
    const year = at.getFullYear() === now.getFullYear() ? undefined : "numeric";
    return `${new Intl.DateTimeFormat(locale(), { weekday: "short", day: "numeric", month: "short", year }).format(at)}, ${time}`;
  }
  return `${new Intl.RelativeTimeFormat(locale(), { numeric: "auto" }).format(days, "day")}, ${time}`;
}

/** A time since shaking: "2 h", "1 day 4 h"; within a sentence in full words. */
export function elapsed(seconds, unitDisplay = /** @type {"short" | "long"} */ ("short")) {
  /** @type {[string, number][]} */
  const units = [["day", 86400], ["hour", 3600], ["minute", 60], ["second", 1]];
  const i = Math.max(units.findIndex(([, s]) => seconds >= s), 0);
  const at = seconds < 1 ? units.length - 1 : i;
  const write = (n, unit) => new Intl.NumberFormat(locale(), { style: "unit", unit, unitDisplay, maximumFractionDigits: 0 }).format(n);
  const [unit, size] = units[at];
  let whole = Math.floor(seconds / size), rest = 0;
  const below = units[at + 1];
  if (below) rest = Math.round((seconds - whole * size) / below[1]);
  if (below && rest * below[1] >= size) { whole++; rest = 0; }
  return rest && at < 3 ? `${write(whole, unit)} ${write(rest, below[0])}` : write(whole, unit);
}
