// A photo with the found jar on it: lines can be moved, added and taken back.
import { address, go } from "../route.js";
import { chart } from "../chart.js";
import * as desk from "../desk.js";
import { el, say } from "../dom.js";
import { strip } from "../fractions.js";
import { history } from "../history.js";
import { LAYERS, NONE, between, isSide, mayLack, placed, shareOf, state, statedOf } from "../lines.js";
import * as program from "../program.js";
import { back, button, notice, toast } from "../parts.js";
import { remedy } from "../remedy.js";
import { Stage } from "../stage.js";
import * as store from "../store.js";
import { elapsed, length, number, t } from "../words.js";

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
  #preview; #wanted; #base; #mistaken = "";
  #charts = { triangle: chart("triangle"), settling: chart("settling") };
  #part = {}; // places of the page that change

  constructor(place, jar, photos, photo) {
    [this.#jar, this.#photos, this.#photo, this.#file] = [jar, photos, photo, photo.name];
    this.#history = history(jar.id);
    const block = (name, cls = name) => (this.#part[name] = el("div", { class: cls }));
    const tool = (name, key, act, more) => (this.#part[name] = button(t(key), act, more));
    place.append(
      back(jar.record.name || t("photo-jar"), "jar", jar.id),
      this.#part.title = el("h1", { class: "unseen" }, t("photo-title")),
      block("times", "times"),
      el("div", { class: "bench wide" },
        el("div", { class: "bench-photo" },
          this.#strip.element, block("stage", "stage-place"), block("ask", "asks"),
          el("div", { class: "tools" },
            el("div", { class: "group", role: "group", "aria-label": t("photo-zoom") },
              ["photo", "jar", "soil"].map((z) => tool(`zoom-${z}`, `photo-zoom-${z}`, () => this.#zoom(z), { "aria-pressed": String(z === "jar") }))),
            el("div", { class: "group" }, tool("undo", "photo-undo", () => this.#back("undo")), tool("redo", "photo-redo", () => this.#back("redo"))))),
        el("div", { class: "bench-side" },
          block("lines", "line-list"),
          el("div", { class: "charts" }, this.#charts.triangle.figure, this.#charts.settling.figure),
          el("p", {}, el("a", { class: "button main", href: address("jar", jar.id, "result") }, t("photo-done"))))));
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
      const text = e instanceof store.Full ? t("photo-full") : t("photo-failed", { reason: e.message });
      this.#notice(text);
    } finally {
      this.#progress("");
    }
  }

  // A passing message, so that the photo stays where it is under the hand.
  #notice(text) { toast(text); }

  // take shows an answer of the program.
  async #take(answer, quick = false) {
    if (this.#closed) return;
    if (!quick) this.#strip.hold(false);
    if (answer.mistake !== undefined) return;
    this.#answer = answer;
    if (answer.refused) {
            if ((await desk.ready(this.#jar, this.#photos)).has(this.#file)) { await this.#unused(); return; }
      const { refused } = await program.told(answer);
      this.#part.ask.replaceChildren(notice("bad", el("h2", {}, t("photo-jar-refused")), el("p", { role: "alert" }, refused.text), remedy(refused, this.#jar)));
      if (!this.#stage) await this.#build(undefined);
      return;
    }
    const mine = this.#lines();
    if (!this.#stage) await this.#build(mine);
    if (this.#closed) return;
    if (!mine) { await this.#unused(); return; }
    this.#stage.show(mine);
    this.#strip.update(answer.reading);
    if (quick) return;
    this.#aside();
    await this.#draw(answer.reading);
  }

  // unused says why this photo has no part in the reading of the others.
  async #unused() {
    const why = (await desk.ready(this.#jar, this.#photos)).get(this.#file);
    const refused = why && (await program.told({ refused: why.refusal })).refused;
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
    const read = this.#answer.reading?.photos.find((p) => p.file === this.#file);
    const when = read ? elapsed(read.elapsed_s) : "";
    if (when) this.#part.title.textContent = t("photo-after", { time: when });
    this.#url = URL.createObjectURL(this.#photo.blob);
    let size = read?.size_px;
    const image = new Image();
    image.src = this.#url;
    try {
      await image.decode();
      size ||= [image.naturalWidth, image.naturalHeight];
    } catch {
      // A picture this browser does not know: the program gives its own.
      await desk.ready(this.#jar, this.#photos);
      URL.revokeObjectURL(this.#url);
      this.#url = (await program.ask("picture", { file: this.#file })).url;
      size ||= [3, 4];
    }
    if (this.#closed) return;
    const alt = when ? t("photo-alt", { time: when }) : t("photo-alt-plain");
    this.#stage = new Stage(this.#url, size, alt, {
      move: (name, at) => this.#moving(name, at), drop: (name, at) => this.#drop(name, at),
      cancel: () => this.#cancelled(), value: (name, at, line) => this.#inWords(name, at, line),
      closer: (larger) => this.#pressed(larger ? "" : this.#kind),
    }, this.#url.startsWith("blob:") ? this.#photo.blob : undefined);
    this.#part.stage.replaceChildren(this.#stage.element);
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
    for (const z of ["photo", "jar", "soil"]) this.#part[`zoom-${z}`].setAttribute("aria-pressed", String(z === kind));
  }

  // aside is everything beside the photo but the strip: other photos, what the
  // page asks for help with, and the list of lines.
  #aside() {
    const { reading } = this.#answer;
    this.#part.times.replaceChildren(el("nav", { "aria-label": t("photo-others") }, reading.photos.map((p) =>
      el("a", { href: address("jar", this.#jar.id, "photo", p.file), "aria-current": p.file === this.#file ? "page" : null }, elapsed(p.elapsed_s)))));
    this.#part.times.querySelector("[aria-current]")?.scrollIntoView({ block: "nearest", inline: "center" });
    this.#asks();
    this.#list();
    this.#buttons();
  }

  #buttons() {
    this.#part.undo.disabled = !this.#history.canUndo;
    this.#part.redo.disabled = !this.#history.canRedo;
  }

  #isLast() { return this.#answer.reading.photos.at(-1)?.file === this.#file; }
  #missing() {
    const seen = this.#lines().lines.map((l) => l.name), stated = statedOf(this.#jar.record, this.#file);
    return LAYERS.filter((n) => !seen.includes(n) && stated[n] !== NONE);
  }

  #asks() {
    const asks = this.#lines().lines.filter((l) => l.unsure && l.name !== "haze-top").map((l) =>
      el("div", { class: "ask" }, el("p", {}, t(`photo-unsure-${l.name}`)), button(t("photo-show"), () => { this.#zoom("soil"); this.#stage.focus(l.name); }, { "aria-label": `${t("photo-show")}: ${t(`photo-line-${l.name}`)}` })));
    // Layers lie in the last photo; in earlier ones the soil is still building up.
    if (this.#isLast()) {
      asks.push(...this.#missing().filter((n) => n !== "haze-top").map((n) => el("div", { class: "ask" }, el("p", {}, t(`photo-unseen-${n}`)), button(t("photo-add-it"), () => this.#add(n), { "aria-label": t("photo-add", { line: t(`photo-line-${n}`) }) }))));
    }
    this.#part.ask.replaceChildren(...asks.slice(0, 1));
  }

  // The list of lines says in words and numbers what the picture shows.
  #list() {
    const mine = this.#lines(), stated = statedOf(this.#jar.record, this.#file);
    const back = (name) => stated[name] === undefined ? null : button(t("photo-put-back"), () => this.#change(name, undefined),
      { "aria-label": t("photo-put-back-line", { line: t(`photo-line-${name}`) }) });
    const away = (name) => !mayLack(name) || stated[name] === NONE ? null : button(t("photo-not-there"), () => this.#change(name, null),
      { "aria-label": t("photo-not-there-line", { line: t(`photo-line-${name}`) }) });
    const by = (name) => stated[name] === NONE ? t("photo-by-you-none") : t("photo-by-you", { place: stated[name] });
    const row = (name, words, line) => el("li", { class: name },
      el("span", { class: `sample ${name}${line?.unsure ? " unsure" : ""}`, "aria-hidden": "true" }),
      el("span", { class: "line-name" }, t(`photo-line-${name}`)),
      el("span", { class: "line-words" }, words, el("small", {}, stated[name] === undefined ? t(line?.unsure ? "photo-found-unsure" : "photo-found") : by(name))),
      back(name), away(name));
    const lines = [...mine.lines].reverse().map((l) => row(l.name, this.#inWords(l.name, l.row, l), l));
    const gone = LAYERS.filter((n) => stated[n] === NONE).map((n) => row(n, ""));
    const soil = this.#missing().filter((n) => n !== "haze-top"); // of these the last photo asks for itself
    const missing = this.#missing().filter((n) => n === "haze-top" || !this.#isLast() || soil.length > 2);
    const sides = ["left", "right"].map((s) => stated[s] === undefined ? null : row(s, ""));
    const mode = (kind) => { this.#stage.mode(kind); this.#sidesShown = kind === "sides"; this.#list(); };
    this.#part.lines.replaceChildren(
      el("h2", {}, t("photo-lines-here")), el("p", { class: "soft" }, t("photo-how")), el("ul", {}, lines, gone, sides),
      el("div", { class: "adds" },
        missing.map((n) => button(t("photo-add", { line: t(`photo-line-${n}`) }), () => this.#add(n))),
        button(t(this.#sidesShown ? "photo-sides-done" : "photo-sides"), () => mode(this.#sidesShown ? "layers" : "sides"))));
  }
  #sidesShown = false;

  // inWords is where a line stands: a height above the floor, as the person
  // measures, with twice its standard deviation.
  #inWords(name, at, line) {
    const mine = this.#lines(), depth = this.#answer.reading.water_depth_mm;
    if (isSide(name)) return t("photo-column", { n: number(at) });
    if (name === "floor") return t("photo-zero");
    if (name === "water") return t("photo-water-edge");
    const share = shareOf(mine, at);
    const write = (v) => (depth ? length(v * depth) : t("result-percent", { n: number(100 * v, 1) }));
    const height = t(depth ? "photo-height" : "photo-height-share", { height: write(share) });
    const spread = line && line.low - line.high > 1 ? Math.abs(shareOf(mine, line.high) - shareOf(mine, line.low)) / 2 : 0;
    return spread ? `${height}, ${t("photo-give", { height: write(spread) })}` : height;
  }

  // moving asks for previews, one at a time; the newest place wins.
  #moving(name, at) {
    if (!this.#base) this.#strip.hold(true);
    this.#base ||= this.#answer;
    this.#wanted = { name, at };
    if (!this.#preview) this.#preview = this.#previews().finally(() => { this.#preview = undefined; });
  }

  async #previews() {
    while (this.#wanted && !this.#closed) {
      const { name, at } = this.#wanted;
      this.#wanted = undefined;
      const record = structuredClone(this.#jar.record);
      state(record, this.#file, placed(statedOf(record, this.#file), name, at));
      try {
        await this.#reading;
        const began = performance.now();
        // The charts are asked for at once, so that the worker need not wait.
        const asked = program.preview(record), drawn = this.#draw();
        const answer = await asked;
        this.#mistaken = answer.mistake ?? (answer.refused ? (await program.told(answer)).refused.text : "");
        this.#strip.element.classList.toggle("mistaken", Boolean(this.#mistaken));
        if (!this.#mistaken) {
          performance.measure("preview", { start: began });
          this.#take(answer, true);
          await drawn;
          performance.measure("preview-drawn", { start: began });
        }
      } catch {
        return; // the photos are not open yet: the reading after the drag tells
      }
    }
  }

  #drop(name, at) {
    this.#wanted = this.#base = undefined;
    this.#change(name, at);
  }

  async #cancelled() {
    const base = this.#base;
    this.#wanted = this.#base = undefined;
    this.#mistaken = "";
    await this.#preview;
    this.#strip.element.classList.remove("mistaken");
    if (base) await this.#take(base);
  }

  #add(name) {
    const at = between(this.#lines(), name);
    this.#zoom("soil");
    this.#change(name, at, () => this.#stage.focus(name));
  }

  // change places a line (takes it back, at undefined; says it is not there, at null) and reads anew.
  async #change(name, at, then = () => {}) {
    const before = statedOf(this.#jar.record, this.#file);
    const after = placed(before, name, at);
    this.#history.add({ file: this.#file, name, before, after });
    await this.#guard(async () => {
      await this.#keep(this.#file, after);
      this.#buttons();
      if (this.#mistaken) await this.#wrong(this.#mistaken);
      else if (at === undefined || at === null || !this.#lines().lines.some((l) => l.name === name) && !isSide(name)) await this.#read(then);
      else this.#soon();
    });
  }

  // keep states the lines of a photo, here and in the store.
  async #keep(file, lines) {
    state(this.#jar.record, file, lines);
    await store.edit(this.#jar.id, (j) => state(j.record, file, lines));
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
      if (!this.#closed && answer.reading) {
        say(t("photo-read-anew", { line: this.#strip.element.textContent }));
        then();
      }
    });
    return this.#reading.finally(() => this.#strip.element.classList.remove("busy"));
  }

  // What was stated last cannot be: it is taken back, and said why.
  async #wrong(mistake) {
    const entry = this.#history.strike();
    if (!entry) { this.#notice(mistake); return; }
    this.#mistaken = "";
    await this.#keep(entry.file, entry.before);
    this.#strip.element.classList.remove("mistaken");
    if (this.#closed) return;
    await this.#take({ reading: this.#jar.answer.reading, lines: this.#jar.answer.lines });
    this.#notice(t("photo-order"));
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
