// Where in the page that can be done which the program says is to be done.
import { el } from "./dom.js";
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
const TIMES = ["do.state-elapsed", "do.state-shaken"];

// A message and all that stand in it, outermost first.
function* messages(m) {
  if (!m || typeof m !== "object") return;
  if (m.key) yield m;
  for (const part of Object.values(m)) yield* messages(part);
}

/**
 * What to do about a warning or a refusal as elements: in words, and a link to where.
 * said is {remedy, todo}; last names the photo whose lines are meant where none is named.
 */
export function remedy({ remedy: words, todo }, jar, last = undefined) {
  const link = (key, ...to) => el("a", { class: "do", href: address("jar", jar.id, ...to) }, t(key));
  const out = words ? [el("p", {}, words)] : [];
  for (const { key, args } of messages(todo)) {
    const file = args?.file || last;
    if (LINES.includes(key) && file) return [...out, link("result-do-line", "photo", file)];
    if (SETUP[key]) return [...out, link(SETUP[key], "setup")];
    if (TIMES.includes(key)) return [...out, link("result-do-time")];
  }
  return out;
}
