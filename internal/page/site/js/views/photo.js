// A photo with the found jar on it: lines can be moved, added and taken back, and where
// the program found no jar, or no soil, a person can show it.
import { address, go } from "../route.js";
import { chart } from "../chart.js";
import { cureOf, oneJar } from "../cure.js";
import * as desk from "../desk.js";
import { el, say } from "../dom.js";
import { strip } from "../fractions.js";
import { history } from "../history.js";
import { LAYERS, NONE, SIDES, between, isBox, isSide, mark, marksOf, placed, statedOf, whereIs, written } from "../lines.js";
import * as program from "../program.js";
import { button, notice, toast } from "../parts.js";
import { remedy } from "../remedy.js";
import { Stage } from "../stage.js";
import * as store from "../store.js";
import { why } from "../why.js";
import { elapsed, number, t } from "../words.js";
import { boxNotice, cureNotice } from "./photo_cure.js";
import { ZOOMS, layout } from "./photo_layout.js";
import { ask, lineList, whereInWords } from "./photo_list.js";
import { pictureOf } from "./photo_picture.js";
import { Previews } from "./photo_preview.js";

const QUIET = 350; // ms without a change before a jar is read anew

export async function view(place, id, file) {
  const jar = await store.jar(id);
  const photos = jar ? await store.photos(id) : [];
  const photo = photos.find((p) => p.name === file);
  if (!photo) { go(...(jar ? ["jar", id] : [])); return undefined; }
  const editor = new Editor(place, jar, photos, photo);
  editor.start();
  return () => editor.close();
}

class Editor {
  #jar; #photos; #photo; #file; #answer; #stage; #strip = strip(); #url;
  #history; #timer; #watch; #reading = Promise.resolve(); #closed = false;
  #previews;
  #mode = "layers"; // which lines have handles: see Stage.mode
  #charts = { triangle: chart("triangle"), settling: chart("settling") };
  #part; // places of the page that change

  constructor(place, jar, photos, photo) {
    [this.#jar, this.#photos, this.#photo, this.#file] = [jar, photos, photo, photo.name];
    this.#history = history(jar.id);
    this.#part = layout(place, jar, { strip: this.#strip.element, charts: Object.values(this.#charts).map((c) => c.figure),
      zoom: (kind) => this.#zoom(kind), back: (way) => this.#back(way) });
    this.#previews = new Previews({ jar, photos, file: this.#file, strip: this.#strip, answer: () => this.#answer, closed: () => this.#closed,
      settled: () => this.#reading, draw: () => this.#draw(), read: (answer) => this.#take(answer, true), sketched: (answer) => this.#sketched(answer) });
    document.addEventListener("keydown", this.#onkey);
    // With very large text it would stay in front of the photo.
    const strip = this.#strip.element;
    this.#watch = new ResizeObserver(() => strip.classList.toggle("tall", strip.offsetHeight > 0.35 * window.innerHeight));
    this.#watch.observe(strip);
  }

  async start() {
    if (this.#jar.answer?.lines && desk.fresh(this.#jar, this.#photos)) await this.#take(this.#jar.answer);
    else this.#progress(t("photo-reading"));
    await this.#guard(async () => {
      const answer = await desk.settled(this.#jar, this.#photos, (done, all) => {
        if (done < all) this.#progress(t("photo-opening", { n: number(done + 1), all: number(all) }));
        else this.#progress(t("photo-reading"));
      });
      if (answer.mistake !== undefined) this.#part.ask.replaceChildren(notice("bad", el("h2", {}, t("jar-mistake")), el("p", { role: "alert" }, answer.mistake)));
      await this.#take(answer);
    });
  }

  close() {
    this.#closed = true;
    document.removeEventListener("keydown", this.#onkey);
    this.#watch.disconnect();
    this.#stage?.close();
    if (this.#url?.startsWith("blob:")) URL.revokeObjectURL(this.#url);
    // What was changed last is read while the person goes on.
    if (this.#timer) { clearTimeout(this.#timer); this.#read(); }
  }

  #progress(text) {
    if (this.#closed) return;
    this.#strip.element.classList.toggle("busy", Boolean(text));
    this.#part.ask.querySelector(".waiting")?.remove();
    if (text && !this.#stage) this.#part.ask.append(el("div", { class: "waiting", role: "status" }, el("span", { class: "spin" }), text));
  }

  // guard shows what went wrong in a task, in the place where it was asked for.
  async #guard(task) {
    try {
      await task();
    } catch (e) {
      if (this.#closed) return;
      toast(e instanceof store.Full ? t("photo-full") : t("photo-failed", { reason: why(e) }));
    } finally {
      this.#progress("");
    }
  }

  // take shows an answer of the program.
  async #take(answer, quick = false) {
    if (this.#closed || answer.mistake !== undefined) return;
    if (!quick) this.#strip.hold(false);
    const out = answer.reading?.left_out?.find((l) => l.file === this.#file);
    if (answer.refused) { await this.#refused(answer.refused); return; }
    if (out && cureOf(out, this.#file)) { await this.#refused(out, "photo-unused"); return; }
    const cured = this.#answer?.refused;
    this.#answer = answer;
    const mine = this.#lines();
    if (!this.#stage) await this.#build(mine);
    if (this.#closed) return;
    this.#still(false);
    if (!mine) { await this.#unused(out); return; }
    if (cured) { this.#setMode("layers"); this.#zoom("jar"); }
    this.#stage.show(mine);
    this.#strip.update(answer.reading);
    if (quick) return;
    this.#aside();
    await this.#draw(answer.reading);
  }

  // refused shows why there is no reading, or none of this photo, and the photo with what
  // can be placed by hand.
  async #refused(why, title = "photo-jar-refused") {
    const bad = await desk.ready(this.#jar, this.#photos);
    const { lines = [] } = await desk.sketch(this.#jar, this.#photos);
    if (this.#closed) return;
    const first = !this.#answer?.refused;
    this.#answer = { refused: bad.get(this.#file)?.refusal || why, title, lines };
    const mine = this.#lines();
    if (!this.#stage) await this.#build(mine);
    if (this.#closed) return;
    this.#still(true);
    if (mine) this.#stage.show(mine);
    if (first && mine?.guessed) { this.#setMode("all"); this.#zoom("photo"); }
    await this.#why();
    this.#aside();
  }

  // What belongs to a reading has no place where there is none.
  #still(refused) {
    for (const part of [this.#strip.element, this.#part.charts, this.#part.done]) part.hidden = refused;
  }

  async #why() {
    const { refused } = await program.told({ refused: this.#answer.refused });
    if (this.#closed || this.#mode === "box") return;
    this.#part.ask.replaceChildren(cureNotice({ title: this.#answer.title, refused, cure: cureOf(refused, this.#file), jar: this.#jar, file: this.#file, lines: this.#lines(),
      topPlaced: Boolean(statedOf(this.#jar.record, this.#file)["deposit-top"]),
      does: { stands: () => this.#stands(), drawBox: () => this.#drawBox(), addTop: () => this.#add("deposit-top"), oneJar: () => this.#oneJar() } }));
  }

  // unused says why this photo has no part in the reading of the others.
  async #unused(out) {
    const why = (await desk.ready(this.#jar, this.#photos)).get(this.#file)?.refusal || out;
    const refused = why && (await program.told({ refused: why })).refused;
    this.#part.ask.replaceChildren(notice("bad", el("h2", {}, t("photo-unused")),
      el("p", {}, refused ? refused.text : t("photo-unused-why")), refused ? remedy(refused, this.#jar) : null));
  }

  #lines() { return this.#answer?.lines?.find((p) => p.file === this.#file); }

  // draw draws the charts: of a reading, or while a line is dragged those that
  // are on the screen, of what the program previewed last.
  #draw(reading) {
    const charts = Object.values(this.#charts);
    const list = reading ? charts : charts.filter((c) => c.seen());
    return Promise.all(list.map((c) => c.update(reading ? { reading } : {}))).catch(() => {});
  }

  async #build(mine) {
    const after = this.#answer.reading?.photos.find((p) => p.file === this.#file)?.elapsed_s ?? mine?.elapsed_s;
    const when = after ? elapsed(after) : "";
    if (when) this.#part.title.textContent = t("photo-after", { time: when });
    const { url, size } = await pictureOf(this.#jar, this.#photos, this.#photo);
    this.#url = url;
    if (this.#closed) return;
    const alt = when ? t("photo-alt", { time: when }) : t("photo-alt-plain");
    this.#stage = new Stage(this.#url, size, alt, {
      move: (name, at) => this.#previews.moving(name, at), drop: (name, at) => this.#drop(name, at),
      cancel: () => this.#cancelled(), value: (name, at, line) => this.#inWords(name, at, line),
      closer: (larger) => this.#pressed(larger ? "" : this.#kind),
    }, this.#url.startsWith("blob:") ? this.#photo.blob : undefined);
    this.#part.stage.replaceChildren(this.#stage.element);
    this.#stage.mode(this.#mode);
    if (!mine) this.#zoom("photo");
  }

  #kind = "jar";
  #zoom(kind) {
    this.#kind = kind;
    this.#pressed(kind);
    this.#stage?.zoom(kind);
  }

  // None of them is pressed where the person came closer than any.
  #pressed(kind) {
    for (const z of ZOOMS) this.#part[`zoom-${z}`].setAttribute("aria-pressed", String(z === kind));
  }

  #setMode(mode) {
    this.#mode = mode;
    this.#stage?.mode(mode);
  }

  // aside is everything beside the photo but the strip: other photos, what the
  // page asks for help with, and the list of lines.
  #aside() {
    const others = this.#answer.reading?.photos || this.#answer.lines.filter((p) => p.elapsed_s);
    this.#part.times.replaceChildren(el("nav", { "aria-label": t("photo-others") }, others.map((p) =>
      el("a", { href: address("jar", this.#jar.id, "photo", p.file), "aria-current": p.file === this.#file ? "page" : null }, elapsed(p.elapsed_s)))));
    this.#part.times.querySelector("[aria-current]")?.scrollIntoView({ block: "nearest", inline: "center" });
    if (this.#answer.reading && this.#mode !== "box") this.#asks();
    this.#list();
    this.#buttons();
  }

  #buttons() {
    this.#part.undo.disabled = !this.#history.canUndo;
    this.#part.redo.disabled = !this.#history.canRedo;
  }

  #isLast() { return (this.#answer.reading?.photos || this.#answer.lines).at(-1)?.file === this.#file; }
  #missing() {
    const seen = this.#lines().lines.map((l) => l.name), stated = statedOf(this.#jar.record, this.#file);
    return LAYERS.filter((n) => !seen.includes(n) && stated[n] !== NONE);
  }

  #asks() {
    const line = (n) => t(`photo-line-${n}`);
    const asks = this.#lines().lines.filter((l) => l.unsure && l.name !== "haze-top").map((l) =>
      ask(t(`photo-unsure-${l.name}`), t("photo-show"), () => { this.#zoom("soil"); this.#stage.focus(l.name); }, `${t("photo-show")}: ${line(l.name)}`));
    // Layers lie in the last photo; in earlier ones the soil is still building up.
    const unseen = this.#isLast() ? this.#missing().filter((n) => n !== "haze-top") : [];
    asks.push(...unseen.map((n) => ask(t(`photo-unseen-${n}`), t("photo-add-it"), () => this.#add(n), t("photo-add", { line: line(n) }))));
    this.#part.ask.replaceChildren(...asks.slice(0, 1));
  }

  #list() {
    const mine = this.#lines();
    this.#part.lines.hidden = this.#part.reach.hidden = !mine;
    if (!mine) return;
    const soil = this.#missing().filter((n) => n !== "haze-top"); // of these the last photo asks for itself
    const missing = this.#missing().filter((n) => n === "haze-top" || this.#answer.refused || !this.#isLast() || soil.length > 2);
    const sides = this.#mode === "sides";
    const tools = this.#mode === "all" ? [] : [button(t(sides ? "photo-sides-done" : "photo-sides"), () => { this.#setMode(sides ? "layers" : "sides"); this.#list(); })];
    tools.push(button(t("cure-box"), () => this.#drawBox()));
    this.#part.reach.replaceChildren(...tools);
    this.#part.lines.replaceChildren(...lineList({ record: this.#jar.record, file: this.#file, lines: mine.lines, guessed: mine.guessed, missing,
      inWords: (l) => this.#inWords(l.name, l.row, l), change: (name, at) => this.#change(name, at), add: (name) => this.#add(name) }));
  }

  // sketched shows where a line is dragged to while there is no reading.
  #sketched(answer) {
    this.#answer = answer;
    this.#stage.show(this.#lines());
  }

  #inWords(name, at, line) { return whereInWords(this.#answer.reading, this.#file, name, at, line); }

  #drop(name, at) {
    if (isBox(name)) return; // it counts once the jar is to be looked for in it
    this.#previews.dropped();
    this.#change(name, at);
  }

  async #cancelled() {
    const base = await this.#previews.cancelled();
    if (base) await this.#take(base);
  }

  #add(name) {
    const at = between(this.#lines(), name);
    if (this.#answer.reading) this.#zoom("soil");
    else if (this.#mode === "sides") this.#setMode("layers");
    this.#change(name, at, () => this.#stage.focus(name));
  }

  // stands says that the jar stands as it is drawn: its floor, its water and both its sides.
  #stands() {
    const mine = this.#lines(), lines = { ...statedOf(this.#jar.record, this.#file) };
    for (const name of ["floor", "water", ...SIDES]) lines[name] = written(whereIs(mine, name));
    this.#marked("floor", { lines });
  }

  #drawBox() {
    const before = this.#mode, { box } = marksOf(this.#jar.record, this.#file);
    if (box) this.#stage.box = box.map(Number);
    this.#zoom("photo");
    this.#setMode("box");
    const leave = () => {
      this.#setMode(before === "box" ? "layers" : before);
      this.#part.ask.replaceChildren();
      if (this.#answer.refused) this.#why();
      else this.#asks();
    };
    const take = (corners) => { leave(); this.#marked("box", { box: corners }); };
    this.#part.ask.replaceChildren(boxNotice(Boolean(box), { leave, without: () => take(undefined), look: () => take(this.#stage.box.map((v) => String(Math.round(v)))) }));
    this.#stage.focus("box-left");
  }

  #oneJar() {
    return this.#guard(async () => {
      this.#part.ask.replaceChildren(el("div", { class: "waiting", role: "status" }, el("span", { class: "spin" }), t("photo-reading")));
      await this.#take(await oneJar(this.#jar, this.#photos, () => {}));
      this.#buttons();
    });
  }

  // marked states lines or a box in one step, and reads anew.
  async #marked(name, what) {
    const before = marksOf(this.#jar.record, this.#file), after = { ...before, ...what };
    this.#history.add({ file: this.#file, name, before, after });
    await this.#guard(async () => {
      await this.#keep(this.#file, after);
      this.#buttons();
      await this.#read();
    });
  }

  // change places a line (takes it back, at undefined; says it is not there, at null) and reads anew.
  async #change(name, at, then = () => {}) {
    const before = marksOf(this.#jar.record, this.#file);
    const after = { ...before, lines: placed(before.lines, name, at) };
    this.#history.add({ file: this.#file, name, before, after });
    await this.#guard(async () => {
      await this.#keep(this.#file, after);
      this.#buttons();
      if (this.#previews.mistaken) await this.#wrong(this.#previews.mistaken);
      else if (at === undefined || at === null || !this.#lines()?.lines.some((l) => l.name === name) && !isSide(name)) await this.#read(then);
      else this.#soon();
    });
  }

  // keep states where things are in a photo, here and in the store.
  async #keep(file, marks) {
    mark(this.#jar.record, file, marks);
    await store.edit(this.#jar.id, (j) => mark(j.record, file, marks));
  }

  #soon() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#guard(() => this.#read()), QUIET);
  }

  #read(then = () => {}) {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#strip.element.classList.add("busy");
    this.#reading = this.#reading.catch(() => {}).then(async () => {
      const answer = await desk.read(this.#jar, this.#photos, () => {});
      this.#strip.element.classList.remove("mistaken");
      if (answer.mistake !== undefined) return this.#wrong(answer.mistake);
      await this.#take(answer);
      if (this.#closed) return;
      if (answer.reading) say(t("photo-read-anew", { line: this.#strip.element.textContent }));
      then();
    });
    return this.#reading.finally(() => this.#strip.element.classList.remove("busy"));
  }

  // What was stated last cannot be: it is taken back, and said why.
  async #wrong(mistake) {
    const entry = this.#history.strike();
    if (!entry) { toast(mistake); return; }
    this.#previews.right();
    await this.#keep(entry.file, entry.before);
    if (this.#closed) return;
    if (this.#jar.answer) await this.#take(this.#jar.answer);
    toast(t("photo-order"));
  }

  async #back(way) {
    const entry = this.#history[way]();
    if (!entry) return;
    await this.#guard(async () => {
      await this.#keep(entry.file, way === "undo" ? entry.before : entry.after);
      this.#buttons();
      say(t(way === "undo" ? "photo-undone" : "photo-redone", { line: t(`photo-line-${entry.name}`) }));
      if (entry.file !== this.#file) go("jar", this.#jar.id, "photo", entry.file);
      else await this.#read();
    });
  }

  #onkey = (e) => {
    if (!(e.ctrlKey || e.metaKey) || e.altKey || e.target.closest?.("input, textarea")) return;
    const key = e.key.toLowerCase();
    const way = key === "z" ? (e.shiftKey ? "redo" : "undo") : key === "y" ? "redo" : "";
    if (!way) return;
    e.preventDefault();
    this.#back(way);
  };
}
