// Inches beside the millimetres of advice, and gallons beside litres given to a bed: as
// internal/words does in reports.
import { t, number } from "./words.js";

const MM_PER_INCH = 25.4;
const MILLIMETRES = /([0-9\u202f]+(?:[.,][0-9]+)?)(?:(?: to | a | à )([0-9\u202f]+(?:[.,][0-9]+)?))?[ \u00a0]mm\b( \([^)]*(?:inch|foot|pulg|pie|pouce|pied))?/g;
const PER_SQUARE_METRE = /([0-9]+) (?:litres on each square metre|litros por metro cuadrado|litres par mètre carré)(?: \((?:de )?([0-9]+)(?: to | a | à )([0-9]+),[^)]*\))?/g;

const amount = (text) => Number(text.replaceAll("\u202f", "").replace(",", "."));

// Two figures, to a hundredth at most.
function inch(mm) {
  const v = amount(mm) / MM_PER_INCH;
  return number(v, Math.min(Math.max(0, 1 - Math.floor(Math.log10(Math.max(v, 0.1)))), 2));
}

// US gallons of 231 cubic inches on ten square feet; a litre on a square metre stands 1 mm deep.
const gallons = (litres) => number((amount(litres) / MM_PER_INCH) * 10 * 144 / 231, 1);

/** A text of advice, in the language of the page, with both units. */
export function beside(text) {
  const range = (low, high) => t("result-range", { low, high });
  return text
    .replace(PER_SQUARE_METRE, (found, one, low, high) =>
      found + t("beside-gallons", { n: gallons(one) }) + (low ? ` (${range(gallons(low), gallons(high))})` : ""))
    .replace(MILLIMETRES, (found, one, high, already) =>
      already ? found : `${found} (${high ? range(inch(one), inch(high)) : inch(one)} ${t("beside-inch")})`);
}
