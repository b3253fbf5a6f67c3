// One photo in the timeline of a jar.
import { address } from "../route.js";
import * as desk from "../desk.js";
import { el } from "../dom.js";
import { button, field, icon, menu, notice, select, thumb } from "../parts.js";
import { written } from "../plan.js";
import * as program from "../program.js";
import { remedy } from "../remedy.js";
import { elapsed, t } from "../words.js";
import { mistakeIn } from "../fields.js";

// From where on a photo is worth a word: its longer side in pixels, its median
// lightness (L*), the share of it without detail. Our own figures.
const SMALL = 1200, DARK = 25, BLOWN = 0.1;

/** The photo as an item of the timeline; page is the JarPage, next the due moment to come. */
export function photoCard(page, photo, next) {
  const { name, note } = photo;
  const usable = photo.elapsed && !note.refused;
  const below = el("div", { class: "wide-part stack" });
  const retime = () => below.replaceChildren(timeForm(page, photo, next, () => below.replaceChildren()));
  if (note.refused) {
    const why = notice("bad");
    program.told(note, true).then(({ refused }) => why.lastChild.append(el("p", {}, refused.text), ...remedy(refused, page.jar)), () => why.lastChild.append(note.refused.text));
    below.append(why, el("div", { class: "row" }, replacer(page, name), button(t("remove"), () => page.remove(name), { kind: "bad" })));
  } else if (!photo.elapsed && !note.fresh) {
    below.append(timeForm(page, photo, next));
  }
  const picture = usable ? el("a", { href: address("jar", page.jar.id, "photo", name), "aria-label": t("photo-open", { file: name }) }, thumb(note.thumb)) : thumb(note.thumb);
  const state = note.fresh ? "looking" : usable ? "taken" : "wrong";
  return el("li", { class: state, "data-photo": name },
    el("span", { class: "mark", "aria-hidden": "true" }, note.fresh ? el("span", { class: "spin" }) : icon(usable ? "check" : "warn")),
    el("h3", {}, note.refused ? t("photo-cannot") : photo.elapsed ? t("jar-after", { time: elapsed(photo.elapsed) }) : note.fresh ? t("photo-looking") : t("photo-no-time")),
    el("div", { class: "card plain photo-card" }, picture,
      el("div", { class: "words" }, el("p", { class: "file" }, breakable(name)), whence(page, photo), quality(page, photo)),
      menu(t("photo-menu", { file: name }), [
        usable ? el("a", { class: "button", href: address("jar", page.jar.id, "photo", name) }, t("photo-lines")) : null,
        [t("photo-retime"), () => { retime(); below.querySelector("input, button")?.focus(); }],
        [t("photo-replace"), () => choose(page, name)],
        [t("photo-remove"), () => page.remove(name), { kind: "bad" }],
      ].filter(Boolean)),
      below));
}

// A file's name, which may break behind its dashes and before its ending.
const breakable = (name) => name.replace(/[-_]|\.\w+$/g, (part) => (part[0] === "." ? `\u200b${part}` : `${part}\u200b`));

// Where the time comes from, in words.
function whence(page, photo) {
  if (!photo.elapsed) return null;
  return el("p", { class: "small" }, t(`photo-from-${photo.from}`));
}

// What the photo is like: whether it could be opened at first, more once it has
// been read.
function quality(page, { name, note }) {
  if (!note.size) return null;
  const read = desk.fresh(page.jar, page.names.map((n) => ({ name: n }))) ? page.jar.answer.reading?.photos.find((p) => p.file === name)?.quality : undefined;
  const poor = [Math.max(...note.size) < SMALL && "photo-small", read?.brightness < DARK && "photo-dark", read?.blown_out > BLOWN && "photo-bright"].filter(Boolean);
  return el("ul", { class: "chips" }, poor.length ? poor.map((w) => el("li", { class: "chip warn" }, t(w))) : el("li", { class: "chip good" }, t("photo-good")));
}

// The question of how long after shaking a photo was taken.
function timeForm(page, photo, next, close) {
  const [n, unit] = parts(photo.elapsed);
  const input = el("input", { type: "text", inputmode: "decimal", value: n, autocomplete: "off" });
  const units = select([["s", t("unit-s")], ["min", t("unit-min")], ["h", t("unit-h")], ["d", t("unit-d")]], unit, { "aria-label": t("unit-time") });
  const f = field({ label: t("photo-when"), help: t("photo-when-help"), control: input, beside: units });
  const keep = async (text) => {
    if (!text || await mistakeIn("photos", { [photo.name]: { elapsed: text } })) {
      f.wrong(t("photo-when-wrong"));
      input.focus();
      return;
    }
    /** @type {HTMLElement} */ (document.activeElement)?.blur(); // it is written: the card may be drawn anew
    await page.state(photo.name, { elapsed: text });
    await page.draw();
    page.focus(photo.name);
  };
  const submit = (e) => {
    e.preventDefault();
    const text = input.value.trim();
    keep(text && (/[a-z]/i.test(text) ? text : `${text}${units.value}`));
  };
  return el("form", { novalidate: true, onsubmit: submit },
    next && !photo.elapsed ? el("div", { class: "row" }, button(t("photo-when-due", { time: elapsed(next.due) }), () => keep(written(next.due)), { class: "chip" })) : null,
    f.element, el("div", { class: "row" }, el("button", { type: "submit" }, t("save")), close ? button(t("cancel"), close, { kind: "quiet" }) : null));
}

// A time in the largest unit that writes it without a remainder.
function parts(seconds) {
  if (!seconds) return ["", "h"];
  for (const [unit, size] of /** @type {[string, number][]} */ ([["d", 86400], ["h", 3600], ["min", 60]])) if (seconds % size === 0) return [String(seconds / size), unit];
  return [String(Math.round(seconds)), "s"];
}

function choose(page, name) {
  const input = el("input", { type: "file", accept: "image/*", onchange: () => { if (input.files[0]) page.replace(name, input.files[0]); } });
  input.click();
}

const replacer = (page, name) => button(t("photo-replace"), () => choose(page, name));
