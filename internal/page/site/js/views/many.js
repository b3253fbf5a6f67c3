// Photos of many jars at once: chosen, sorted into jars, put right, and kept.
import { address, go } from "../route.js";
import { el, say } from "../dom.js";
import { chosen, mistaken, moment, prepared, preparedFold, quantity } from "../fields.js";
import { nameOf } from "../jarfile.js";
import { back, button, fold, icon, notice, progress, select, thumb, toast } from "../parts.js";
import { LARGEST, freeName, seen } from "../photos.js";
import * as program from "../program.js";
import { capital } from "../remedy.js";
import * as store from "../store.js";
import { why } from "../why.js";
import { counted, day, number, t } from "../words.js";

export function view(place) {
  const many = new Many(place);
  many.choose();
  return () => many.close();
}

const PHOTO = /\.(jpe?g|png|webp|tiff?|hei[cf])$/i;

// A photo on its way is {path, blob, note}, a jar {name, why, photos, here?}: here is the jar
// in the browser that its photos go to. Photos in no jar stay outside.
class Many {
  #box; #jars = []; #out = []; #bad = []; #notes = []; #here = []; #closed = false;

  constructor(place) {
    this.#box = el("div", { class: "stack many" });
    place.append(this.#box);
    this.#drops(place);
  }

  close() { this.#closed = true; }

  choose(message) {
    const pick = (words, sign, more) => el("label", { class: more.webkitdirectory ? "pick" : "pick main" }, icon(sign), words,
      el("input", { type: "file", multiple: true, onchange: (e) => this.#take([...e.target.files].map((f) => ({ path: inFolder(f.webkitRelativePath) || f.name, blob: f }))), ...more }));
    const folders = "webkitdirectory" in HTMLInputElement.prototype && matchMedia("(pointer: fine)").matches;
    this.#box.replaceChildren(back(t("menu-jars")), el("h1", {}, t("many-title")), el("p", {}, t("many-what")),
      el("ul", { class: "dots" }, ["sheet", "names", "looks"].map((k) => el("li", {}, t(`many-by-${k}`)))), message || "",
      el("div", { class: "row" }, pick(t("many-photos"), "pictures", { accept: "image/*" }), folders ? pick(t("many-folder"), "file", { webkitdirectory: true }) : null));
  }

  #drops(place) {
    place.addEventListener("dragover", (e) => { if (e.dataTransfer?.types.includes("Files")) e.preventDefault(); });
    place.addEventListener("drop", async (e) => {
      if (!e.dataTransfer?.files.length) return;
      e.preventDefault();
      if (this.#jars.length || this.#out.length) return;
      const entries = [...e.dataTransfer.items].map((i) => i.webkitGetAsEntry?.()).filter(Boolean);
      const list = [];
      for (const entry of entries) await walk(entry, entries.length === 1 && entry.isDirectory ? "" : entry.name, list);
      this.#take(list);
    });
  }

  // Looks at the photos one by one, and has them sorted.
  async #take(list) {
    const photos = list.filter((p) => p.blob.type.startsWith("image/") || PHOTO.test(p.path));
    if (!photos.length) return this.choose(notice("warn", el("p", {}, t("many-none"))));
    const bar = progress(t("many-looking"));
    this.#box.replaceChildren(el("h1", {}, t("many-title")), bar.element, el("div", {}, button(t("cancel"), () => go(), { kind: "quiet" })));
    const good = [];
    this.#bad = [];
    try {
      for (const [i, p] of photos.entries()) {
        bar.tell(i, photos.length, t("many-looking-at", { n: number(i + 1), all: number(photos.length) }));
        if (p.blob.size > LARGEST) { this.#bad.push({ path: p.path, text: t("photo-too-large-how") }); continue; }
        p.note = await seen(p.path, p.blob, program.regard);
        if (this.#closed) return undefined;
        if (p.note.refused) this.#bad.push({ path: p.path, text: (await program.told({ refused: p.note.refused }, true)).refused.text });
        else good.push(p);
      }
      const sorted = await program.ask("sort", { files: good.map((p) => p.path) });
      this.#here = (await store.jars()).filter((j) => !j.sample);
      const of = (path) => good.find((p) => p.path === path);
      const taken = this.#here.map((j) => nameOf(j));
      this.#jars = sorted.jars.map((j) => {
        const name = j.name || freshName(taken);
        taken.push(name);
        return { name, why: j.why, found: Boolean(j.name), photos: j.photos.map(of).sort((a, b) => takenAt(a) - takenAt(b)) };
      });
      this.#out = sorted.left.map((l) => ({ ...of(l.file), said: l.said }));
      this.#notes = sorted.notes;
      await this.#match();
    } catch (e) {
      if (!this.#closed) this.choose(notice("bad", el("p", {}, capital(why(e)))));
      return undefined;
    }
    if (this.#closed) return undefined;
    this.#show();
    say(this.#count());
    return undefined;
  }

  // Which jars are in the browser already, by their names.
  async #match() {
    const keys = await program.ask("keys", [...this.#here.map(nameOf), ...this.#jars.map((j) => j.name)]);
    const here = keys.slice(0, this.#here.length);
    this.#jars.forEach((j, i) => { j.here = this.#here[here.indexOf(keys[this.#here.length + i])]; });
  }

  #count() {
    const jars = this.#jars.filter((j) => j.photos.length);
    return t("many-sorted", { photos: counted("many-n-photos", jars.reduce((n, j) => n + j.photos.length, 0)), jars: counted("many-n-jars", jars.length) });
  }

  #show() {
    this.title = el("h1", { tabindex: "-1" }, this.#count());
    this.cards = el("ul", { class: "cards" });
    this.common = [quantity("water-depth"), quantity("temp"), moment(), ...prepared({})];
    this.crop = chosen("crop", [["", t("field-crop-none")]]);
    program.ask("crops").then((crops) => this.crop.element.querySelector("select").append(...crops.map(([v, words]) => el("option", { value: v }, words)))).catch(() => {});
    this.messages = el("div", { class: "messages", role: "alert" });
    const [depth, temp, shaken, ...made] = this.common;
    this.#box.replaceChildren(back(t("menu-jars")), this.title, el("p", {}, t("many-check")),
      ...this.#notes.map((n) => notice("warn", el("p", {}, n))),
      this.#bad.length ? notice("warn", el("p", { class: "strong" }, counted("many-bad", this.#bad.length)), el("ul", { class: "dots" }, this.#bad.map((b) => el("li", {}, `${b.path}: ${b.text}`)))) : "",
      this.cards,
      el("section", { class: "card stack" }, el("h2", {}, t("many-common")), el("p", { class: "soft" }, t("many-common-what")),
        depth.element, temp.element, fold(t("many-one-time"), shaken.element), preparedFold(made), fold(t("setup-garden"), this.crop.element)),
      this.messages,
      el("div", { class: "row" }, button(t("many-keep"), () => this.#keep(), { kind: "main grow" }), el("a", { class: "button quiet", href: address() }, t("cancel"))));
    this.#draw();
    this.title.focus();
  }

  // The cards of the jars; where is the photo whose menu has the focus.
  #draw(where) {
    const outside = this.#out.length ? el("li", { class: "card stack out" }, el("h2", {}, t("many-out")), el("p", {}, t("many-out-how")),
      el("ul", { class: "sorted" }, this.#out.map((p) => this.#photo(p, undefined)))) : "";
    this.cards.replaceChildren(outside, ...this.#jars.filter((j) => j.photos.length).map((j) => this.#jar(j)));
    this.title.textContent = this.#count();
    if (where) this.cards.querySelector(`[data-path="${CSS.escape(where)}"] select`)?.focus();
  }

  #jar(j) {
    const known = el("p", { class: "soft" });
    const told = () => known.replaceChildren(j.here ? t("many-goes-to", { name: nameOf(j.here) }) : j.why);
    const input = el("input", { type: "text", value: j.name, maxlength: 80, autocomplete: "off", "aria-label": t("field-name"), onchange: async () => {
      j.name = input.value.trim() || j.name;
      input.value = j.name;
      await this.#match();
      this.#draw();
    } });
    told();
    return el("li", { class: "card stack" }, input, known, el("ul", { class: "sorted" }, j.photos.map((p) => this.#photo(p, j))));
  }

  #photo(p, jar) {
    const others = this.#jars.filter((j) => j !== jar && j.photos.length);
    const where = select([["", t("many-move")], ...others.map((j) => [String(this.#jars.indexOf(j)), j.name]), ["new", t("many-new-jar")], ...(jar ? [["out", t("many-leave")]] : [])], "",
      { "aria-label": t("many-move-photo", { file: p.path }), onchange: () => this.#move(p, jar, where.value) });
    const at = takenAt(p);
    return el("li", { "data-path": p.path }, thumb(p.note.thumb), el("div", { class: "stack tight" }, el("p", { class: "file" }, p.path),
      at ? el("p", { class: "soft" }, day(at)) : null, p.said && !jar ? el("p", { class: "soft" }, p.said) : null, where));
  }

  #move(p, from, to) {
    if (!to) return;
    if (from) from.photos = from.photos.filter((o) => o !== p);
    else this.#out = this.#out.filter((o) => o !== p);
    if (to === "out") this.#out.push(p);
    else if (to === "new") this.#jars.push({ name: freshName([...this.#here.map(nameOf), ...this.#jars.map((j) => j.name)]), why: t("many-by-hand"), photos: [p] });
    else this.#jars[Number(to)].photos.push(p);
    this.#draw(p.path);
    say(this.#count());
  }

  // What is stated for all is of each jar that does not state it itself.
  async #keep() {
    const wrong = await mistaken(this.common);
    if (wrong) return wrong.focus();
    const stated = Object.fromEntries([...this.common, this.crop].map((f) => [f.key, f.value()]).filter(([, v]) => v));
    const jars = this.#jars.filter((j) => j.photos.length);
    if (!jars.length) return this.messages.replaceChildren(notice("warn", el("p", {}, t("many-none"))));
    const bar = progress(t("many-keeping"));
    this.messages.replaceChildren(bar.element);
    try {
      for (const [i, j] of jars.entries()) {
        bar.tell(i, jars.length);
        await (j.here ? addTo(j.here.id, j.photos, stated) : create(j, stated));
        j.photos = []; // kept, whatever happens to the others
      }
      toast(counted("many-kept", jars.length));
      go();
    } catch (e) {
      this.messages.replaceChildren(notice("bad", el("p", { class: "strong" }, e instanceof store.Full ? t("full") : capital(why(e))), e instanceof store.Full ? el("p", {}, t("full-how")) : null));
      this.#draw();
    }
    return undefined;
  }
}

// When a photo was taken by its camera, in ms; 0 where that is not known.
const takenAt = (p) => (p.note.taken && Date.parse(p.note.taken.replace(" ", "T").replace(/ /g, ""))) || 0;

async function create(j, stated) {
  const names = [], list = [];
  for (const p of j.photos) {
    const name = freeName(p.path.split("/").pop(), names);
    names.push(name);
    list.push({ name, blob: p.blob, note: p.note });
  }
  const jar = await store.create({ ...stated, name: j.name }, list.map(({ name, blob }) => ({ name, blob })));
  for (const { name, note } of list) await store.note(jar.id, name, note);
}

// A photo that the jar has already is not added again.
async function addTo(id, photos, stated) {
  const there = await store.photos(id), notes = await store.notes(id);
  // The file may differ: what a jar was saved to holds it without what tells of its owner.
  const same = (p, o) => o.blob.size === p.blob.size || p.note.taken !== undefined && notes.some((n) => n.name === o.name && n.taken === p.note.taken && String(n.size) === String(p.note.size));
  for (const p of photos) {
    const wanted = p.path.split("/").pop();
    if (there.some((o) => o.name === wanted && same(p, o))) continue;
    const name = freeName(wanted, there.map((o) => o.name));
    await store.addPhoto(id, name, p.blob);
    await store.note(id, name, p.note);
    there.push({ name, blob: p.blob });
  }
  await store.edit(id, (jar) => { jar.record = { ...stated, ...jar.record }; });
}

// A name that no jar has: "jar 3".
function freshName(taken) {
  for (let n = 1; ; n++) {
    const name = t("many-jar", { n });
    if (!taken.includes(name)) return name;
  }
}

// The path of a chosen file without the folder that was chosen.
const inFolder = (path) => path?.split("/").slice(1).join("/");

// Lists the files of a dropped folder, by their paths.
async function walk(entry, path, list) {
  if (entry.isFile) {
    const blob = await new Promise((resolve, reject) => { entry.file(resolve, reject); });
    list.push({ path: path || entry.name, blob });
    return;
  }
  const reader = entry.createReader();
  for (;;) {
    const part = await new Promise((resolve, reject) => { reader.readEntries(resolve, reject); });
    if (!part.length) return;
    for (const e of part) await walk(e, path ? `${path}/${e.name}` : e.name, list);
  }
}
