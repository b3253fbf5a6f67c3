// The stage: a photo with the jar's lines on it, and a handle for each line that
// can be moved. It knows pixels and pointers, not readings: what is done to a
// line goes to the hooks.
import { el } from "./dom.js";
import { BOX, LAYERS, SIDES, boxRound, columnOf, isBox, isSide, moved, whereIs } from "./lines.js";
import { handle, stepOf, tag } from "./handle.js";
import { Loupe, besideHand } from "./loupe.js";
import { shape } from "./parts.js";
import { drawBox } from "./rectangle.js";
import { Sight, frameOf } from "./sight.js";
import { spread } from "./spread.js";
import { STEP, buttons, gestures } from "./zoom.js";

// A handle's height with the gap to the next, and the room its column takes.
const HANDLE = 50, COLUMN = 128;
// The same of a name that stands in place of a handle where nothing can be moved.
const TAG = 42, TAGS = 126;

/**
 * Stage shows photo {lines, left, right} over the image at url. hooks:
 *   move(name, at)      a line is being moved; at is a row, or a column of a side
 *   drop(name, at)      it was let go there
 *   cancel(name)        it was put back while being moved
 *   value(name, at)     its place in words, for screen readers
 *   closer(larger)      the picture is larger than its frame, or fits it again
 * Without hooks nothing can be moved: each line has its name in place of a handle.
 */
export class Stage {
  #img; #svg; #layer; #loupe; #hooks; #size; #photo; #zoom = "jar"; #mode = "layers";
  #handles = new Map(); #drag; #keys; #watch;
  #sight; #box; #buttons; #last; // box: width and height, read once: reading them while drawing costs a layout

  /** blob is the photo's file, for the magnifier; it may be missing. */
  constructor(url, size, alt, hooks, blob) {
    this.#size = size;
    this.#sight = new Sight(size);
    this.#hooks = hooks;
    this.#img = el("img", { src: url, alt, draggable: "false" });
    this.#svg = shape("svg", { "aria-hidden": "true" });
    this.#layer = el("div", { class: "handles" });
    this.#loupe = new Loupe(this.#img, size, hooks && blob);
    this.element = el("div", { class: hooks ? "stage" : "stage still" }, this.#img, this.#svg, this.#layer, this.#loupe.canvas);
    if (hooks) {
      this.#buttons = buttons((by) => this.#come(by));
      this.element.append(this.#buttons.element);
      gestures(this.element, { scale: (by, at) => this.#scale(by, at), pan: (dx, dy) => this.#pan(dx, dy),
        larger: () => this.#sight.larger, held: () => Boolean(this.#drag) || this.#mode === "box" });
      drawBox(this.element, () => this.#mode === "box", ([x0, y0, x1, y1]) => this.#boxed([...this.#sight.photo([x0, y0]), ...this.#sight.photo([x1, y1])]));
    }
    this.#watch = new ResizeObserver(() => this.#lay());
    this.#watch.observe(this.element);
  }

  close() {
    this.#watch.disconnect();
    this.#loupe.close();
  }

  /** Shows another state of the lines. A line in the hand stays where it is held. */
  show(photo) {
    const first = !this.#photo?.left;
    this.#photo = { box: this.#photo?.box, ...photo };
    const held = this.#drag || this.#keys;
    if (held) this.#photo = moved(photo, held.name, held.at);
    if (first) this.#lay();
    else this.#draw();
  }

  /** "photo", "jar" or "soil". */
  zoom(kind) {
    this.#zoom = kind;
    this.#sight.back();
    this.#lay();
  }

  /** Which lines have handles: "layers", "sides", "all" of both, or the edges of a "box". */
  mode(kind) {
    this.#settle();
    this.#mode = kind;
    this.element.classList.toggle("boxing", kind === "box");
    if (kind === "box") this.#photo = { lines: [], ...this.#photo, box: this.#photo?.box || boxRound(this.#photo, this.#size) };
    this.#draw();
  }

  /** The box as it is drawn, [x0, y0, x1, y1]. */
  get box() { return this.#photo?.box; }
  set box(corners) { this.#photo = { lines: [], ...this.#photo, box: corners }; }

  #boxed(corners) {
    this.box = corners.map((v, i) => Math.min(Math.max(v, 0), this.#size[i % 2]));
    this.#draw();
  }

  /** Puts the focus on the handle of a line. */
  focus(name) { this.#handles.get(name)?.focus(); }

  #lay() {
    const { clientWidth: cw, clientHeight: ch } = this.element;
    if (!cw || !ch) return;
    this.#box = [cw, ch];
    this.#sight.fit(frameOf(this.#photo, this.#size, this.#zoom), cw, ch, this.#column, this.#zoom === "photo" || !this.#photo?.left);
    this.#svg.setAttribute("viewBox", `0 0 ${cw} ${ch}`);
    this.#place();
  }

  #place() {
    const { x, y, s, larger, canCome } = this.#sight;
    Object.assign(this.#img.style, { width: `${this.#size[0] * s}px`, height: `${this.#size[1] * s}px`, left: `${-x * s}px`, top: `${-y * s}px` });
    this.element.classList.toggle("larger", larger);
    this.#buttons?.tell(canCome, larger);
    this.#draw();
  }

  #scale(by, at) {
    const was = this.#sight.larger;
    if (!this.#sight.scale(by, at)) return false;
    this.#place();
    if (was !== this.#sight.larger) this.#hooks.closer(!was);
    return true;
  }

  #pan(dx, dy) {
    this.#sight.pan(dx, dy);
    this.#place();
  }

  // By button or key: about the line the person is at, else about the middle.
  #come(by) {
    this.#scale(by, [(this.#box[0] - this.#column) / 2, this.#box[1] / 2]);
    if (this.#last) this.#reveal(this.#last, true);
  }

  #reveal(name, middle) {
    const at = whereIs(this.#photo, name);
    if (at !== undefined && this.#sight.reveal(at, isSide(name), middle)) this.#place();
  }

  get #column() { return this.#hooks ? COLUMN : TAGS; }

  #css(point) { return this.#sight.css(point); }
  #path(points) { return points.map((p, i) => `${i ? "L" : "M"}${this.#css(p).map((v) => v.toFixed(1)).join(" ")}`).join(""); }

  #draw() {
    const p = this.#photo;
    if (!p || !this.#box) return;
    this.#svg.replaceChildren();
    const held = this.#drag || this.#keys;
    if (this.#mode === "box") this.#drawBox(p.box);
    const box = this.#mode === "box" ? " quiet" : "";
    for (const side of p.left ? SIDES : []) this.#stroke(side, p[side], this.#movable(side) ? "side" : "side quiet", held?.name === side);
    for (const name of LAYERS) {
      const l = p.lines.find((one) => one.name === name);
      if (!l) continue;
      const shift = (row) => l.points.map(([x, y]) => [x, y + row - l.row]);
      if (l.low - l.high > 1) this.#svg.append(shape("path", { class: "band", d: this.#path([...shift(l.low), ...shift(l.high).reverse()]) + "Z" }));
      // A line in the hand goes right round the jar: its near side is the one that counts.
      if (held?.name === name && l.back) this.#svg.append(shape("path", { class: "mark-line far", d: this.#path(l.back) }));
      this.#stroke(name, l.points, `${name}${l.unsure ? " unsure" : ""}${box}`, held?.name === name);
    }
    this.#drawHandles();
    if (held && !isBox(held.name)) this.#magnify(held);
  }

  // What has handles in the present mode.
  #movable(name) {
    if (this.#mode === "all") return !isBox(name);
    return { layers: LAYERS, sides: SIDES, box: BOX }[this.#mode].includes(name);
  }

  #drawBox([x0, y0, x1, y1]) {
    const d = `${this.#path([[x0, y0], [x1, y0], [x1, y1], [x0, y1]])}Z`;
    this.#svg.append(shape("path", { class: "halo", d }), shape("path", { class: "mark-line box", d }));
  }

  #stroke(name, points, kind, held) {
    const d = this.#path(points);
    this.#svg.append(shape("path", { class: "halo", d }), shape("path", { class: `mark-line ${kind}${held ? " held" : ""}`, d }));
    if (!this.#hooks || !this.#movable(name)) return;
    // With a mouse the line itself can be taken; a finger scrolls the page there.
    const grip = shape("path", { class: `grip${isSide(name) ? " across" : ""}`, d });
    grip.addEventListener("pointerdown", (e) => { if (e.pointerType === "mouse") this.#take(e, name); });
    this.#svg.append(grip);
  }

  // Handles stand in a column beside the jar, each as near to its line as the
  // others allow, with a lead to the line.
  #drawHandles() {
    const p = this.#photo;
    const [cw, ch] = this.#box;
    const names = this.#hooks ? [...p.lines.map((l) => l.name), ...SIDES, ...BOX].filter((n) => this.#movable(n) && whereIs(p, n) !== undefined) : p.lines.map((l) => l.name);
    for (const [name, h] of this.#handles) {
      if (!names.includes(name)) { h.remove(); this.#handles.delete(name); }
    }
    const within = (v, most) => Math.min(Math.max(v, 24), most - 24);
    const middle = p.box && this.#css([(p.box[0] + p.box[2]) / 2, (p.box[1] + p.box[3]) / 2]);
    for (const name of names.filter((n) => isSide(n) || isBox(n))) {
      const [x, y] = this.#css([whereIs(p, name), whereIs(p, name)]);
      if (!isSide(name)) this.#put(name, within(middle[0], cw), within(y, ch));
      else this.#put(name, within(x, cw), isBox(name) ? within(middle[1], ch) : ch / 2);
    }
    const beside = names.filter((n) => LAYERS.includes(n));
    if (!beside.length) return;
    const right = Math.max(...SIDES.map((s) => this.#css([columnOf(p[s]), 0])[0]));
    const left = Math.min(Math.max(right + 14, this.#column), cw - this.#column + 8);
    const wanted = beside.map((name) => ({ name, y: this.#css([0, whereIs(p, name)])[1] })).sort((a, b) => b.y - a.y);
    spread(wanted, this.#hooks ? HANDLE : TAG, 26, ch - 26, this.#drag?.name);
    for (const { name, y, at } of wanted) {
      const l = p.lines.find((one) => one.name === name);
      // Where the line's end is out of sight, from where it comes to the handles.
      const ends = l.points.map((point) => this.#css(point));
      const [ex, ey] = ends.findLast(([px]) => px <= left) || ends.at(-1);
      const lead = `M${ex.toFixed(1)} ${ey.toFixed(1)}L${(left + 2).toFixed(1)} ${at.toFixed(1)}`;
      if (y > -20 && y < ch + 20) this.#svg.append(shape("path", { class: "halo lead", d: lead }), shape("path", { class: "lead", d: lead }));
      this.#put(name, left, at, l);
    }
  }

  #put(name, x, y, line) {
    let h = this.#handles.get(name);
    if (!h) {
      h = this.#handle(name);
      this.#handles.set(name, h);
      this.#layer.append(h);
    }
    h.style.left = `${x}px`;
    h.style.top = `${y}px`;
    const at = whereIs(this.#photo, name);
    h.classList.toggle("unsure", Boolean(line?.unsure));
    h.classList.toggle("stated", Boolean(line?.stated));
    const seen = this.#css([0, at])[1];
    h.classList.toggle("away", !isSide(name) && (seen < 0 || seen > this.#box[1]));
    if (!this.#hooks) return;
    h.setAttribute("aria-valuenow", line?.percent ?? Math.round(at));
    h.setAttribute("aria-valuetext", this.#hooks.value(name, at, line));
  }

  #handle(name) {
    if (!this.#hooks) return tag(name);
    return handle(name, this.#size, { take: (e) => this.#take(e, name), key: (e) => this.#key(e, name),
      focus: () => { this.#last = name; this.#reveal(name); }, blur: () => this.#settle() });
  }

  // A line taken with a pointer.
  #take(e, name) {
    if (e.button > 0 || this.#drag) return;
    this.#settle();
    e.preventDefault();
    const h = this.#handles.get(name);
    h.focus({ preventScroll: true });
    const from = whereIs(this.#photo, name);
    this.#drag = { name, from, at: from, x: e.clientX, y: e.clientY, id: e.pointerId, photo: this.#photo };
    // The handle is there for the whole of the drag; the line is drawn anew.
    h.setPointerCapture(e.pointerId);
    const on = new AbortController();
    this.#drag.end = () => on.abort();
    h.addEventListener("pointermove", (m) => this.#moved(m), { signal: on.signal });
    h.addEventListener("pointerup", (m) => { if (m.pointerId === this.#drag?.id) this.#let(true); }, { signal: on.signal });
    h.addEventListener("pointercancel", (m) => { if (m.pointerId === this.#drag?.id) this.#let(false); }, { signal: on.signal });
    this.element.classList.add("dragging");
    this.#draw();
  }

  #moved(e) {
    const d = this.#drag;
    if (!d || e.pointerId !== d.id) return;
    const by = isSide(d.name) ? e.clientX - d.x : e.clientY - d.y;
    this.#to(d, d.from + by / this.#sight.s);
  }

  #to(held, at) {
    const most = this.#size[isSide(held.name) ? 0 : 1];
    held.at = Math.round(10 * Math.min(Math.max(at, 0), most)) / 10;
    this.#photo = moved(this.#photo, held.name, held.at);
    this.#draw();
    this.#hooks.move(held.name, held.at);
  }

  #let(keep) {
    const d = this.#drag;
    this.#drag = undefined;
    d.end();
    this.element.classList.remove("dragging");
    this.#loupe.hide();
    this.#finish(d, keep);
  }

  #finish(held, keep) {
    if (keep && Math.abs(held.at - held.from) >= 0.1) {
      this.#hooks.drop(held.name, held.at);
      return;
    }
    this.#photo = held.photo;
    this.#draw();
    this.#hooks.cancel(held.name);
  }

  // A line moved by keys; it is let go by Enter, by leaving it, or after a while.
  #key(e, name) {
    if (e.key === "Escape") {
      e.preventDefault();
      if (this.#drag) this.#let(false);
      else if (this.#keys) { const k = this.#keys; this.#rest(); this.#finish(k, false); }
      return;
    }
    if (e.key === "Enter" || e.key === " ") { e.preventDefault(); this.#settle(); return; }
    if (e.ctrlKey || e.altKey || e.metaKey || this.#drag) return;
    const come = { "+": STEP, "=": STEP, "-": 1 / STEP, 0: 0 }[e.key];
    if (come !== undefined) { e.preventDefault(); this.#come(come); return; }
    const by = stepOf(e, isSide(name));
    if (by === undefined) return;
    e.preventDefault();
    if (this.#keys && this.#keys.name !== name) this.#settle();
    const from = whereIs(this.#photo, name);
    this.#keys ||= { name, from, at: from, photo: this.#photo };
    clearTimeout(this.#keys.timer);
    this.#keys.timer = setTimeout(() => this.#settle(), 1500);
    this.#to(this.#keys, this.#keys.at + by);
    this.#reveal(name);
  }

  #rest() {
    clearTimeout(this.#keys?.timer);
    this.#keys = undefined;
    this.#loupe.hide();
  }

  #settle() {
    const k = this.#keys;
    if (!k) return;
    this.#rest();
    this.#finish(k, true);
  }

  #magnify({ name, at }) {
    const p = this.#photo;
    const points = isSide(name) ? p[name] : p.lines.find((l) => l.name === name).points;
    const middle = points[Math.floor(points.length / 2)];
    const focus = isSide(name) ? [at, (whereIs(p, "floor") + whereIs(p, "water")) / 2] : middle;
    const { left, top } = this.#handles.get(name).style;
    this.#loupe.show(focus, this.#sight.s, points, ...besideHand([parseFloat(left), parseFloat(top)], isSide(name), this.#box));
  }
}
