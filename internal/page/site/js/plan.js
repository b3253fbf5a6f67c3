// When the photos of a jar are due, and where it stands: set down or not, which
// photos are there, which is next.
import * as program from "./program.js";
import * as store from "./store.js";

/** The longest time after shaking that a photo can be read from, in seconds; as internal/record has it. */
const LONGEST = 60 * 86400;

/** How many photos a jar is planned for. */
export const PLANNED = 3;

/** A moment as a record states it: local time with its offset. */
export function stamp(date) {
  const two = (n) => String(n).padStart(2, "0");
  const offset = -date.getTimezoneOffset(), size = Math.abs(offset);
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}T${two(date.getHours())}:${two(date.getMinutes())}:${two(date.getSeconds())}`
    + `${offset < 0 ? "-" : "+"}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

/** When a jar was set down, in ms; undefined where it is not stated. */
export function shaken(record) {
  const text = record.shaken?.trim().replace(/^(\S+) +(\d+:\d+)/, "$1T$2").replace(/ +(?=[+-Z])/, "").replace(/([+-]\d\d)(\d\d)$/, "$1:$2");
  const ms = text ? Date.parse(text) : NaN;
  return Number.isNaN(ms) ? undefined : ms;
}

/** Seconds as a record states a time since shaking: "2h 15s". */
export function written(seconds) {
  let rest = Math.max(Math.round(seconds), 1);
  const parts = [];
  for (const [unit, size] of /** @type {[string, number][]} */ ([["d", 86400], ["h", 3600], ["min", 60], ["s", 1]])) {
    const n = Math.floor(rest / size);
    if (n) parts.push(`${n}${unit}`);
    rest -= n * size;
  }
  return parts.join(" ");
}

const plans = new Map();

/** What the program plans for a jar: {times_s, soil_share, points}. */
export function planned(record) {
  const request = { "water-depth": record["water-depth"] || "", temp: record.temp || "", photos: PLANNED };
  const key = JSON.stringify(request);
  if (!plans.has(key)) {
    const p = program.ask("times", request);
    plans.set(key, p);
    p.catch(() => plans.delete(key));
  }
  return plans.get(key);
}

/**
 * Where a jar stands: {plan, names, photos, steps, next, enough, usable, untimed,
 * twins}. names
 * are those of its photos as stored; photos {name, note, elapsed?, from?, code?}
 * in order of time, those without a time first, note.fresh where nobody looked
 * at it yet; steps the due moments {due, until, photo?}; next the step that is
 * still to come; enough says that every step has its photo; usable are the
 * photos that can be read, untimed those that only lack their time; twins says
 * that two have the same time, which no reading can be made from.
 */
export async function standing(jar) {
  const [names, known] = await Promise.all([store.photoNames(jar.id), store.notes(jar.id)]);
  const notes = names.map((name) => known.find((n) => n.name === name) || { name, fresh: true });
  const [plan, times] = await Promise.all([planned(jar.record),
    program.ask("elapsed", { record: jar.record, photos: notes.map((n) => ({ file: n.name, taken: n.taken || "" })) })]);
  const photos = notes.map((note, i) => ({ name: note.name, note, elapsed: times[i].elapsed_s, from: times[i].from, code: times[i].code }))
    .sort((a, b) => (a.elapsed ?? 0) - (b.elapsed ?? 0));
  const due = plan.times_s;
  // A photo counts for the due moment it lies nearest to, as times of settling go: by ratio.
  const steps = due.map((d, i) => {
    const from = i ? Math.sqrt(d * due[i - 1]) : 0, until = i + 1 < due.length ? Math.sqrt(d * due[i + 1]) : LONGEST;
    return { due: d, until, photo: photos.find((p) => !p.note.refused && p.elapsed > from && p.elapsed <= until) };
  });
  const since = shaken(jar.record) === undefined ? undefined : (Date.now() - shaken(jar.record)) / 1000;
  const next = steps.find((s) => !s.photo && (since === undefined || since < s.until));
  const usable = photos.filter((p) => !p.note.refused && p.elapsed);
  return { plan, names, photos, steps, next, usable, enough: steps.every((s) => s.photo),
    untimed: photos.filter((p) => !p.note.refused && !p.note.fresh && !p.elapsed),
    twins: usable.some((p, i) => i && p.elapsed === usable[i - 1].elapsed) };
}
