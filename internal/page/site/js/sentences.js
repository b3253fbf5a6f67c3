// The program's English sentences in other words: in a person's language, or in
// the page's own wording where the program speaks of its command line.

// A pattern with as few letters as "{1} or {2}" fits much that it is not meant
// for: it is tried last, and only on what is no sentence.
const FEW = 4;
const NUMBER = /^[-+.\d]+$/;
// Without looking behind, which older browsers cannot: a sentence's end stays with it.
const SENTENCES = /[.!?] (?=\p{Lu})/u, SEPARATORS = [SENTENCES, /; /, /: /];

const lower = (s) => s.charAt(0).toLowerCase() + s.slice(1);
const upper = (s) => s.replace(/^([¿¡«\s]*)(\p{Ll})/u, (_, before, c) => before + c.toUpperCase());
const quoted = (s) => s.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");

/**
 * translator gives a function that puts texts into other words by [from, to]
 * pairs, in which {1}, {2} ... stand for what is filled in; later pairs win. What
 * is filled in, and what several sentences or "file: sentence" are made of, is
 * put into other words piece by piece; value(v) writes what no pair knows, such
 * as numbers and names.
 */
export function translator(pairs, value = (v) => v) {
  const exact = new Map(), long = [], short = [], known = new Map(), written = new Map();
  for (const [from, to] of new Map(pairs)) {
    if (!/\{\d+\}/.test(from)) exact.set(lower(from), to);
    else (letters(from) > FEW ? long : short).push(compile(from, to));
  }
  // What begins with letters is surer than what may begin with anything.
  for (const list of [long, short]) list.sort((a, b) => a.open - b.open || b.weight - a.weight);

  // find gives {write, whole}: how to write it, and whether all of it is known;
  // undefined for what no pair knows any part of.
  function find(text) {
    if (!known.has(text)) {
      const same = exact.get(lower(text));
      known.set(text, same === undefined ? match(long, text) ?? unended(text) ?? pieces(text) ?? match(short, text) ?? list(text) : { write: () => same, whole: true });
    }
    return known.get(text);
  }

  const put = (text) => {
    const [, before, core, after] = /^(\s*)(.*?)(\s*)$/s.exec(text);
    return before + (core && (find(core)?.write() ?? value(core))) + after;
  };
  const sentence = (text) => (/^\p{Lu}/u.test(text) ? upper(put(text)) : put(text));

  function match(list, text) {
    if (list === short && SEPARATORS.some((s) => s.test(text))) return undefined;
    for (const { pattern, order, to } of list) {
      const m = pattern.exec(text);
      if (m && (list === long || order.length === 1 || m.slice(1).every((v) => NUMBER.test(v) || find(v)))) {
        return { write: () => to.replace(/\{(\d+)\}/g, (whole, n) => (order.includes(n) ? put(m[order.indexOf(n) + 1]) : whole)), whole: true };
      }
    }
    return undefined;
  }

  // A phrase of the program that was made a sentence.
  function unended(text) {
    const found = text.endsWith(".") && !SENTENCES.test(text) ? find(text.slice(0, -1)) : undefined;
    return found && { ...found, write: () => `${found.write()}.` };
  }

  // What was put together of several is taken apart where most of it is known.
  function pieces(text) {
    let best, most = 0;
    const knownOf = (part) => { const f = find(part); return f ? 1 + f.whole : 0; };
    for (const s of SEPARATORS) {
      for (const { 0: found, index } of text.matchAll(new RegExp(s, "gu"))) {
        const between = s === SENTENCES ? " " : found, end = index + found.length;
        const parts = [text.slice(0, end - between.length), text.slice(end)];
        const [left, right] = parts.map(knownOf);
        const score = (left + right === 4 ? 100 : 0) + 10 * right + left;
        if (score > most) [best, most] = [{ parts, between, whole: left + right === 4 }, score];
      }
    }
    return best && { ...best, write: () => best.parts.map(sentence).join(exact.get(best.between) ?? best.between) };
  }

  function list(text) {
    const parts = text.split(", ");
    return parts.length > 1 && parts.every(find) ? { write: () => parts.map(put).join(", "), whole: true } : undefined;
  }

  return (text) => {
    if (text && !written.has(text)) written.set(text, sentence(text));
    return text && written.get(text);
  };
}

const letters = (from) => from.replace(/\{\d+\}/g, "").replace(/\P{L}/gu, "").length;

// A hole before a unit is filled with a number, one before a full stop with no
// more than the end of its sentence.
const UNIT = /^(?: (?:mm|s|px|MB|C|F)\b| %| in\))/;
const hole = (before, next) => {
  if (!next && /[.)]$/.test(before)) return "(.*)"; // a sentence may follow
  if (UNIT.test(next)) return "([-+\\d.e]+)";
  return next.startsWith(".") ? "((?:(?![.!?] \\p{Lu}).)+?)" : "(.+?)";
};

function compile(from, to) {
  const order = [];
  const parts = from.split(/\{(\d+)\}/);
  const pattern = parts.map((part, i) => {
    if (i % 2) {
      order.push(part);
      return hole(parts[i - 1], parts[i + 1]);
    }
    return i || !/^\p{L}/u.test(part) ? quoted(part) : `[${part[0].toLowerCase()}${part[0].toUpperCase()}]${quoted(part.slice(1))}`;
  }).join("");
  return { pattern: new RegExp(`^${pattern}$`, "su"), order, to, open: from.startsWith("{"), weight: from.replace(/\{\d+\}/g, "").length };
}
