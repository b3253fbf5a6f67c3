// Whether a jar stands where a camera that watches it needs it, and where that is.

// The outline in shares of the picture's height; the width of a usual jar is this
// share of its height. Our own figures.
const TALL = 0.66, SLIM = 0.6, WIDEST = 0.8;
// From where on the jar is too small or too near an edge, and how far off the
// middle it may stand, in shares of the picture.
const SMALL = 0.22, EDGE = 0.015, OFF = 0.22;

/** The outline for a picture of w by h: {x, y, width, height} in its pixels. */
export function outline(w, h) {
  const width = Math.min(TALL * h * SLIM, WIDEST * w), height = Math.min(TALL * h, width / SLIM);
  return { x: (w - width) / 2, y: (h - height) / 2, width, height };
}

/**
 * What is to be said of where the jar stands, as the program answers "stands":
 * "good", "none", "small", "cut" or "off".
 */
export function judge({ found, left = 0, right = 0, water = 0, floor = 0 }) {
  if (!found) return "none";
  if (left < EDGE || right > 1 - EDGE || water < EDGE || floor > 1 - EDGE) return "cut";
  if (floor - water < SMALL) return "small";
  if (Math.abs((left + right) / 2 - 0.5) > OFF) return "off";
  return "good";
}
