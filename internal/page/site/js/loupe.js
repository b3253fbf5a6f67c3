// The magnifier: a part of the photo, up to three times as large as on the stage,
// with the line in it.
import { el } from "./dom.js";

const TIMES = 3, LEAST_TIMES = 1.25;
const SHARPEST = 6; // CSS pixels to one of the photo: more shows nothing more
const LARGE = 2400; // longest side, in pixels, that is drawn from as it is
const SIZE = [168, 132]; // its width and height in CSS pixels

/**
 * Where the magnifier stands, [left, top]: beside the finger, over the middle of the jar or
 * above the handle, and never under the hand. x and y are the handle's, box the stage's size.
 */
export function besideHand([x, y], side, [wide, tall]) {
  const [w, h] = SIZE;
  let left = side ? x - w / 2 : x - w - 34, top = y - h - 30;
  if (top < 4 && !side) top = Math.min(y + 34, tall - h - 4);
  left = Math.min(Math.max(left, 4), wide - w - 4);
  return [left, top];
}

export class Loupe {
  #img; #size; #picture; #closed = false;

  /** img shows the photo, size pixels large; blob is its file where it is at hand. */
  constructor(img, size, blob) {
    [this.#img, this.#size] = [img, size];
    this.canvas = el("canvas", { class: "loupe", "aria-hidden": "true", hidden: true });
    const ratio = Math.min(window.devicePixelRatio || 1, 3);
    [this.canvas.width, this.canvas.height] = SIZE.map((v) => Math.round(v * ratio));
    const long = Math.max(...size);
    if (long <= LARGE || !blob) this.#picture = img;
    else this.#reduce(blob, LARGE / long);
  }

  // A large photo is decoded and reduced once, beforehand and in the background:
  // drawing a part of it at every move would hold up the finger.
  async #reduce(blob, by) {
    const [resizeWidth, resizeHeight] = this.#size.map((v) => Math.round(v * by));
    try {
      const small = await createImageBitmap(blob, { imageOrientation: "from-image", resizeWidth, resizeHeight, resizeQuality: "medium" });
      // Older Safari leaves such wishes aside; what lies on its side is of no use.
      if (Math.abs(small.width / small.height - resizeWidth / resizeHeight) > 0.02) throw new Error("not upright");
      this.#picture = small;
    } catch {
      this.#picture = this.#img;
    }
    if (this.#closed) this.close();
  }

  hide() { this.canvas.hidden = true; }

  close() {
    this.#closed = true;
    this.#picture?.close?.();
    this.#picture = undefined;
  }

  /**
   * Shows the photo round [x, y]; perPixel is CSS pixels of the stage to one of
   * the photo; points is the line; left and top place it on the stage.
   */
  show([x, y], perPixel, points, left, top) {
    const { canvas } = this;
    const context = canvas.getContext("2d");
    const times = Math.max(Math.min(TIMES, SHARPEST / perPixel), LEAST_TIMES);
    const scale = times * perPixel * canvas.width / SIZE[0]; // canvas to photo pixels
    const w = canvas.width / scale, h = canvas.height / scale;
    const x0 = x - w / 2, y0 = y - h / 2;
    context.fillStyle = "#777";
    context.fillRect(0, 0, canvas.width, canvas.height);
    context.imageSmoothingEnabled = true;
    context.imageSmoothingQuality = "high";
    const picture = this.#picture;
    if (picture) {
      // The picture at hand may be smaller than the photo it stands for.
      const own = (picture.naturalWidth || picture.width) / this.#size[0];
      context.drawImage(picture, x0 * own, y0 * own, w * own, h * own, 0, 0, canvas.width, canvas.height);
    }
    this.#line(context, points.map(([px, py]) => [(px - x0) * scale, (py - y0) * scale]));
    canvas.style.left = `${left}px`;
    canvas.style.top = `${top}px`;
    canvas.hidden = false;
  }

  // The line leaves the middle free, so that it hides nothing of what it is to
  // be laid on.
  #line(context, points) {
    const { width, height } = this.canvas;
    const unit = width / SIZE[0];
    for (const [colour, thick] of /** @type {[string, number][]} */ ([["rgba(20,14,9,.85)", 4], ["#fff6df", 2]])) {
      for (const [from, to] of [[0, 0.34], [0.66, 1]]) {
        context.save();
        context.beginPath();
        const across = Math.abs(points[0][0] - points.at(-1)[0]) > Math.abs(points[0][1] - points.at(-1)[1]);
        if (across) context.rect(from * width, 0, (to - from) * width, height);
        else context.rect(0, from * height, width, (to - from) * height);
        context.clip();
        context.beginPath();
        points.forEach(([x, y], i) => (i ? context.lineTo(x, y) : context.moveTo(x, y)));
        context.lineWidth = thick * unit;
        context.strokeStyle = colour;
        context.stroke();
        context.restore();
      }
    }
  }
}
