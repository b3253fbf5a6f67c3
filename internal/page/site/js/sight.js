// The part of a photo that is in view on a stage, in CSS pixels. It knows how the
// whole of a frame fits, and how much closer the person came.

import { SIDES, columnOf, whereIs } from "./lines.js";

const LARGEST = 3; // CSS pixels to one of the photo where a frame is fitted
const CLOSEST = 8; // times that size

const keep = (v, low, high) => Math.min(Math.max(v, low), Math.max(low, high));

/** The part of a photo that has to be seen, [x0, y0, x1, y1]: the whole "photo", the "jar" or its "soil". */
export function frameOf(photo, [w, h], zoom) {
  if (!photo?.left || zoom === "photo") return [0, 0, w, h];
  const xs = SIDES.map((s) => columnOf(photo[s]));
  const floor = whereIs(photo, "floor"), water = whereIs(photo, "water");
  const wide = xs[1] - xs[0], deep = floor - water;
  if (zoom === "jar") return [xs[0] - 0.06 * wide, water - 0.08 * deep, xs[1] + 0.04 * wide, floor + 0.12 * deep];
  const tops = photo.lines.filter((l) => !["water", "haze-top"].includes(l.name)).map((l) => l.row);
  const top = Math.min(floor - 0.12 * deep, ...tops);
  return [xs[0] + 0.1 * wide, top - 0.35 * (floor - top), xs[1], floor + 0.3 * (floor - top)];
}

export class Sight {
  #size; #fit = { x: 0, y: 0, s: 1 }; #view = this.#fit; #times = 1; #room = [0, 0, 0];

  /** size is that of the photo in its pixels. */
  constructor(size) { this.#size = size; }

  /** CSS pixels to one pixel of the photo, and the corner of the photo in view. */
  get s() { return this.#view.s; }
  get x() { return this.#view.x; }
  get y() { return this.#view.y; }
  /** Says whether the person came closer than the frame. */
  get larger() { return this.#times > 1; }
  get canCome() { return this.#times < this.#most; }
  get #most() { return Math.max(Math.min(CLOSEST, 2 * LARGEST / this.#fit.s), 2); }

  /** Fits a frame [x0, y0, x1, y1] of the photo into a stage cw wide and ch high, of which aside is taken at the right. */
  fit([x0, y0, x1, y1], cw, ch, aside, whole) {
    const room = whole ? cw : cw - aside;
    this.#room = [cw, ch, aside];
    const s = Math.min(room / (x1 - x0), ch / (y1 - y0), LARGEST);
    // Up and down, the view stays within the photo where there is enough of it.
    const spare = this.#size[1] - ch / s, middle = (y0 + y1) / 2 - ch / 2 / s;
    this.#fit = { s, x: (x0 + x1) / 2 - room / 2 / s, y: spare > 0 ? keep(middle, 0, spare) : spare / 2 };
    this.#move(this.#view.x, this.#view.y);
  }

  /** Back to the frame. */
  back() {
    this.#times = 1;
    this.#view = this.#fit;
  }

  // The photo stays in view, but for the room that is taken at its side.
  #move(x, y) {
    if (!this.larger) { this.#view = this.#fit; return; }
    const [cw, ch, aside] = this.#room, s = this.#fit.s * this.#times;
    this.#view = { s, x: keep(x, Math.min(this.#fit.x, 0), this.#size[0] - (cw - aside) / s), y: keep(y, Math.min(this.#fit.y, 0), this.#size[1] - ch / s) };
  }

  /** Comes closer about a point of the stage, or goes back; a factor of 0 goes all the way. False where nothing changes. */
  scale(by, [px, py]) {
    const times = keep(this.#times * by, 1, this.#most);
    if (Math.abs(times - this.#times) < 1e-3) return false;
    const { x, y, s } = this.#view, now = this.#fit.s * times;
    this.#times = times;
    this.#move(x + px / s - px / now, y + py / s - py / now);
    return true;
  }

  /** Moves the photo by CSS pixels. */
  pan(dx, dy) { this.#move(this.x - dx / this.s, this.y - dy / this.s); }

  /** Brings a row of the photo, or a column, into view: into the middle, or only if it is not in view. False where nothing changes. */
  reveal(at, across, middle) {
    const [cw, ch] = this.#room, seen = across ? (at - this.x) * this.s : (at - this.y) * this.s;
    if (!this.larger || !middle && seen > 30 && seen < (across ? cw : ch) - 30) return false;
    if (across) this.#move(at - cw / 2 / this.s, this.y);
    else this.#move(this.x, at - ch / 2 / this.s);
    return true;
  }

  /** The point of the photo that lies at one of the stage. */
  photo([cx, cy]) { return [cx / this.s + this.x, cy / this.s + this.y]; }

  /** A point of the photo on the stage. */
  css([px, py]) { return [(px - this.x) * this.s, (py - this.y) * this.s]; }
}
