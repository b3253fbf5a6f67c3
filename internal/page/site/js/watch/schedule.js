// When a phone that watches a jar takes its photos: many in the first minutes, few
// in the last hours, even in the logarithm of the time, as settling goes. Nothing
// here knows of clocks or cameras: times are seconds from setting the jar down.
//
// A jar that is watched keeps {plan, taken, over?} under watch: the plan, the
// moments by their number of which a photo is stored, and when it was ended (ms).

/** The usual plan: about 40 photos in two days. */
export const USUAL = { first: 20, last: 2 * 86400, count: 40 };

// No two moments lie closer than this, in seconds: a photo's name has its second.
const APART = 2;
// How late a photo still counts for its moment: seconds, and a share of the time.
const LATE = 2, LATE_SHARE = 0.05;

/** The moments of a plan {first, last, count}: whole seconds that grow. */
export function moments({ first, last, count }) {
  const out = [];
  for (let i = 0; i < count; i++) {
    const at = Math.round(first * (last / first) ** (count > 1 ? i / (count - 1) : 0));
    out.push(i ? Math.max(at, out[i - 1] + APART) : at);
  }
  return out;
}

/** Until when a photo counts for the moment i. */
export function until(list, i) {
  const late = Math.max(LATE, LATE_SHARE * list[i]);
  return list[i] + (i + 1 < list.length ? Math.min(late, (list[i + 1] - list[i]) / 2) : late);
}

/** The moment that is due or comes next: {index, at}; undefined when all is over. */
export function next(list, since, taken) {
  const index = list.findIndex((at, i) => !taken.includes(i) && since <= until(list, i));
  return index < 0 ? undefined : { index, at: list[index] };
}

/** How a watch stands: {all, kept, missed}. */
export function tally(list, since, taken) {
  const missed = list.filter((at, i) => !taken.includes(i) && since > until(list, i)).length;
  return { all: list.length, kept: taken.length, missed };
}

/** The photo of a watch by its true second. */
export const nameAt = (seconds) => `watch_t${String(Math.round(seconds)).padStart(6, "0")}s.jpg`;

/** No more than most of a list in order, the last among them; which stay changes little when it grows. */
export function thin(list, most) {
  const step = Math.ceil(list.length / most);
  return list.filter((_, i) => i % step === 0 && i + step < list.length || i === list.length - 1);
}

/** count times from first to last, even in their logarithm; the first may be 0. */
export function spread(first, last, count) {
  const low = Math.max(first, Math.min(USUAL.first, last / count));
  const out = Array.from({ length: count }, (_, i) => low * (last / low) ** (i / (count - 1)));
  return first < low ? [first, ...out.slice(0, -1), last] : out;
}
