// A time-lapse film of a jar, made by the phone's own camera: its frames become
// photos of the jar, with the times that the person states or the file knows.
import { address, go } from "../route.js";
import { el, say } from "../dom.js";
import { nameOf } from "../jarfile.js";
import { back, button, field, icon, notice, progress, select } from "../parts.js";
import { freeName } from "../photos.js";
import { shaken } from "../plan.js";
import * as store from "../store.js";
import { why } from "../why.js";
import { counted, elapsed, number, t, written } from "../words.js";
import { Unplayable, frames, openFilm, wrongTimes } from "../watch/film.js";
import { told } from "../watch/mp4.js";

const SIZES = { s: 1, min: 60, h: 3600, d: 86400 };

export async function view(place, id) {
  const jar = await store.jar(id);
  if (!jar) {
    place.append(el("div", { class: "stack" }, el("h1", {}, t("jar-gone")), el("p", {}, t("jar-gone-how")), el("a", { class: "button", href: address() }, t("menu-jars"))));
    return undefined;
  }
  const messages = el("div", { class: "stack messages", role: "alert" }), body = el("div", { class: "stack loose" });
  let film, left = false;
  const close = () => { film?.close(); film = undefined; };
  const choose = el("label", { class: "pick main" }, icon("file"), t("film-choose"),
    el("input", { type: "file", accept: "video/*", onchange: async (e) => {
      const [file] = e.target.files;
      if (!file) return;
      e.target.value = "";
      messages.replaceChildren();
      body.replaceChildren();
      close();
      try {
        const [opened, says] = await Promise.all([openFilm(file), told(file).catch(() => ({}))]);
        if (left) return opened.close();
        film = opened;
        stated(jar, file, film, says, { body, messages, gone: () => left });
      } catch (err) {
        trouble(messages, err, file);
      }
    } }));
  place.append(el("div", { class: "stack" }, back(nameOf(jar), "jar", id), el("h1", {}, t("film-title")), el("p", {}, t("film-what")),
    el("ul", { class: "dots" }, ["film-tip-still", "film-tip-whole", "film-tip-private"].map((key) => el("li", {}, t(key)))),
    el("div", { class: "row" }, choose), messages, body));
  return () => { left = true; close(); };
}

function trouble(messages, e, file) {
  const known = e instanceof Unplayable ? ["film-not-played", "film-not-played-how"] : e instanceof store.Full ? ["full", "full-how"] : undefined;
  messages.replaceChildren(notice("bad", el("p", { class: "strong" }, known ? t(known[0], { file: file.name }) : t("jar-fault")),
    el("p", {}, known ? t(known[1]) : why(e))));
}

// A time in a number and a unit: {element, value(), wrong(text), focus()}.
function span(label, help, seconds) {
  const whole = Object.entries(SIZES).reverse().find(([, size]) => seconds && seconds >= size);
  const unit = whole?.[0] || "h", value = seconds ? written(seconds / SIZES[unit], 2) : "";
  const input = el("input", { type: "text", inputmode: "decimal", autocomplete: "off", value });
  const units = select(Object.keys(SIZES).map((u) => [u, t(`unit-${u}`)]), unit, { "aria-label": t("unit-time") });
  const f = field({ label, help, control: input, beside: units });
  return { ...f, focus: () => input.focus(),
    value: () => (input.value.trim() === "" ? NaN : Number(input.value.trim().replace(",", ".")) * SIZES[units.value]) };
}

// Asks for the times of a film and takes its frames.
function stated(jar, file, film, says, { body, messages, gone }) {
  const down = shaken(jar.record);
  const begin = span(t("film-begin"), t("film-begin-help"));
  const took = span(t("film-took"), t(says.took ? "film-took-told" : "film-took-help"), says.took);
  const wrong = (key) => {
    begin.wrong(key === "begin" ? t("film-wrong-begin") : "");
    took.wrong(key && key !== "begin" ? t(`film-wrong-${key}`, { plays: elapsed(film.plays) }) : "");
    if (key) (key === "begin" ? begin : took).focus();
  };
  const take = async (e) => {
    e.preventDefault();
    messages.replaceChildren();
    const times = { begin: begin.value(), took: took.value() };
    const key = wrongTimes({ ...times, plays: film.plays, since: down === undefined ? undefined : (Date.now() - down) / 1000 });
    wrong(key);
    if (key) return;
    await taken(jar, file, film, times, { body, messages, gone });
  };
  film.video.setAttribute("aria-label", t("film-picture"));
  body.replaceChildren(el("div", { class: "film-parts" }, el("div", { class: "watch-stage" }, film.video),
    el("form", { novalidate: true, onsubmit: take }, el("div", { class: "stack" }, el("p", { class: "soft" }, t("film-plays", { plays: elapsed(film.plays) })), begin.element, took.element,
      el("button", { type: "submit", class: "main" }, icon("pictures"), t("film-take"))))));
  begin.focus();
}

async function taken(jar, file, film, times, { body, messages, gone }) {
  const bar = progress(t("film-taking"));
  const form = body.querySelector("form");
  form.replaceChildren(bar.element);
  bar.element.setAttribute("tabindex", "-1");
  bar.element.focus();
  const stem = file.name.replace(/\.\w+$/, "").replace(/_t?\d+(s|min|h|d)\b/gi, "").slice(0, 60) || "film";
  let kept = 0;
  try {
    await frames(film, times, async ({ blob, seconds }, done, all) => {
      if (gone()) return false;
      const name = freeName(`${stem}_t${String(seconds).padStart(6, "0")}s.jpg`, await store.photoNames(jar.id));
      await store.addPhoto(jar.id, name, blob);
      kept++;
      bar.tell(done, all, t("film-taken", { n: number(kept) }));
      return true;
    });
  } catch (e) {
    if (gone()) return;
    trouble(messages, e, file);
  }
  if (gone()) return;
  if (kept && !messages.childElementCount) {
    say(counted("jar-added", kept));
    go("jar", jar.id);
    return;
  }
  form.replaceChildren(el("p", {}, t("film-taken", { n: number(kept) })), button(t("watch-to-jar"), () => go("jar", jar.id)));
}
