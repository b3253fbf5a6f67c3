// The home of the page: the jars in this browser.
import { address, again, go } from "../route.js";
import * as desk from "../desk.js";
import { el, say } from "../dom.js";
import { headline, partsOf, sureness } from "../fractions.js";
import { nameOf, saveFile } from "../jarfile.js";
import { button, confirm, icon, jarDrawing, menu, notice, thumb, toast } from "../parts.js";
import { glance } from "../photos.js";
import { planned, shaken, standing } from "../plan.js";
import { addSample } from "../sample.js";
import { keepAll, kept, openAll, readAll, removeAll, waits } from "../several.js";
import * as store from "../store.js";
import { watching } from "../watch/underway.js";
import { why } from "../why.js";
import { counted, elapsed, t } from "../words.js";

export async function view(place) {
  const jars = await store.jars();
  const messages = el("div", { class: "stack messages", role: "alert" });
  const open = el("label", { class: "pick" }, icon("file"), t("home-open"),
    el("input", { type: "file", accept: ".zip,application/zip", multiple: true, onchange: (e) => opened(e.target, messages) }));
  const start = el("a", { class: "button main", href: address("new") }, icon("plus"), t("home-new"));
  const many = el("a", { class: "button", href: address("many") }, icon("pictures"), t("many-title"));
  const actions = el("div", { class: "row" }, start, many, open);
  if (!jars.length) {
    const trying = button(t("sample-try"), () => trySample(messages));
    place.append(el("div", { class: "stack loose" }, messages, hello(actions, trying), el("p", { class: "soft" }, t("home-private")), el("p", { class: "soft" }, kept())));
    return undefined;
  }
  const list = el("ul", { class: "cards" }), bar = el("div", { class: "stack several" });
  place.append(el("div", { class: "stack wide" }, el("div", { class: "row apart" }, el("h1", {}, t("home-title")), actions), bar, messages, list, el("p", { class: "soft" }, kept())));
  const cards = jars.map((jar) => card(jar, list));
  let left = false, busy = false;
  const several = tools(cards, bar, messages, () => left, (on) => { busy = on; });
  // The program takes a moment to come: the jars are there before it is.
  const tell = async () => {
    for (const c of cards) if (!left) await c.update(); // none of them fails
    if (!left && !busy) several();
  };
  const first = async () => {
    await tell();
    for (const c of cards) if (!left && !busy && await lookAt(c.id, () => left || busy)) await c.update();
    if (!left && !busy) several();
  };
  first();
  const timer = setInterval(tell, 30_000);
  return () => { left = true; clearInterval(timer); };
}

// Photos that nobody looked at yet, as those of a jar file: each is looked at once, so that
// the card shows the jar itself. Says whether there were any.
async function lookAt(id, stopped) {
  const known = (await store.notes(id)).map((n) => n.name);
  const fresh = (await store.photoNames(id)).filter((n) => !known.includes(n));
  if (!fresh.length) return false;
  for (const photo of await store.photos(id)) {
    if (stopped()) return false;
    if (fresh.includes(photo.name)) await glance(id, photo).catch(() => {});
  }
  return true;
}

// tools are what can be done to several jars: it fills bar and gives what does so anew.
function tools(cards, bar, messages, left, work) {
  let choosing = false, shown = "";
  const here = () => cards.filter((c) => c.item.isConnected);
  const chosen = () => here().filter((c) => c.chosen());
  const during = async (act) => {
    work(true);
    try {
      await act();
    } finally {
      work(false);
      if (!left()) show();
    }
  };
  const choose = (on) => {
    choosing = on;
    for (const c of here()) c.choose(on, show);
    show();
    bar.querySelector("button")?.focus();
  };
  const show = () => {
    const all = here(), ids = chosen().map((c) => c.id), ready = all.filter((c) => c.waits()).map((c) => c.id);
    const now = JSON.stringify([choosing, ids, ready, all.length]);
    if (now === shown) return; // nothing is exchanged under a finger
    shown = now;
    if (choosing) {
      const none = !ids.length;
      bar.replaceChildren(el("p", { class: "strong", role: "status" }, counted("several-chosen", ids.length)), el("div", { class: "row" },
        button(t("several-all"), () => { for (const c of all) c.mark(true); show(); }),
        button(t("several-save"), () => during(() => keepAll(ids, messages)), { sign: "save", disabled: none }),
        button(t("several-remove"), () => during(async () => { if (await removeAll(ids)) await again(); }), { kind: "bad", disabled: none }),
        button(t("several-done"), () => choose(false), { kind: "quiet" })));
      return;
    }
    const many = all.length > 1;
    bar.replaceChildren(...(many ? [el("div", { class: "row" },
      ready.length > 1 ? button(counted("several-read-all", ready.length), () => during(() => {
        bar.replaceChildren();
        shown = "";
        return readAll(ready, messages, (id) => cards.find((c) => c.id === id).update(), left);
      }), { kind: "main" }) : null,
      button(t("several-choose"), () => choose(true), { kind: "quiet", sign: "check" }))] : []));
  };
  show();
  return show;
}

async function trySample(messages) {
  try {
    go("jar", (await addSample()).id);
  } catch (e) {
    messages.replaceChildren(notice("bad", el("p", {}, e instanceof store.Full ? t("full") : t("sample-not-loaded"))));
  }
}

// What the page is for, where there is no jar yet.
const hello = (actions, trying) => el("div", { class: "stack loose" },
  el("div", { class: "hello" }, el("div", { class: "picture" }, jarDrawing(3)), el("h1", {}, t("home-hello")),
    el("div", { class: "rest stack" }, el("p", {}, t("home-lead")), actions, el("div", { class: "row" }, trying, el("span", { class: "soft" }, t("sample-what"))))),
  el("ol", { class: "three" }, ["fill", "photos", "read"].map((step) =>
    el("li", {}, el("h2", {}, t(`home-${step}`)), step === "photos" ? times() : el("p", {}, t(`home-${step}-how`))))));

// When to take the photos, as the program plans it: what else is said does not wait for it.
function times() {
  const p = el("p", {}, t("home-photos-how"));
  planned({}).then(({ times_s: at }) => {
    const [first, second, third] = at.map((s) => elapsed(s, "long"));
    p.textContent = t("home-photos-at", { first, second, third });
  }).catch(() => {});
  return p;
}

async function opened(input, messages) {
  const files = [...input.files];
  if (!files.length) return;
  try {
    const { opened: fresh, here, failed } = await openAll(files, messages);
    const jars = fresh.length ? fresh : here;
    if (jars.length === 1 && !failed.length) {
      say(t("home-opened", { name: nameOf(jars[0]) }));
      go("jar", jars[0].id);
    } else if (fresh.length) {
      const told = [...messages.children];
      await again();
      document.querySelector("#view .messages")?.replaceChildren(...told); // the view is another now
    }
  } finally {
    input.value = "";
  }
}

// card shows a jar. Gives {id, item, update(), waits(), choose(on, changed), chosen(),
// mark(on)}: update brings its state up to date, choose puts a box to tick on it.
function card(jar, list) {
  const name = nameOf(jar);
  const picture = el("div", { class: "picture" }, thumb());
  const words = el("p", { class: "soft" }, t("home-looking"));
  const more = jar.sample ? button(t("sample-remove"), () => gone(jar, item), { kind: "quiet" })
    : menu(t("home-menu", { name }), [
      [t("save-file"), () => keep(jar)],
      [t("home-remove"), () => removed(jar, item), { kind: "bad" }],
    ]);
  const item = el("li", { class: jar.sample ? "card jar-card sample" : "card jar-card" }, picture,
    el("a", { href: address("jar", jar.id) }, el("h2", {}, name), jar.sample ? el("p", { class: "small" }, t("sample-rendered")) : null, words), more);
  const box = el("input", { type: "checkbox", "aria-label": t("several-choose-one", { name }) });
  const tick = el("label", { class: "choose" }, box);
  list.append(item);
  stored(jar, picture, words).catch(() => {});
  let ready = false;
  // What is wrong with one jar is told on its own card.
  const update = async () => {
    try {
      const now = await store.jar(jar.id);
      if (!now) return;
      const at = await standing(now);
      const last = at.photos.findLast((p) => p.note.thumb);
      if (last) picture.replaceChildren(thumb(last.note.thumb));
      words.replaceChildren(...stateOf(now, at));
      ready = waits(now, at);
    } catch {
      words.replaceChildren(t("home-fault"));
    }
  };
  const choose = (on, changed) => {
    box.checked = false;
    box.onchange = changed;
    (on ? more : tick).replaceWith(on ? tick : more);
  };
  return { id: jar.id, item, update, waits: () => ready, choose, chosen: () => box.checked, mark: (on) => { box.checked = on; } };
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
    toast(t("not-saved", { reason: why(e) }));
  }
}

async function removed(jar, item) {
  const name = nameOf(jar), n = (await store.photoNames(jar.id)).length;
  const answer = await confirm(t("remove-title", { name }), [counted("remove-what", n)],
    [[t("save-file"), "", "save"], [t("remove"), "bad", "remove"]]);
  if (answer === "save") return keep(jar);
  if (answer !== "remove") return undefined;
  return gone(jar, item);
}

async function gone(jar, item) {
  await store.remove(jar.id);
  const next = item.nextElementSibling || item.previousElementSibling;
  item.remove();
  toast(t("removed", { name: nameOf(jar) }));
  if (next) next.querySelector("a").focus();
  else await again();
}
