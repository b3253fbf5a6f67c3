// Photos of many jars at once: chosen, sorted into jars, put right, and kept.
import { address, go } from "../route.js";
import { el, say } from "../dom.js";
import { chosen, mistaken, prepared, preparedFold, quantity } from "../fields.js";
import { addTo, create, dropped, freePath, inFolder, inTime, photosAmong, takenAt, twinOf } from "../incoming.js";
import { nameOf } from "../jarfile.js";
import { back, button, fold, icon, notice, progress, select, thumb, toast } from "../parts.js";
import { LARGEST, seen } from "../photos.js";
import * as program from "../program.js";
import { capital } from "../remedy.js";
import { setDown } from "../set_down.js";
import * as store from "../store.js";
import { why } from "../why.js";
import { counted, day, language, number, t } from "../words.js";

// Within this time, in ms, a jar is photographed once where there are many; as internal/sorting has it.
const SITTING = 30 * 60_000;

// What was sorted and not kept yet is still there when the person comes back from elsewhere.
let sorted;

export async function view(place) {
  const many = sorted || new Many();
  await many.enter(place);
  return () => many.close();
}

// A browser asks before it leaves the page with what was sorted.
const unkept = (e) => e.preventDefault();

function hold(many) {
  sorted = many;
  if (many) window.addEventListener("beforeunload", unkept);
  else window.removeEventListener("beforeunload", unkept);
}

// A photo on its way is {path, blob, note}, a jar {name, why, photos, here?}: here is the jar
// in the browser that its photos go to. Photos in no jar stay outside.
class Many {
  #box = el("div", { class: "stack many" });
  #jars = []; #out = []; #bad = []; #twins = []; #notes = []; #here = []; #closed = false; #language = language();

  async enter(place) {
    this.#closed = false;
    place.append(this.#box);
    this.#drops(place);
    if (sorted !== this) return this.choose();
    await this.#match();
    if (this.#language === language()) return this.#draw();
    this.#language = language();
    return this.#show();
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
      this.#take(await dropped(e.dataTransfer.items));
    });
  }

  // Looks at the photos one by one, and has them sorted.
  async #take(list) {
    const photos = photosAmong(list);
    if (!photos.length) return this.choose(notice("warn", el("p", {}, t("many-none"))));
    const bar = progress(t("many-looking"));
    this.#box.replaceChildren(el("h1", {}, t("many-title")), bar.element, el("div", {}, button(t("cancel"), () => go(), { kind: "quiet" })));
    const good = [];
    this.#bad = [];
    this.#twins = [];
    try {
      for (const [i, p] of photos.entries()) {
        bar.tell(i, photos.length, t("many-looking-at", { n: number(i + 1), all: number(photos.length) }));
        if (p.blob.size > LARGEST) { this.#bad.push({ path: p.path, text: t("photo-too-large-how") }); continue; }
        const twin = await twinOf(p, good);
        if (twin) { this.#twins.push({ path: p.path, text: t("many-twin-of", { file: twin.path }) }); continue; }
        p.path = freePath(p.path, good);
        p.note = await seen(p.path, p.blob, program.regard);
        if (this.#closed) return undefined;
        if (p.note.refused) this.#bad.push({ path: p.path, text: (await program.told({ refused: p.note.refused }, true)).refused.text });
        else good.push(p);
      }
      const found = await program.ask("sort", { files: good.map((p) => p.path) });
      const of = (path) => good.find((p) => p.path === path);
      const taken = (await this.#others()).map((j) => nameOf(j));
      this.#jars = found.jars.map((j) => {
        const name = j.name || freshName(taken);
        taken.push(name);
        return { name, why: j.why, photos: inTime(j.photos.map(of)) };
      });
      this.#out = found.left.map((l) => Object.assign(of(l.file), { said: l.said, like: of(l.like) }));
      this.#notes = found.notes;
      await this.#match();
    } catch (e) {
      if (!this.#closed) this.choose(notice("bad", el("p", {}, capital(why(e)))));
      return undefined;
    }
    if (this.#closed) return undefined;
    hold(this);
    this.#show();
    say(this.#count());
    return undefined;
  }

  // The jars in the browser, which photos may go to.
  async #others() {
    this.#here = (await store.jars()).filter((j) => !j.sample);
    return this.#here;
  }

  // Which jars are in the browser already, by their names.
  async #match() {
    await this.#others();
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
    this.common = [quantity("water-depth"), quantity("temp"), ...prepared({})];
    this.down = setDown();
    this.crop = chosen("crop", [["", t("field-crop-none")]]);
    program.ask("crops").then((crops) => this.crop.element.querySelector("select").append(...crops.map(([v, words]) => el("option", { value: v }, words)))).catch(() => {});
    this.messages = el("div", { class: "messages", role: "alert" });
    const [depth, temp, ...made] = this.common;
    const listed = (words, list) => (list.length ? notice("warn", el("p", { class: "strong" }, words), el("ul", { class: "dots" }, list.map((b) => el("li", {}, t("of-file", { file: b.path, text: b.text }))))) : "");
    this.#box.replaceChildren(back(t("menu-jars")), this.title, el("p", {}, t("many-check")),
      ...this.#notes.map((n) => notice("warn", el("p", {}, n))),
      listed(counted("many-bad", this.#bad.length), this.#bad), listed(counted("many-twins", this.#twins.length), this.#twins),
      this.cards,
      el("section", { class: "card stack" }, el("h2", {}, t("many-common")), el("p", { class: "soft" }, t("many-common-what")),
        depth.element, temp.element, this.down.element, preparedFold(made), fold(t("setup-garden"), this.crop.element)),
      this.messages,
      el("div", { class: "row" }, button(t("many-keep"), () => this.#keep(), { kind: "main grow" }), el("a", { class: "button quiet", href: address(), onclick: () => hold(undefined) }, t("cancel"))));
    this.#draw();
    this.title.focus();
  }

  // The cards of the jars; where is the photo whose menu has the focus. What holds for all
  // photos outside is said once.
  #draw(where) {
    const [said, ...otherwise] = new Set(this.#out.map((p) => p.said));
    for (const p of this.#out) p.alone = otherwise.length ? p.said : "";
    const outside = this.#out.length ? el("li", { class: "card stack out" }, el("h2", {}, t("many-out")), el("p", {}, t("many-out-how")), said && !otherwise.length ? el("p", { class: "soft" }, said) : null,
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
    const at = takenAt(p), like = !jar && this.#likely(p);
    return el("li", { "data-path": p.path }, thumb(p.note.thumb), el("div", { class: "stack tight" }, el("p", { class: "file" }, p.path),
      at ? el("p", { class: "soft" }, day(at)) : null, p.alone && !jar ? el("p", { class: "soft" }, p.alone) : null,
      like ? el("button", { type: "button", class: "like", onclick: () => this.#move(p, jar, String(this.#jars.indexOf(like))) }, thumb(p.like.note.thumb), t("many-like", { name: like.name })) : null, where));
  }

  // The jar that a photo outside may be of: one that it resembles, and that nobody photographed then.
  #likely(p) {
    return takenAt(p) && this.#jars.find((j) => j.photos.includes(p.like) && !j.photos.some((o) => Math.abs(takenAt(o) - takenAt(p)) < SITTING));
  }

  #move(p, from, to) {
    if (!to) return;
    // The focus goes on to the next photo, so that one after the other is put right.
    const before = from ? from.photos : this.#out, next = before[before.indexOf(p) + 1] || p;
    if (from) from.photos = from.photos.filter((o) => o !== p);
    else this.#out = this.#out.filter((o) => o !== p);
    if (to === "out") this.#out.push(p);
    else if (to === "new") this.#jars.push({ name: freshName([...this.#here.map(nameOf), ...this.#jars.map((j) => j.name)]), why: t("many-by-hand"), photos: [p] });
    else {
      const jar = this.#jars[Number(to)];
      jar.photos = inTime([...jar.photos, p]);
    }
    this.#draw(next.path);
    say(this.#count());
  }

  // What is stated for all is of each jar that does not state it itself.
  async #keep() {
    const wrong = await mistaken([...this.common, this.down]);
    if (wrong) return wrong.focus();
    const stated = Object.fromEntries([...this.common, this.crop].map((f) => [f.key, f.value()]).filter(([, v]) => v));
    const jars = this.#jars.filter((j) => j.photos.length);
    if (!jars.length) return this.messages.replaceChildren(notice("warn", el("p", {}, t("many-none"))));
    const bar = progress(t("many-keeping")), all = jars.map((j) => j.photos);
    this.messages.replaceChildren(bar.element);
    try {
      // The last first: the home shows the jar first that was made last.
      for (const [i, j] of [...jars].reverse().entries()) {
        bar.tell(i, jars.length);
        const of = (more) => ({ ...stated, ...this.down.of(j.photos, all, more) });
        await (j.here ? addTo(j.here.id, j.photos, of) : create(j.name, j.photos, of(false)));
        j.photos = []; // kept, whatever happens to the others
      }
      hold(undefined);
      toast(counted("many-kept", jars.length));
      go();
    } catch (e) {
      this.messages.replaceChildren(notice("bad", el("p", { class: "strong" }, e instanceof store.Full ? t("full") : capital(why(e))), e instanceof store.Full ? el("p", {}, t("full-how")) : null));
      this.#draw();
    }
    return undefined;
  }
}

// A name that no jar has: "jar 3".
function freshName(taken) {
  for (let n = 1; ; n++) {
    const name = t("many-jar", { n });
    if (!taken.includes(name)) return name;
  }
}
