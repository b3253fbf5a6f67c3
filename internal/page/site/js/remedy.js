// What to do about a warning or a refusal, in the page. The program's remedies
// name options of its command line where it has them; here a link leads to the
// place where the same can be done.
import { address } from "./app.js";
import { el } from "./dom.js";
import { said, t } from "./words.js";

/** A text with a capital letter in front. */
export const capital = (s) => s && s[0].toUpperCase() + s.slice(1);

/** A word as it stands within a sentence. */
export const inText = (s) => s && s[0].toLowerCase() + s.slice(1);
const sentence = (s) => (s && !/[.!?:]$/.test(s) ? `${s}.` : s);

/**
 * A text of the program as a sentence of its own. Where it begins with the name
 * of a file, called says how that is written: as it is, unless told otherwise;
 * "" leaves it out.
 */
export function asSentence(text, called = (file) => file) {
  const file = /^(\S+\.\w+): /.exec(text)?.[1], name = file && called(file);
  const words = said(name ? text.replace(file, () => name) : file ? text.slice(file.length + 2) : text);
  return sentence(/^\S+\.[a-z]{3,4}\b/i.test(words) ? words : capital(words)); // a file is called as it is called
}

/** The remedy as elements: what to do in words, and a link to where. */
export function remedy(text, jar, last) {
  if (!text) return [];
  // Only a remedy that names options has parts to leave out.
  const whole = said(text);
  const parts = whole.includes("--") ? whole.split(/[;,](?=\s)/) : [whole];
  const words = parts.filter((part) => !part.includes("--"))
    .map((part) => sentence(capital(part.trim().replace(/^(or|and|o|ou|y|et) /, "")))).join(" ");
  const link = (key, ...to) => el("a", { class: "do", href: address("jar", jar.id, ...to) }, t(key));
  const line = /--line (\S+?):/.exec(text);
  const out = words ? [el("p", {}, words)] : [];
  if (line) out.push(link("result-do-line", "photo", line[1]));
  else if (text.includes("--line") && last) out.push(link("result-do-line", "photo", last));
  else if (text.includes("--water-depth")) out.push(link("result-do-depth", "setup"));
  else if (text.includes("--temp")) out.push(link("result-do-temp", "setup"));
  else if (/--(elapsed|shaken)/.test(text)) out.push(link("result-do-time"));
  return out;
}
