// The lines on a photo: their order, what a record states of them, and where
// they stand. Rows and columns are pixels of the upright full-size photo.

/** The lines that are drawn and can be placed, from the floor up, then the glass's sides. */
export const LAYERS = ["floor", "sand-top", "silt-top", "deposit-top", "haze-top", "water"];
export const SIDES = ["left", "right"];

export const isSide = (name) => SIDES.includes(name);

/** Whether a jar may be without a line. */
export const mayLack = (name) => LAYERS.includes(name) && name !== "floor" && name !== "water";

/** What a record says of a line that is not there. */
export const NONE = "none";

/** What a record states of a photo's lines: {name: "1147.5 px"}. */
export const statedOf = (record, file) => record.photos?.[file]?.lines || {};

/** Replaces what a record states of a photo's lines. */
export function state(record, file, lines) {
  const photos = { ...record.photos };
  const photo = { ...photos[file] };
  if (Object.keys(lines).length) photo.lines = lines;
  else delete photo.lines;
  if (Object.keys(photo).length) photos[file] = photo;
  else delete photos[file];
  if (Object.keys(photos).length) record.photos = photos;
  else delete record.photos;
}

/** The lines of a photo with one placed, taken back (at undefined) or said not to be there (null). */
export function placed(lines, name, at) {
  const out = { ...lines };
  if (at === undefined) delete out[name];
  else if (at === null) out[name] = NONE;
  else out[name] = `${Math.round(at * 10) / 10} px`;
  return out;
}

/** The column of a side at half the water's height. */
export function columnOf([below, above]) {
  // The ends lie 2 % of the depth below the floor and 6 % above the water.
  const t = (0.5 + 0.02) / (1 + 0.02 + 0.06);
  return below[0] + t * (above[0] - below[0]);
}

/** Where a line stands in a photo's lines: a row, or a column of a side. */
export function whereIs(photo, name) {
  if (isSide(name)) return columnOf(photo[name]);
  return photo.lines.find((l) => l.name === name)?.row;
}

/** The photo's lines with one of them moved, drawn before the program answers. */
export function moved(photo, name, at) {
  const by = at - whereIs(photo, name);
  if (isSide(name)) return { ...photo, [name]: photo[name].map(([x, y]) => [x + by, y]) };
  const lines = photo.lines.map((l) => l.name !== name ? l : {
    ...l, row: at, low: l.low + by, high: l.high + by, points: l.points.map(([x, y]) => [x, y + by]),
  });
  // The level surface goes with the water's edge on the glass.
  const level = name === "water" && photo.level !== undefined ? photo.level + by : photo.level;
  return { ...photo, lines, level };
}

/** Where to begin with a line that was not seen: half-way between its neighbours. */
export function between(photo, name) {
  const i = LAYERS.indexOf(name);
  const near = (names) => names.map((n) => whereIs(photo, n)).find((v) => v !== undefined);
  const below = near(LAYERS.slice(0, i).reverse()), above = near(LAYERS.slice(i + 1));
  // Without a top of the soil, the soil's share of a usual jar.
  return name === "deposit-top" ? below + 0.25 * (whereIs(photo, "water") - below) : (below + above) / 2;
}

/**
 * The height of a row above the floor as a share of the water's depth, which ends at
 * the level surface, a little below the water's line. A camera that looks up or down
 * shortens one end of the jar.
 */
export function shareOf(photo, row) {
  const floor = whereIs(photo, "floor"), level = photo.level ?? whereIs(photo, "water"), k = photo.keystone ?? 0;
  const along = (floor - row) / (floor - level);
  return along / (1 + k - k * along);
}
