// Let the phone watch: a jar is looked at by the live camera, shaken, set down and
// photographed by itself for two days. What is planned and what was done stands in
// the store, so that it goes on after whatever came between.
import { address } from "../route.js";
import { el, say } from "../dom.js";
import { nameOf } from "../jarfile.js";
import { back, button, confirm, icon, notice } from "../parts.js";
import { shaken, stamp } from "../plan.js";
import * as store from "../store.js";
import { why } from "../why.js";
import { counted, day, elapsed, number, t } from "../words.js";
import { keepAwake } from "../watch/awake.js";
import { NoCamera, openCamera } from "../watch/camera.js";
import { darkness } from "../watch/dark.js";
import { USUAL, moments, nameAt, next, tally } from "../watch/schedule.js";
import { soFar } from "../watch/sofar.js";
import { aiming, clock, shaking } from "./watch_begin.js";

// Between photos further apart than this the camera rests; it is opened again so
// long before the next, to find its focus and light. In seconds.
const REST = 180, WARM = 8;
const BREATH = 1000; // between two tries of a photo that failed, in ms

export async function view(place, id) {
  const jar = await store.jar(id);
  if (!jar) {
    place.append(el("div", { class: "stack" }, el("h1", {}, t("jar-gone")), el("p", {}, t("jar-gone-how")), el("a", { class: "button", href: address() }, t("menu-jars"))));
    return undefined;
  }
  const page = new Watch(jar, place);
  page.begin();
  return () => page.close();
}

const sleep = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

class Watch {
  #jar; #list; #camera; #opening; #body; #messages; #closed = false; #awake; #dark; #stage;

  constructor(jar, place) {
    this.#jar = jar;
    this.#list = moments(jar.watch?.plan || USUAL);
    this.#messages = el("div", { class: "stack messages", role: "alert" });
    this.#stage = el("div", { class: "watch-stage" });
    this.#body = el("div", { class: "stack loose" });
    place.append(el("div", { class: "stack wide watch" }, back(nameOf(jar), "jar", jar.id), el("h1", {}, t("watch-title")), this.#messages, this.#body));
  }

  get jar() { return this.#jar; }
  get plan() { return this.#list; }
  get closed() { return this.#closed; }

  close() {
    this.#closed = true;
    this.#camera?.close();
    this.#awake?.release();
    this.#dark?.close();
  }

  /** Begins, or goes on where it was. */
  async begin() {
    const down = shaken(this.#jar.record);
    if (this.#jar.watch?.taken && (this.#jar.watch.over || !this.#next())) return this.#ended();
    if (this.#jar.watch?.taken && down !== undefined) return this.#watch();
    if (down !== undefined && !next(this.#list, (Date.now() - down) / 1000, [])) return this.#late();
    this.#body.replaceChildren(el("div", { class: "waiting" }, el("span", { class: "spin" }), el("p", {}, t("watch-opening"))));
    try {
      await this.open();
    } catch (e) {
      return this.#blind(e);
    }
    if (this.#closed) return undefined;
    this.#awake ||= keepAwake(() => {}); // while the jar is shaken, too
    aiming(this, this.#body, this.#stage);
    return undefined;
  }

  /** The camera, opened where it is not. */
  async open() {
    if (this.#camera?.alive) return this.#camera;
    this.#opening ||= (async () => {
      this.#camera?.close();
      this.#camera = undefined;
      const camera = await openCamera();
      if (this.#closed) { camera.close(); throw new NoCamera("other"); }
      this.#camera = camera;
      camera.video.setAttribute("aria-label", t("watch-live"));
      this.#stage.replaceChildren(camera.video);
      return camera;
    })().finally(() => { this.#opening = undefined; });
    return this.#opening;
  }

  // Why there is no camera, and what can be done instead.
  #blind(e) {
    if (this.#closed) return;
    const why = e instanceof NoCamera ? e.why : "other";
    this.#body.replaceChildren(notice("bad", el("p", { class: "strong" }, t(`watch-no-${why}`)), el("p", {}, t(`watch-no-${why}-how`))),
      el("p", {}, t("watch-single")),
      el("div", { class: "row" }, el("a", { class: "button main", href: address("jar", this.#jar.id) }, icon("pictures"), t("watch-single-go")),
        button(t("watch-again"), () => this.begin())));
    this.#body.querySelector("a").focus();
  }

  /** Goes on to shaking, or straight to the photos where the jar stands already. */
  ready() {
    if (shaken(this.#jar.record) !== undefined) return this.start();
    return shaking(this, this.#body, this.#stage);
  }

  /** The jar was set down now, or before; from here on it is watched. */
  async start() {
    try {
      const now = stamp(new Date());
      this.#jar = await store.edit(this.#jar.id, (j) => {
        j.record.shaken ||= now;
        j.watch = { plan: USUAL, ...j.watch, taken: [] };
        delete j.watch.over;
      });
    } catch (e) {
      this.#failed(e);
      return;
    }
    say(t("watch-begun"));
    await this.#watch();
  }

  #since() { return (Date.now() - shaken(this.#jar.record)) / 1000; }
  #next() { return next(this.#list, this.#since(), this.#jar.watch.taken); }

  async #watch() {
    this.#dark = darkness();
    this.#stage.querySelector("svg")?.remove(); // nothing is to be aimed at any more
    const heading = el("h2", { tabindex: -1 }, t("watch-on")), time = el("p", { class: "clock", role: "timer" }), when = el("p", { class: "soft" });
    const count = el("p", { class: "strong" }), lamp = el("p", { class: "small soft" }), missed = el("p", { class: "small soft" });
    const bar = el("progress", { max: this.#list.length, value: 0, "aria-label": t("watch-progress") });
    const talk = soFar();
    this.#awake?.release();
    this.#awake = keepAwake((held) => { lamp.textContent = t(held ? "watch-awake" : "watch-not-awake"); });
    this.#body.replaceChildren(el("section", { class: "card due" }, heading, time, when, bar, count, missed,
      el("div", { class: "actions" }, button(t("watch-dark"), () => this.#dark.on(), { kind: "main" }), button(t("watch-stop"), () => this.#stop(), { kind: "bad" })), lamp),
    el("div", { class: "watch-parts" }, this.#stage, talk.element), el("p", { class: "soft" }, t("watch-leave")));
    heading.focus({ preventScroll: true });
    const show = (n) => {
      const { all, kept, missed: lost } = tally(this.#list, this.#since(), this.#jar.watch.taken);
      const at = day(shaken(this.#jar.record) + n.at * 1000), so = t("watch-count", { n: number(kept), all: number(all) });
      time.textContent = clock(n.at - this.#since());
      when.textContent = t("watch-next", { when: at, time: elapsed(n.at) });
      count.textContent = so;
      missed.textContent = lost ? counted("watch-missed", lost) : "";
      bar.value = kept;
      this.#dark.tell(t("watch-dark-next", { when: at }), so);
    };
    talk.update(this.#jar);
    for (let n; !this.#closed && !this.#jar.watch.over && (n = this.#next());) {
      show(n);
      const wait = n.at - this.#since();
      if (wait < WARM) this.open().then(() => this.#seeing(), (e) => this.#trouble(e));
      if (wait > 0) {
        if (wait > REST && this.#camera) this.#rest();
        await sleep(Math.min(wait, 1) * 1000);
        continue;
      }
      if (await this.#take(n)) talk.update(this.#jar);
      else await sleep(BREATH);
    }
    if (!this.#closed) await this.#ended();
  }

  #rest() {
    this.#camera.close();
    this.#camera = undefined;
    this.#stage.replaceChildren();
  }

  // Takes the photo of a moment and stores it with the moment; both or neither.
  async #take({ index }) {
    try {
      const camera = await this.open();
      const { blob, at } = await camera.frame();
      if (this.#closed) return false;
      const seconds = (at - shaken(this.#jar.record)) / 1000;
      const kept = await store.keepPhoto(this.#jar.id, nameAt(seconds), blob, (j) => {
        if (!j.watch?.taken || j.watch.over || j.watch.taken.includes(index)) return false;
        j.watch.taken.push(index);
        return undefined;
      });
      // Another window may have taken it, or ended the watch.
      this.#jar = await store.jar(this.#jar.id) || { ...this.#jar, watch: { ...this.#jar.watch, over: Date.now() } };
      this.#clear();
      return kept;
    } catch (e) {
      this.#trouble(e);
      return false;
    }
  }

  #clear() { this.#messages.replaceChildren(); }

  // The camera is there again; other troubles last until a photo is stored.
  #seeing() { if (this.#messages.dataset.told?.startsWith("watch-no-")) this.#clear(); }

  // What went wrong is told once, as long as it lasts. The next moment tries again.
  #trouble(e) {
    if (this.#closed) return;
    const key = e instanceof store.Full ? "full" : e instanceof NoCamera ? `watch-no-${e.why}` : "jar-fault";
    if (this.#messages.dataset.told === key && this.#messages.childElementCount) return;
    this.#messages.dataset.told = key;
    this.#messages.replaceChildren(notice("bad", el("p", { class: "strong" }, t(key)),
      el("p", {}, key === "jar-fault" ? why(e) : t(key === "full" ? "watch-full-how" : `${key}-how`)), el("p", {}, t("watch-tries"))));
  }

  #failed(e) {
    this.#messages.replaceChildren(notice("bad", el("p", { class: "strong" }, t(e instanceof store.Full ? "full" : "jar-fault")),
      el("p", {}, e instanceof store.Full ? t("full-how") : why(e))));
  }

  async #stop() {
    const sure = await confirm(t("watch-stop-title"), [t("watch-stop-what")], [[t("watch-stop"), "bad", "stop"]]);
    if (sure !== "stop" || this.#closed) return;
    try {
      this.#jar = await store.edit(this.#jar.id, (j) => { j.watch.over = Date.now(); });
    } catch (e) {
      this.#failed(e);
    }
  }

  // The jar was set down longer ago than anything could be watched.
  #late() {
    this.#body.replaceChildren(notice("warn", el("p", { class: "strong" }, t("watch-late")), el("p", {}, t("watch-late-how"))),
      el("div", { class: "row" }, el("a", { class: "button main", href: address("jar", this.#jar.id) }, t("watch-single-go"))));
  }

  async #ended() {
    this.#camera?.close();
    this.#camera = undefined;
    this.#awake?.release();
    this.#dark?.close();
    this.#awake = this.#dark = undefined;
    const { all, kept } = tally(this.#list, Infinity, this.#jar.watch.taken), more = next(this.#list, this.#since(), this.#jar.watch.taken);
    const heading = el("h2", { tabindex: -1 }, t("watch-over"));
    this.#body.replaceChildren(el("section", { class: "card due" }, heading, el("p", {}, t("watch-count", { n: number(kept), all: number(all) })),
      el("div", { class: "actions" }, el("a", { class: "button main", href: address("jar", this.#jar.id) }, t("watch-to-jar")),
        more ? button(t("watch-go-on"), () => this.#resume()) : null)));
    heading.focus({ preventScroll: true });
    say(t("watch-over"));
  }

  async #resume() {
    try {
      this.#jar = await store.edit(this.#jar.id, (j) => { delete j.watch.over; });
    } catch (e) {
      this.#failed(e);
      return;
    }
    await this.#watch();
  }
}
