// The lines on a photo: their order, what a record states of them, and where
// they stand. Rows and columns are pixels of the upright full-size photo. What a
// photo has of them is {lines, left, right}, as the program gives it, with box
// [x0, y0, x1, y1] where one is drawn round the jar.

/** The lines that are drawn and can be placed, from the floor up, then the glass's sides. */
export const LAYERS = ["floor", "sand-top", "silt-top", "deposit-top", "haze-top", "water"];
export const SIDES = ["left", "right"];
/** The edges of a box drawn round the jar, as its corners come. */
export const BOX = ["box-left", "box-top", "box-right", "box-bottom"];

const LEAST_BOX = 60; // pixels between two edges of a box

/** Whether a name is one of a column; the others are of rows. */
export const isSide = (name) => SIDES.includes(name) || name === "box-left" || name === "box-right";
export const isBox = (name) => BOX.includes(name);

/** Whether a jar may be without a line. */
export const mayLack = (name) => LAYERS.includes(name) && name !== "floor" && name !== "water";

/** What a record says of a line that is not there. */
export const NONE = "none";

/** What a record states of a photo's lines: {name: "1147.5 px"}. */
export const statedOf = (record, file) => record.photos?.[file]?.lines || {};

/** What a record states of where things are in a photo: {lines, box}. */
export const marksOf = (record, file) => ({ lines: statedOf(record, file), box: record.photos?.[file]?.box });

/** Replaces what a record states of where things are in a photo. */
export function mark(record, file, { lines, box }) {
  const photos = { ...record.photos };
  const photo = { ...photos[file] };
  if (Object.keys(lines).length) photo.lines = lines;
  else delete photo.lines;
  if (box) photo.box = box;
  else delete photo.box;
  if (Object.keys(photo).length) photos[file] = photo;
  else delete photos[file];
  if (Object.keys(photos).length) record.photos = photos;
  else delete record.photos;
}

/** A row or column as a record states it. */
export const written = (at) => `${Math.round(at * 10) / 10} px`;

/** The lines of a photo with one placed, taken back (at undefined) or said not to be there (null). */
export function placed(lines, name, at) {
  const out = { ...lines };
  if (at === undefined) delete out[name];
  else out[name] = at === null ? NONE : written(at);
  return out;
}

/** The column of a side at half the water's height. */
export function columnOf([below, above]) {
  // The ends lie 2 % of the depth below the floor and 6 % above the water.
  const t = (0.5 + 0.02) / (1 + 0.02 + 0.06);
  return below[0] + t * (above[0] - below[0]);
}

/** Where a line stands in a photo's lines: a row, or a column of a side; undefined where it has none. */
export function whereIs(photo, name) {
  if (isBox(name)) return photo.box?.[BOX.indexOf(name)];
  if (isSide(name)) return photo[name] && columnOf(photo[name]);
  return photo.lines.find((l) => l.name === name)?.row;
}

/** The photo's lines with one of them moved, drawn before the program answers. */
export function moved(photo, name, at) {
  if (isBox(name)) return { ...photo, box: boxMoved(photo.box, BOX.indexOf(name), at) };
  const by = at - whereIs(photo, name);
  if (isSide(name)) return { ...photo, [name]: photo[name].map(([x, y]) => [x + by, y]) };
  const down = (points) => points?.map(([x, y]) => [x, y + by]);
  const lines = photo.lines.map((l) => (l.name !== name ? l
    : { ...l, row: at, low: l.low + by, high: l.high + by, points: down(l.points), back: down(l.back) }));
  return { ...photo, lines };
}

function boxMoved(box, i, at) {
  const out = [...box], other = box[(i + 2) % 4];
  out[i] = i < 2 ? Math.min(at, other - LEAST_BOX) : Math.max(at, other + LEAST_BOX);
  return out;
}

/** A box to begin with: round the jar as it stands in a photo's lines, with its neck; else in the middle of a photo of a size. */
export function boxRound(photo, [w, h]) {
  if (!photo?.left) return [0.25 * w, 0.1 * h, 0.75 * w, 0.9 * h];
  const floor = whereIs(photo, "floor"), water = whereIs(photo, "water"), left = whereIs(photo, "left"), right = whereIs(photo, "right");
  const deep = floor - water;
  return [left - 0.02 * (right - left), water - 0.3 * deep, right + 0.02 * (right - left), floor + 0.08 * deep]
    .map((v, i) => Math.min(Math.max(v, 0), i % 2 ? h : w));
}

/** Where to begin with a line that was not seen: half-way between its neighbours. */
export function between(photo, name) {
  const i = LAYERS.indexOf(name);
  const near = (names) => names.map((n) => whereIs(photo, n)).find((v) => v !== undefined);
  const below = near(LAYERS.slice(0, i).reverse()), above = near(LAYERS.slice(i + 1));
  // Without a top of the soil, the soil's share of a usual jar.
  return name === "deposit-top" ? below + 0.25 * (whereIs(photo, "water") - below) : (below + above) / 2;
}

/** The height of a line in a photo as the reading tells it: {value, sd}, in mm or in percent of the depth. */
export function heightOf(reading, file, name) {
  const photo = reading?.photos.find((p) => p.file === file), key = name.replaceAll("-", "_");
  const mm = photo?.heights_mm?.[key];
  return mm ? { ...mm, mm: true } : photo?.heights_percent?.[key];
}
