// One jar: what is due, what is there, and reading it.
import { address, again, go } from "../route.js";
import { cureOf, oneJar } from "../cure.js";
import * as desk from "../desk.js";
import { el, say } from "../dom.js";
import { nameOf, saveFile } from "../jarfile.js";
import { back, button, fold, icon, jarDrawing, menu, notice, progress, toast } from "../parts.js";
import { LARGEST, freeName, look } from "../photos.js";
import { USUAL } from "../watch/schedule.js";
import { shaken, stamp, standing, written } from "../plan.js";
import * as program from "../program.js";
import { remedy } from "../remedy.js";
import * as store from "../store.js";
import { why } from "../why.js";
import { counted, day, elapsed, fahrenheit, length, number, t, temperature } from "../words.js";
import { clock, dueNow, sinceDown } from "./jar_due.js";
import { photoCard } from "./jar_photo.js";

export async function view(place, id) {
  const jar = await store.jar(id);
  if (!jar) {
    place.append(el("div", { class: "stack" }, el("h1", {}, t("jar-gone")), el("p", {}, t("jar-gone-how")), el("a", { class: "button", href: address() }, t("menu-jars"))));
    return undefined;
  }
  const page = new JarPage(jar, place);
  await page.draw();
  page.lookAtNew();
  return () => page.close();
}

class JarPage {
  #jar; #at; #due; #line; #messages; #summary; #timer; #closed = false; #looking = false; #reading = false; #told;

  constructor(jar, place) {
    this.#jar = jar;
    this.#due = el("section", { class: "card due", "aria-label": t("jar-next") });
    this.#line = el("ol", { class: "line" });
    this.#messages = el("div", { class: "stack messages", role: "alert" });
    this.#summary = el("div", { class: "row soft facts-line" });
    const tips = fold(t("jar-tips"), el("ul", { class: "dots" }, [1, 2, 3, 4, 5].map((n) => el("li", {}, t(`jar-tip-${n}`)))));
    const reach = (word, sign, to) => el("a", { class: "button", href: address("jar", jar.id, to) }, icon(sign), t(word));
    const late = Date.now() - shaken(jar.record) > USUAL.last * 1000; // nothing to be watched any more
    const itself = el("div", { class: "row" }, late ? null : reach("watch-title", "camera", "watch"), reach("film-title", "film", "film"));
    const main = el("div", { class: "stack drop" }, this.#messages, this.#due, itself, tips);
    const side = el("section", { class: "stack" }, el("h2", {}, t("jar-photos")), this.#line);
    place.append(el("div", { class: "stack wide" },
      back(t("menu-jars")),
      el("div", { class: "headed" },
        menu(t("home-menu", { name: nameOf(jar) }), [
          [t("save-file"), () => this.keep()],
          el("a", { class: "button", href: address("jar", jar.id, "setup") }, t("setup-change")),
          el("a", { class: "button", href: address("jar", jar.id, "hands") }, t("jar-hands")),
          el("a", { class: "button", href: address("jar", jar.id, "sheet") }, t("sheet-title")),
        ]), el("h1", {}, nameOf(jar)), this.#summary),
      el("div", { class: "sides" }, main, side)));
    this.#drops(place, main);
    this.#timer = setInterval(() => this.#tick(), 1000);
  }

  close() {
    this.#closed = true;
    clearInterval(this.#timer);
  }

  get jar() { return this.#jar; }
  /** Where it stands; see plan.js. */
  get at() { return this.#at; }
  /** The names of its photos, as they are stored. */
  get names() { return this.#at.names; }

  /** Shows the jar as it is stored. */
  async draw() {
    this.#jar = await store.jar(this.#jar.id) || this.#jar;
    this.#at = await standing(this.#jar);
    if (this.#closed) return;
    this.#sum();
    if (!this.#reading) this.#drawDue();
    this.#drawLine();
  }

  #sum() {
    const r = this.#jar.record, down = shaken(r), { water_depth_mm: depth, temp_c: temp } = this.#at.plan;
    const parts = [depth && t("jar-depth", { depth: length(depth, 0) }), temp !== undefined && temperature(temp, Number.isInteger(temp) || fahrenheit() ? 0 : 1),
      down !== undefined && t("jar-down-at", { when: day(down) })].filter(Boolean);
    this.#summary.replaceChildren(parts.length ? el("p", {}, parts.join(" · ")) : "",
      el("a", { class: "reach", href: address("jar", this.#jar.id, "setup") }, t(r["water-depth"] ? "jar-change" : "jar-add-depth")));
  }

  #drawDue() {
    this.#told = this.#state();
    this.#due.replaceChildren(...dueNow(this));
    const answer = this.#fresh() && this.#jar.answer;
    if (answer?.refused) this.#refused(answer.refused);
  }

  #fresh() { return desk.fresh(this.#jar, this.names.map((name) => ({ name }))); }

  // What the card at the top depends on besides what is stored.
  #state() {
    const { next } = this.#at, since = sinceDown(this.#jar);
    return next && since !== undefined ? `${this.#at.steps.indexOf(next)} ${since >= next.due} ${since >= next.until}` : "";
  }

  #tick() {
    if (!this.#at || this.#reading) return;
    if (this.#state() !== this.#told) {
      this.draw();
      const { next } = this.#at;
      if (next && sinceDown(this.#jar) >= next.due) say(t("jar-now-say"));
      return;
    }
    const shown = this.#due.querySelector(".clock");
    if (!shown) return;
    const left = this.#at.next.due - sinceDown(this.#jar);
    shown.textContent = clock(left);
    if (Math.ceil(left) === 60) say(t("jar-minute-say"));
  }

  #drawLine() {
    const { steps, photos, next } = this.#at, since = sinceDown(this.#jar), down = shaken(this.#jar.record);
    const items = photos.map((p) => ({ at: p.note.refused || !p.elapsed ? -1 : p.elapsed, photo: p }))
      .concat(steps.filter((s) => !s.photo).map((s) => ({ at: s.due, step: s }))).sort((a, b) => a.at - b.at);
    // A photo whose time is just being written stays as it is; what else has the
    // focus may be drawn anew: its photo keeps it.
    const focus = /** @type {HTMLElement} */ (document.activeElement);
    const photoOf = (e) => /** @type {HTMLElement} */ (e?.closest?.("[data-photo]")), held = photoOf(focus)?.dataset.photo;
    const writing = photoOf(focus?.closest?.("form"));
    this.#line.replaceChildren(...items.map(({ photo, step }) => {
      if (photo) return writing?.dataset.photo === photo.name ? writing : photoCard(this, photo, next);
      const passed = since !== undefined && since >= step.until, now = step === next && since >= step.due;
      return el("li", { class: passed ? "missed" : now ? "now" : step === next ? "next" : null }, el("span", { class: "mark", "aria-hidden": "true" }),
        el("h3", {}, t("jar-after", { time: elapsed(step.due) })),
        el("p", { class: "soft" }, passed ? t("jar-missed") : now ? t("jar-due-now") : down === undefined ? t("jar-due-after") : t("jar-due", { when: day(down + step.due * 1000) })));
    }));
    if (writing) focus.focus();
    else if (held) this.focus(held);
  }

  /** Puts the focus on a photo. */
  focus(name) { this.#line.querySelector(`[data-photo="${CSS.escape(name)}"] summary`)?.focus({ preventScroll: true }); }

  #drops(place, mark) {
    const files = (e) => e.dataTransfer?.types.includes("Files");
    place.addEventListener("dragover", (e) => { if (files(e)) { e.preventDefault(); mark.classList.add("over"); } });
    place.addEventListener("dragleave", (e) => { if (!place.contains(e.relatedTarget)) mark.classList.remove("over"); });
    place.addEventListener("drop", (e) => {
      if (!files(e)) return;
      e.preventDefault();
      mark.classList.remove("over");
      this.add([...e.dataTransfer.files]);
    });
  }

  /** Adds photos; at(file) is when one was taken, in ms, where that is known. Gives the names they have in the jar. */
  async add(files, at = (_file) => undefined, stated = undefined) {
    this.#messages.replaceChildren();
    const added = [];
    for (const file of files) {
      if (file.size > LARGEST) { this.#trouble(t("photo-too-large", { file: file.name, mb: LARGEST / 1e6 }), t("photo-too-large-how")); continue; }
      if (!file.size) { this.#trouble(t("photo-empty", { file: file.name }), t("photo-empty-how")); continue; }
      const name = freeName(file.name, await store.photoNames(this.#jar.id));
      const taken = at(file), down = shaken(this.#jar.record);
      const time = stated || (taken !== undefined && down !== undefined && taken > down ? written((taken - down) / 1000) : undefined);
      try {
        await store.addPhoto(this.#jar.id, name, file);
        if (time) await this.state(name, { elapsed: time });
        added.push(name);
      } catch (e) {
        this.#failed(e);
        break;
      }
    }
    await this.draw();
    if (added.length) {
      say(counted("jar-added", added.length));
      this.lookAtNew();
    }
    return added;
  }

  /** Looks at the photos nobody looked at yet, one after the other. */
  async lookAtNew() {
    if (this.#looking) return;
    this.#looking = true;
    const tried = new Set();
    try {
      for (;;) {
        const name = this.#at.photos.find((p) => p.note.fresh && !tried.has(p.name))?.name;
        if (name === undefined || this.#closed) return;
        tried.add(name);
        const photo = (await store.photos(this.#jar.id)).find((p) => p.name === name);
        try {
          if (photo) await look(this.#jar, photo);
        } catch (e) {
          this.#trouble(t("photo-not-looked", { file: name }), e instanceof store.Full ? t("full") : why(e));
        }
        await this.draw();
      }
    } finally {
      this.#looking = false;
    }
  }

  #trouble(text, how) {
    this.#messages.append(notice("bad", el("p", { class: "strong" }, text), how ? el("p", {}, how) : null));
  }

  #failed(e) {
    if (!(e instanceof store.Full)) return this.#trouble(t("jar-fault"), why(e));
    this.#messages.append(notice("bad", el("p", { class: "strong" }, t("full")), el("p", {}, t("full-how")),
      el("div", {}, button(t("save-file"), () => this.keep(), { sign: "save" }))));
    return undefined;
  }

  /** States something of a photo: {elapsed} or, to take it back, {elapsed: undefined}. */
  async state(name, what) {
    this.#jar = await store.edit(this.#jar.id, (j) => {
      const photos = { ...j.record.photos }, photo = { ...photos[name], ...what };
      for (const k of Object.keys(photo)) if (photo[k] === undefined) delete photo[k];
      if (Object.keys(photo).length) photos[name] = photo;
      else delete photos[name];
      if (Object.keys(photos).length) j.record.photos = photos;
      else delete j.record.photos;
    });
  }

  /** Removes a photo, with a way back. */
  async remove(name) {
    const photo = (await store.photos(this.#jar.id)).find((p) => p.name === name);
    const note = (await store.notes(this.#jar.id)).find((n) => n.name === name);
    const stated = this.#jar.record.photos?.[name];
    await this.state(name, Object.fromEntries(Object.keys(stated || {}).map((k) => [k, undefined])));
    await store.removePhoto(this.#jar.id, name);
    await desk.forget(this.#jar, name);
    await this.draw();
    toast(t("photo-removed", { file: name }), t("undo"), async () => {
      try {
        await store.addPhoto(this.#jar.id, name, photo.blob);
        if (note) await store.note(this.#jar.id, name, note);
        if (stated) await this.state(name, stated);
      } catch (e) {
        this.#failed(e);
      }
      if (this.#closed) await again();
      else await this.draw();
    });
  }

  /** Puts another picture in a photo's place; its time stays where it was stated. */
  async replace(name, file) {
    const time = this.#jar.record.photos?.[name]?.elapsed;
    const [added] = await this.add([file], undefined, time);
    if (added) await this.remove(name);
  }

  async setDown() {
    const now = stamp(new Date());
    try {
      this.#jar = await store.edit(this.#jar.id, (j) => { j.record.shaken = now; });
    } catch (e) {
      this.#failed(e);
    }
    await this.draw();
    this.#due.querySelector("h2").setAttribute("tabindex", "-1");
    this.#due.querySelector("h2").focus();
    say(t("jar-set-down-say"));
  }

  async keep() {
    toast(t("saving"));
    try {
      await saveFile(this.#jar.id);
      toast(t("saved", { name: nameOf(this.#jar) }));
    } catch (e) {
      toast(t("not-saved", { reason: why(e) }));
    }
  }

  /** Reads the jar, as how(jar, photos, tell) does. What is stored is enough to begin again if this is broken off. */
  async read(how = desk.read) {
    this.#reading = true;
    this.#messages.replaceChildren();
    const bar = progress(t("jar-reading"));
    this.#due.replaceChildren(el("div", { class: "picture" }, jarDrawing(2)), el("div", { class: "stack full" }, bar.element));
    bar.element.setAttribute("tabindex", "-1");
    bar.element.focus();
    try {
      const photos = await store.photos(this.#jar.id);
      const answer = await how(this.#jar, photos, (done, all) =>
        bar.tell(done, all + 1, done < all ? t("jar-reading-photo", { n: number(done + 1), all: number(all) }) : t("jar-reading-layers")));
      if (this.#closed) return;
      if (answer.reading) return go("jar", this.#jar.id, "result");
      if (answer.mistake !== undefined) this.#trouble(t("jar-mistake"), answer.mistake);
    } catch (e) {
      this.#failed(e);
    }
    this.#reading = false;
    await this.draw();
    this.#messages.firstElementChild?.setAttribute("tabindex", "-1");
    this.#messages.firstElementChild?.focus();
  }

  async #refused(why) {
    const { refused } = await program.told({ refused: why });
    const last = this.#at.usable.at(-1)?.name;
    const one = cureOf(refused, last)?.kind === "one" ? el("div", {}, button(t("cure-one"), () => this.read(oneJar))) : null;
    this.#messages.replaceChildren(notice("bad", el("p", { class: "strong" }, t("jar-refused")), el("p", {}, refused.text), ...remedy(refused, this.#jar, last), one));
  }
}
