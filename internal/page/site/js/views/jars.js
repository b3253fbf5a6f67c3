// The home of the page: the jars in this browser.
import { address, again, go } from "../route.js";
import * as desk from "../desk.js";
import { el, say } from "../dom.js";
import { headline, partsOf, sureness } from "../fractions.js";
import { nameOf, openFile, saveFile } from "../jarfile.js";
import { confirm, icon, jarDrawing, menu, notice, thumb, toast } from "../parts.js";
import { shaken, standing } from "../plan.js";
import { capital } from "../remedy.js";
import * as store from "../store.js";
import { watching } from "../watch/underway.js";
import { counted, elapsed, t } from "../words.js";

export async function view(place) {
  const jars = await store.jars();
  const messages = el("div", { class: "stack messages", role: "alert" });
  const open = el("label", { class: "pick" }, icon("file"), t("home-open"),
    el("input", { type: "file", accept: ".zip,application/zip", onchange: (e) => opened(e.target, messages) }));
  const start = el("a", { class: "button main", href: address("new") }, icon("plus"), t("home-new"));
  const actions = el("div", { class: "row" }, start, open);
  if (!jars.length) {
    place.append(el("div", { class: "stack loose" }, messages, hello(actions), el("p", { class: "soft" }, t("home-private"))));
    return undefined;
  }
  const list = el("ul", { class: "cards" });
  place.append(el("div", { class: "stack wide" }, el("div", { class: "row apart" }, el("h1", {}, t("home-title")), actions), messages, list));
  const states = jars.map((jar) => card(jar, list));
  let left = false;
  // The program takes a moment to come: the jars are there before it is.
  const tell = async () => { for (const state of states) if (!left) await state(); }; // none of them fails
  tell();
  const timer = setInterval(tell, 30_000);
  return () => { left = true; clearInterval(timer); };
}

// What the page is for, where there is no jar yet.
const hello = (actions) => el("div", { class: "stack loose" },
  el("div", { class: "hello" }, el("div", { class: "picture" }, jarDrawing(3)), el("h1", {}, t("home-hello")),
    el("div", { class: "rest stack" }, el("p", {}, t("home-lead")), actions)),
  el("ol", { class: "three" }, ["fill", "photos", "read"].map((step) =>
    el("li", {}, el("h2", {}, t(`home-${step}`)), el("p", {}, t(`home-${step}-how`))))));

async function opened(input, messages) {
  const [file] = input.files;
  if (!file) return;
  messages.replaceChildren();
  try {
    const jar = await openFile(file);
    say(t("home-opened", { name: nameOf(jar) }));
    go("jar", jar.id);
  } catch (e) {
    const reason = e instanceof store.Full ? t("full") : capital(e.message);
    messages.replaceChildren(notice("bad", el("p", { class: "strong" }, t("home-not-opened", { file: file.name })), el("p", {}, reason)));
  } finally {
    input.value = "";
  }
}

// card shows a jar and gives what brings its state up to date.
function card(jar, list) {
  const name = nameOf(jar);
  const picture = el("div", { class: "picture" }, thumb());
  const words = el("p", { class: "soft" }, t("home-looking"));
  const item = el("li", { class: "card jar-card" }, picture,
    el("a", { href: address("jar", jar.id) }, el("h2", {}, name), words),
    menu(t("home-menu", { name }), [
      [t("save-file"), () => keep(jar)],
      [t("home-remove"), () => removed(jar, item), { kind: "bad" }],
    ]));
  list.append(item);
  stored(jar, picture, words).catch(() => {});
  // What is wrong with one jar is told on its own card.
  return async () => {
    try {
      const now = await store.jar(jar.id);
      if (!now) return;
      const at = await standing(now);
      const last = at.photos.findLast((p) => p.note.thumb);
      if (last) picture.replaceChildren(thumb(last.note.thumb));
      words.replaceChildren(...stateOf(now, at));
    } catch {
      words.replaceChildren(t("home-fault"));
    }
  };
}

// What is in the store needs no program to be shown.
async function stored(jar, picture, words) {
  const [names, notes] = await Promise.all([store.photoNames(jar.id), store.notes(jar.id)]);
  const shown = jar.answer?.reading?.photos.at(-1)?.file, read = reading(jar, names);
  const last = notes.find((n) => n.thumb && n.name === shown) || notes.findLast((n) => n.thumb);
  if (last) picture.replaceChildren(thumb(last.thumb));
  if (read) words.replaceChildren(...read);
  else if (!names.length && shaken(jar.record) === undefined) words.replaceChildren(t("home-not-set-down"));
}

function reading(jar, names) {
  const r = desk.fresh(jar, names.map((name) => ({ name }))) ? jar.answer.reading : undefined;
  return r?.fractions && [el("span", { class: "soil" }, headline(r)), r.class && el("span", { class: "small" }, ` (${sureness(r.class)})`), el("br"), partsOf(r)].filter(Boolean);
}

/** The state of a jar in a line or two. */
function stateOf(jar, at) {
  const read = reading(jar, at.names);
  if (read) return read;
  const n = at.names.length;
  if (watching(jar)) return [el("span", { class: "chip now" }, icon("camera"), t("watch-under-way"))];
  const lost = at.photos.find((p) => p.note.refused || (!p.elapsed && !p.note.fresh));
  if (lost) return [el("span", { class: "chip warn" }, t(lost.note.refused ? "home-bad-photo" : "home-no-time"))];
  if (at.twins) return [el("span", { class: "chip warn" }, t("jar-twins"))];
  if (jar.answer?.refused && desk.fresh(jar, at.names.map((name) => ({ name })))) return [el("span", { class: "chip warn" }, t("jar-refused"))];
  if (!at.next && !at.usable.length) return [t("jar-old")];
  if (at.enough || !at.next) return [el("span", { class: "chip good" }, counted("home-ready", n))];
  const since = shaken(jar.record);
  if (since === undefined) return [n ? counted("home-ready", n) : t("home-not-set-down")];
  const wait = since / 1000 + at.next.due - Date.now() / 1000;
  if (wait > 0) return [t("home-next", { time: elapsed(wait > 60 ? Math.ceil(wait / 60) * 60 : wait) })];
  return [el("span", { class: "chip now" }, icon("camera"), t("home-now"))];
}

async function keep(jar) {
  toast(t("saving"));
  try {
    await saveFile(jar.id);
    toast(t("saved", { name: nameOf(jar) }));
  } catch (e) {
    toast(t("not-saved", { reason: e.message }));
  }
}

async function removed(jar, item) {
  const name = nameOf(jar), n = (await store.photoNames(jar.id)).length;
  const answer = await confirm(t("remove-title", { name }), [counted("remove-what", n)],
    [[t("save-file"), "", "save"], [t("remove"), "bad", "remove"]]);
  if (answer === "save") return keep(jar);
  if (answer !== "remove") return undefined;
  await store.remove(jar.id);
  const next = item.nextElementSibling || item.previousElementSibling;
  item.remove();
  toast(t("removed", { name }));
  if (next) next.querySelector("a").focus();
  else await again();
  return undefined;
}
