// Where in the page that can be done which the program says is to be done.
import { cureOf } from "./cure.js";
import { el } from "./dom.js";
import { messages } from "./messages.js";
import { address } from "./route.js";
import { t } from "./words.js";

/** A text with a capital letter in front. */
export const capital = (s) => s && s[0].toUpperCase() + s.slice(1);

/** A word as it stands within a sentence. */
export const inText = (s) => s && s[0].toLowerCase() + s.slice(1);

// What is done to the lines of a photo, in the set-up, and among the photos: the keys of
// the messages that say so.
const LINES = ["do.place-line", "do.place-that-line", "do.check-line", "do.place-water", "do.check-outline", "do.check-outlines", "do.check-turned",
  "do.early-photo-or-water", "do.correct-or-place-soil-top", "do.wait-or-place-lines"];
const SETUP = { "do.state-depth": "result-do-depth", "do.state-depth-or-straight-jar": "result-do-depth", "do.state-temperature": "result-do-temp" };
const CURES = { place: "cure-where", top: "result-do-line" };
const TIMES = ["do.state-elapsed", "do.state-shaken"];

/**
 * What to do about a warning or a refusal as elements: in words, and a link to where.
 * last names the photo whose lines are meant where none is named.
 */
export function remedy(refused, jar, last = undefined) {
  const { remedy: words, todo } = refused;
  const link = (key, ...to) => el("a", { class: "do", href: address("jar", jar.id, ...to) }, t(key));
  const out = words ? [el("p", {}, words)] : [];
  const cure = cureOf(refused, last);
  if (cure && CURES[cure.kind]) return [...out, link(CURES[cure.kind], "photo", cure.file)];
  for (const { key, args } of messages(todo)) {
    const file = args?.file || last;
    if (LINES.includes(key) && file) return [...out, link("result-do-line", "photo", file)];
    if (SETUP[key]) return [...out, link(SETUP[key], "setup")];
    if (TIMES.includes(key)) return [...out, link("result-do-time")];
  }
  return out;
}
