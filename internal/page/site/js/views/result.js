// What the jar says: class, fractions, how far to trust them, and what they mean.
import { address, go } from "../route.js";
import { chart, className } from "../chart.js";
import * as desk from "../desk.js";
import { el, save } from "../dom.js";
import { explain } from "../explain.js";
import { bars, certainty, chance, headline, named, trust } from "../fractions.js";
import { back, button, fold, notice, progress } from "../parts.js";
import * as program from "../program.js";
import { capital, inText, remedy } from "../remedy.js";
import { Stage } from "../stage.js";
import * as store from "../store.js";
import { why } from "../why.js";
import { elapsed, length, number, t, temperature } from "../words.js";

const OPEN_WARNINGS = 3;
const LEAST_OTHER = 0.05; // probability from which another class is named

export async function view(place, id) {
  const jar = await store.jar(id);
  if (!jar) { go(); return undefined; }
  const photos = await store.photos(id);
  const left = { close: [] };
  const name = jar.record.name || t("photo-jar");
  const body = el("div", { class: "result stack loose wide" });
  place.append(back(name, "jar", id), el("h1", {}, t("result-verdict")), body);
  fill(body, jar, photos, left);
  return () => { left.gone = true; left.close.forEach((f) => f()); };
}

async function fill(body, jar, photos, left) {
  try {
    const answer = desk.fresh(jar, photos) ? jar.answer : await read(body, jar, photos);
    if (left.gone) return;
    body.replaceChildren();
    if (answer.mistake !== undefined) body.append(notice("bad", el("h2", {}, t("result-mistake")), el("p", {}, answer.mistake), el("a", { class: "do", href: address("jar", jar.id, "setup") }, t("result-setup"))));
    else if (answer.refused) body.append(refusal((await program.told(answer)).refused, jar));
    else await show(body, answer, jar, photos, left);
  } catch (e) {
    if (left.gone) return;
    body.replaceChildren(notice("bad", el("h2", {}, t("result-failed")), el("p", { role: "alert" }, e instanceof store.Full ? t("photo-full") : why(e)),
      button(t("result-again"), () => fill(body, jar, photos, left))));
  }
}

function read(body, jar, photos) {
  const bar = progress(t("photo-reading"));
  body.replaceChildren(el("div", { class: "card", role: "status" }, bar.element));
  return desk.read(jar, photos, (done, all) => bar.tell(done, all + 1, done < all ? t("photo-opening", { n: number(done + 1), all: number(all) }) : t("photo-reading")));
}

const refusal = (r, jar) => notice("bad", el("h2", {}, t("result-refused")), el("p", {}, r.text), remedy(r, jar),
  el("a", { class: "do", href: address("jar", jar.id) }, t("result-to-photos")));

const section = (key, ...children) => el("section", { class: `stack ${key}` }, el("h2", {}, t(key)), ...children);

async function show(body, answer, jar, photos, left) {
  const { reading: r } = await program.told(answer);
  const charts = [];
  const draw = (kind) => { const c = chart(kind); c.figure.classList.add("coming"); charts.push([kind, c]); return c.figure; };
  const last = answer.lines.at(-1)?.file;
  const parts = [
    el("div", { class: "sides" },
      el("div", { class: "stack loose" }, verdict(r), warnings(r, jar, last)),
      el("div", { class: "stack loose" }, latest(answer, jar, photos, left))),
    r.fractions ? el("div", { class: "sides" },
      section("result-where", el("p", { class: "soft" }, t("result-where-how"), " ", explain("triangle")), draw("triangle")),
      section("result-settled", el("p", { class: "soft" }, t("result-settled-how")), draw("settling"))) : null,
    r.fractions ? section("result-why", r.why ? el("p", {}, r.why) : null, draw("shares")) : null,
    r.grain_curve ? section("result-sizes", el("p", { class: "soft" }, t("result-grains-how")), draw("sizes"))
      : r.size_curve?.length ? fold(t("result-sizes"), el("p", { class: "soft" }, t("result-sizes-how")), draw("sizes")) : null,
    hands(r, jar), meaning(r), doubts(r), await cautions(), keep(answer, jar, photos)];
  body.append(...parts.filter(Boolean));
  for (const [kind, c] of charts) {
    const any = await c.update({ reading: r });
    if (!any && kind !== "triangle") c.figure.remove();
  }
}

function verdict(r) {
  const { text, firm } = trust(r);
  const c = r.class;
  return el("div", { class: "verdict card stack" },
    c ? classes(c) : el("p", { class: "soil" }, headline(r)),
    r.fractions ? bars(r) : null,
    r.fractions ? el("p", { class: "soft" }, t("result-interval"), " ", explain("interval")) : null,
    r.colours?.wet ? el("p", { class: "soft" }, r.colours.wet.text) : null,
    el("p", { class: firm ? "trust firm" : "trust" }, text));
}

// The class, or the few of which it is one: then none of them stands out as if it
// were settled, and that it is one of several is read first.
function classes(c) {
  const { words, chance: how } = certainty(c), { names } = named(c);
  const all = [c, ...(c.others || [])];
  const sure = el("p", { class: "sure" }, el("strong", {}, capital(words)), ` (${how})`, names.length > 1 ? explain("class") : null);
  const rest = all.slice(names.length).filter((o) => o.probability >= LEAST_OTHER).map((o) => `${inText(className(o.name))} (${chance(o.probability)})`);
  const row = (o) => {
    const part = el("span", { class: "part", "aria-hidden": "true" }, el("i"));
    part.firstChild.style.width = `${100 * o.probability}%`;
    return el("li", {}, el("strong", {}, className(o.name)), " ", el("span", { class: "chance" }, chance(o.probability)), part);
  };
  return [
    names.length > 1 ? [sure, el("ul", { class: "soil several" }, all.slice(0, names.length).map(row))]
      : [el("p", { class: "soil" }, className(c.name), explain("class")), sure],
    rest.length ? el("p", { class: "others" }, t("result-others", { list: rest.join(", ") })) : null,
  ];
}

function warnings(r, jar, last) {
  if (!r.warnings.length) return section("result-warnings", el("p", {}, t("result-no-warnings")));
  const item = (w) => el("li", {}, el("p", {}, w.text), remedy(w, jar, last));
  const rest = r.warnings.slice(OPEN_WARNINGS);
  return section("result-warnings", el("ul", { class: "warnings" }, r.warnings.slice(0, OPEN_WARNINGS).map(item)),
    rest.length ? fold(t("result-more-warnings", { n: number(rest.length) }), el("ul", { class: "warnings" }, rest.map(item))) : null);
}

function latest(answer, jar, photos, left) {
  const mine = answer.lines.at(-1), read = answer.reading.photos.at(-1);
  const photo = photos.find((p) => p.name === mine?.file);
  if (!photo) return null;
  const url = URL.createObjectURL(photo.blob);
  const time = elapsed(read.elapsed_s);
  const stage = new Stage(url, read.size_px, t("photo-alt", { time }));
  stage.show(mine);
  left.close.push(() => { stage.close(); URL.revokeObjectURL(url); });
  const unsure = mine.lines.some((l) => l.unsure && l.name !== "haze-top");
  return el("section", { class: "latest stack" }, el("h2", {}, t("result-latest", { time })), stage.element,
    unsure ? el("p", {}, t("result-unsure")) : null,
    el("p", {}, el("a", { class: "button", href: address("jar", jar.id, "photo", mine.file) }, t("result-adjust"))));
}

function hands(r, jar) {
  const h = r.hand;
  const link = (key) => el("p", {}, el("a", { class: "button", href: address("jar", jar.id, "hands") }, t(key)));
  if (!h) return section("result-hands", el("p", {}, t("result-hands-none")), link("result-hands-do"));
  return section("result-hands", handsSay(h), link("result-hands-change"));
}

/** What the hands say, told in the person's words, beside the jar; the hand test shows it too. */
export function handsSay(h) {
  if (h.questions?.length) {
    return el("div", { class: "questions-back" }, el("p", {}, t("hands-contradict")), el("ul", {}, h.questions.map((q) => el("li", {}, q))));
  }
  const list = (h.classes || []).filter((c) => c.probability >= LEAST_OTHER).slice(0, 4).map((c) => `${className(c.name)} (${chance(c.probability)})`);
  const joint = h.joint?.class;
  return el("div", { class: `hands-say stack ${h.verdict || ""}` },
    h.text ? el("p", { class: h.verdict ? "hand-verdict" : null }, h.text) : null,
    list.length ? el("p", {}, t("hands-classes", { list: list.join(", ") })) : null,
    h.clay_percent ? el("p", {}, t("hands-clay", { low: number(h.clay_percent.low), high: number(h.clay_percent.high) })) : null,
    joint ? el("p", {}, t("hands-joint", { class: className(joint.name), chance: chance(joint.probability) })) : null,
    h.reasons?.length ? fold(t("hands-reasons"), el("ul", {}, h.reasons.map((x) => el("li", {}, el("p", {}, x.text), x.remedy ? el("p", {}, x.remedy) : null)))) : null);
}

// A statement and, behind a fold, who says so; common practice has nobody to name.
const statement = (s) => el("li", {}, el("p", {}, s.text), s.source_said?.key === "source.common-practice" ? null
  : el("details", { class: "source" }, el("summary", {}, t("result-source")), el("p", {}, s.source)));

function meaning(r) {
  const m = r.meaning;
  if (!m) return null;
  return section("result-meaning", el("ul", { class: "meaning-lines" }, m.lines.map(statement)),
    m.more?.length ? fold(t("result-meaning-more", { n: number(m.more.length) }), el("ul", { class: "meaning-lines" }, m.more.map(statement))) : null,
    fold(t("result-laboratory"), el("ul", { class: "meaning-lines" }, statement(m.laboratory))));
}

// doubts says what would make the reading surer, and what it reckons with.
function doubts(r) {
  const causes = (r.causes || []).filter((c) => c.share >= 0.05).slice(0, 4);
  const given = [t("result-given-temp", { temp: temperature(r.temp_c), from: t(r.temp_from === "stated" ? "result-stated" : "result-assumed") }),
    r.water_depth_mm ? t(r.water_depth_from === "sheet" ? "result-given-depth-sheet" : "result-given-depth", { depth: length(r.water_depth_mm, 0) }) : t("result-given-nodepth")];
  return fold(t("result-doubts"), r.next_photo ? el("p", {}, r.next_photo.text) : null, causes.length ? el("ul", {}, causes.map((c) => el("li", {}, c.text))) : null,
    el("p", {}, t("result-given"), " ", given.join(" ")));
}

// What to take care of: the most pressing in sight, the rest one touch away.
const PRESSING = ["glass", "tetanus", "limits"];

async function cautions() {
  const list = await program.ask("cautions");
  const rest = list.filter((s) => !PRESSING.includes(s.topic));
  return section("result-cautions", el("ul", { class: "meaning-lines" }, list.filter((s) => PRESSING.includes(s.topic)).map(statement)),
    fold(t("result-cautions-more", { n: number(rest.length) }), el("ul", { class: "meaning-lines" }, rest.map(statement))));
}

// keep saves and shares what was read.
function keep(answer, jar, photos) {
  const file = (jar.record.name || "jar").normalize("NFKD").replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "") || "jar";
  const state = el("p", { role: "status", class: "soft" });
  const work = (make) => async (e) => {
    const pressed = e.currentTarget;
    pressed.disabled = true;
    state.textContent = t("result-preparing");
    try {
      await make();
      state.textContent = "";
    } catch (err) {
      state.textContent = err.name === "AbortError" ? "" : t("photo-failed", { reason: why(err) });
    } finally {
      pressed.disabled = false;
    }
  };
  const report = async () => {
    await desk.settled(jar, photos);
    return new File([await program.report()], `${file}.html`, { type: "text/html" });
  };
  const packed = async () => new File([await program.pack(jar.record, answer.reading, photos.map(({ name, blob }) => ({ name, blob })))], `${file}.zip`, { type: "application/zip" });
  const saving = (make) => work(async () => { const f = await make(); save(f.name, f); });
  const share = navigator.canShare?.({ files: [new File(["x"], "x.html", { type: "text/html" })] })
    ? button(t("result-share"), work(async () => { await navigator.share({ files: [await report()], title: jar.record.name || "" }); })) : null;
  return section("result-keep", el("div", { class: "row" },
    button(t("result-report"), saving(report), { kind: "main", sign: "save" }), button(t("result-file"), saving(packed), { sign: "file" }), share), el("p", { class: "soft" }, t("result-keep-how"), " ", t("save-bare")), state);
}
