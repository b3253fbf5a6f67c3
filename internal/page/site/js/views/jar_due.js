// The card at the top of a jar: it says the one thing to do now.
import { address } from "../route.js";
import * as desk from "../desk.js";
import { el, save } from "../dom.js";
import { certainty, headline, partsOf } from "../fractions.js";
import { nameOf } from "../jarfile.js";
import { button, icon, jarDrawing, notice, toast } from "../parts.js";
import { shaken, stamp } from "../plan.js";
import * as program from "../program.js";
import { capital } from "../remedy.js";
import { watching } from "../watch/underway.js";
import { counted, day, elapsed, number, t } from "../words.js";

/** Seconds since a jar was set down; undefined where that is not known. */
export function sinceDown(jar) {
  const down = shaken(jar.record);
  return down === undefined ? undefined : (Date.now() - down) / 1000;
}

/** Seconds to a photo as a clock shows them. */
export function clock(seconds) {
  if (seconds >= 3600) return elapsed(Math.ceil(seconds / 60) * 60);
  const s = Math.max(Math.ceil(seconds), 0);
  return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`;
}

/** What the card of a jar shows now; page is the JarPage. */
export function dueNow(page) {
  const { jar, at } = page, { next, steps, enough, usable, untimed, twins } = at;
  const since = sinceDown(jar), answer = desk.fresh(jar, at.names.map((name) => ({ name }))) ? jar.answer : undefined;
  const to = (...parts) => address("jar", jar.id, ...parts);
  const read = (main) => usable.length && !untimed.length && !twins ? button(t(main ? "jar-read" : "jar-read-now"), () => page.read(), { kind: !main ? "quiet" : answer?.refused ? "" : "main" }) : null;
  const stage = Math.min(steps.filter((s) => since !== undefined && since >= s.due).length, 3);
  const show = (drawn, title, body, actions) => [el("div", { class: "picture" }, jarDrawing(drawn)),
    el("h2", {}, title), ...body, el("div", { class: "actions" }, actions)];
  const add = picker(page, "jar-add"), watch = watching(jar);
  if (watch) {
    return show(stage, t("watch-under-way"), [el("p", {}, t("watch-count", { n: number(watch.kept), all: number(watch.all) })), el("p", {}, t("watch-under-way-how"))],
      [el("a", { class: "button main", href: to("watch") }, icon("camera"), t("watch-go-on")), read(false)]);
  }
  if (answer?.reading) {
    return show(3, headline(answer.reading), [answer.reading.class ? el("p", {}, sureLine(answer.reading.class)) : "", partsOf(answer.reading)],
      [el("a", { class: "button main", href: to("result") }, t("jar-see")), add]);
  }
  if (since === undefined && !usable.length) {
    return show(0, t("jar-shake"), [el("p", {}, t("jar-shake-how"))], [button(t("set-down-now"), () => page.setDown(), { kind: "main" }),
      el("a", { class: "button quiet", href: to("setup") }, t("setup-earlier")), add]);
  }
  if (enough || !next || since === undefined) {
    if (untimed.length) return show(3, counted("jar-untimed", untimed.length), [el("p", {}, t("jar-untimed-how"))], [add]);
    if (twins) return show(3, t("jar-twins"), [el("p", {}, t("jar-twins-how"))], [add]);
  }
  if (!next && !usable.length) return show(3, t("jar-old"), [el("p", {}, t("jar-old-how"))], [add]);
  if (enough || !next) return show(3, counted("jar-ready", usable.length), [], [read(true), add]);
  if (since === undefined) return show(2, counted("jar-some", usable.length), [el("p", {}, t("jar-more", { time: elapsed(next.due) }))], [read(true), add]);
  const n = steps.indexOf(next) + 1, choose = picker(page, "jar-choose");
  if (since >= next.due) {
    return show(stage, t("jar-now", { n, all: steps.length }), [el("p", {}, t(since > 2 * next.due ? "jar-late-how" : "jar-now-how", { time: elapsed(since) })), ...hindered(at)], [camera(page, true), choose, read(false)]);
  }
  return show(stage, t("jar-wait", { n, all: steps.length }), [el("p", { class: "clock", role: "timer" }, clock(next.due - since)),
    el("p", { class: "soft" }, t("jar-wait-when", { when: day(shaken(jar.record) + next.due * 1000) })), ...hindered(at)],
  [camera(page, false), choose, read(false), button(t("jar-remind"), () => remind(page), { kind: "quiet", sign: "bell" })]);
}

// Saves the reminders of what is still to come for the person's calendar.
async function remind({ jar, at }) {
  const since = sinceDown(jar);
  const events = at.steps.filter((s) => !s.photo && s.due > since).map((s) => ({ due_s: s.due,
    summary: t("remind-title", { name: nameOf(jar), time: elapsed(s.due) }), description: t("remind-what") }));
  const { ics } = await program.ask("calendar", { start: stamp(new Date(shaken(jar.record))), identity: jar.id, events });
  save("mudline.ics", new Blob([ics], { type: "text/calendar" }));
  toast(counted("reminded", events.length));
}

// Why a jar cannot be read with what is there, where another thing is to be done first.
function hindered({ untimed, twins }) {
  if (untimed.length) return [notice("warn", el("p", {}, counted("jar-untimed", untimed.length)), el("p", {}, t("jar-untimed-how")))];
  return twins ? [notice("warn", el("p", {}, t("jar-twins")), el("p", {}, t("jar-twins-how")))] : [];
}

function sureLine(c) {
  const { words, chance } = certainty(c);
  return t("result-sure", { words: capital(words), chance });
}

// The camera of a phone. Its photo is taken now, which is known to the second;
// where no camera opens, a photo of old may be chosen, and is told apart by its date.
function camera(page, main) {
  let opened = Date.now();
  return el("label", { class: main ? "pick main" : "pick" }, icon("camera"), t("jar-take"),
    el("input", { type: "file", accept: "image/*", capture: "environment", onclick: () => { opened = Date.now(); }, onchange: (e) => {
      const now = Date.now();
      take(page, e.target, (f) => (f.lastModified >= opened - 2000 ? Math.min(f.lastModified, now) : undefined));
    } }));
}

const picker = (page, words) => el("label", { class: "pick" }, icon("pictures"), t(words),
  el("input", { type: "file", accept: "image/*", multiple: true, onchange: (e) => take(page, e.target) }));

async function take(page, input, at) {
  const files = [...input.files];
  input.value = "";
  await page.add(files, at);
}
