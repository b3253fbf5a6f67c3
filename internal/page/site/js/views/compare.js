// Several jars side by side.
import { address } from "../route.js";
import { chart } from "../chart.js";
import { el, save, unique } from "../dom.js";
import { explain } from "../explain.js";
import { FRACTIONS, headline, percent, sureness } from "../fractions.js";
import { button, fold, select, thumb } from "../parts.js";
import * as program from "../program.js";
import * as store from "../store.js";
import { inches, number, t } from "../words.js";

const OPEN = 6; // differences in sight, the largest first
const ORDERS = ["difference", "name", "sand", "silt", "clay", "water", "class"];
// The choice is kept while the page is open.
let chosen, order = "difference";

export async function view(root) {
  const jars = (await store.jars()).filter((j) => j.answer?.reading);
  const place = el("div", { class: "stack" }, el("h1", {}, t("compare-title")));
  root.append(place);
  if (jars.length < 2) {
    place.append(el("p", {}, t(jars.length ? "compare-one" : "compare-none")), el("p", {}, el("a", { class: "button main", href: "#/" }, t("compare-to-jars"))));
    return undefined;
  }
  chosen ||= new Set(jars.map((j) => j.id));
  const out = el("div", { class: "compared stack loose wide" });
  const charts = { stacked: chart("stacked"), triangle: chart("triangle") };
  const redraw = () => show(out, charts, jars.filter((j) => chosen.has(j.id)));
  place.append(pick(jars, redraw), out);
  await redraw();
  return undefined;
}

function pick(jars, redraw) {
  const id = unique("order");
  const sort = select(ORDERS.map((o) => [o, t(`compare-by-${o}`)]), order, { id, onchange: (e) => { order = e.target.value; redraw(); } });
  const box = (j) => el("label", { class: "tick" }, el("input", { type: "checkbox", checked: chosen.has(j.id),
    onchange: (e) => { if (e.target.checked) chosen.add(j.id); else chosen.delete(j.id); redraw(); } }), el("span", {}, j.record.name || t("photo-jar")));
  return el("div", { class: "picks stack" }, el("fieldset", { class: "field" }, el("legend", {}, t("compare-which")), el("div", { class: "row" }, jars.map(box))),
    el("div", { class: "field" }, el("label", { for: id }, t("compare-sort")), sort));
}

async function show(out, charts, jars) {
  if (jars.length < 2) { out.replaceChildren(el("p", {}, t("compare-choose"))); return; }
  const pictures = new Map(await Promise.all(jars.map(async (j) => [j.id, await picture(j)])));
  const named = jars.map((j) => ({ name: j.record.name || t("photo-jar"), reading: j.answer.reading }));
  const request = { jars: named, order };
  const c = await program.ask("compare", request);
  // The comparison sorts and makes names unique; source is a jar's place in the request.
  const sorted = c.jars.map((row) => jars[row.source - 1]);
  const shown = { jars: c.jars.map((row, i) => ({ name: row.name, reading: sorted[i].answer.reading })) };
  // Drawn before it is shown, so that nothing moves away under a finger.
  for (const one of [charts.stacked, charts.triangle]) await one.update(shown, out.clientWidth);
  out.replaceChildren(charts.stacked.figure, el("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": t("compare-title") }, table(c, sorted, pictures)), differences(c), el("section", { class: "stack" }, el("h2", {}, t("compare-triangle")), charts.triangle.figure),
    el("div", { class: "row" }, button(t("compare-print"), () => window.print(), { sign: "file" }), button(t("compare-csv"), async () => {
      const { csv } = await program.ask("compare-csv", request);
      save("jars.csv", new Blob([csv], { type: "text/csv;charset=utf-8" }));
    }, { sign: "save" })), el("p", { class: "soft" }, t("compare-csv-how")));
}

// The small picture of the jar's last photo.
async function picture(jar) {
  const notes = await store.notes(jar.id), last = jar.answer.reading.photos.at(-1)?.file;
  return (notes.find((n) => n.thumb && n.name === last) || notes.findLast((n) => n.thumb))?.thumb;
}

// One table that a narrow screen shows as cards.
function table(c, jars, pictures) {
  const head = ["jar", "class", ...FRACTIONS, "water", "days"];
  const word = (k) => (FRACTIONS.includes(k) ? t(`result-word-${k}`) : t(`compare-col-${k}`));
  const cell = (k, ...children) => el("td", { "data-head": word(k), class: k, role: "cell" }, children);
  const range = (e, digits = 0) => [el("strong", {}, percent(e.percent)), " ", el("small", {}, t("result-range", { low: number(e.low, digits), high: number(e.high, digits) }))];
  const water = (v) => (inches() ? t("compare-water-in", { v: number(v * 12 / 1000, 1) }) : t("compare-water-mm", { v: number(v) }));
  const row = (r, i) => el("tr", { role: "row" },
    el("th", { scope: "row", role: "rowheader" }, el("span", { class: "number", "aria-hidden": "true" }, String(i + 1)), " ", thumb(pictures.get(jars[i].id)), " ", el("a", { href: address("jar", jars[i].id, "result") }, r.name)),
    cell("class", r.class ? el("span", {}, headline(r), " ", el("small", {}, sureness(r.class))) : t("compare-no-class")),
    FRACTIONS.map((k) => cell(k, r.fractions ? range(r.fractions[k]) : "–")),
    cell("water", r.available_water_mm_per_m ? water(r.available_water_mm_per_m.value) : "–"),
    cell("days", r.days_between_waterings ? t("result-range", { low: number(r.days_between_waterings.low), high: number(r.days_between_waterings.high) }) : "–"));
  return el("table", { class: "jar-table", role: "table" }, el("caption", { class: "unseen" }, t("compare-title")),
    el("thead", { role: "rowgroup" }, el("tr", { role: "row" }, head.map((k) => el("th", { scope: "col", role: "columnheader" }, word(k), k === "water" ? explain("water") : null)))),
    el("tbody", { role: "rowgroup" }, c.jars.map(row)));
}

// What differs beyond the uncertainty, in sentences.
function differences(c) {
  const sure = c.differences.filter((d) => d.differs);
  const line = (d) => {
    const [more, less, low, high] = d.points >= 0 ? [d.a, d.b, d.low, d.high] : [d.b, d.a, -d.high, -d.low];
    return el("li", {}, t("compare-differs", { more, less, what: t(`compare-differs-${d.fraction}`), points: number(Math.abs(d.points)), low: number(Math.max(low, 0)), high: number(high) }));
  };
  sure.sort((a, b) => Math.abs(b.points) - Math.abs(a.points));
  const rest = c.differences.length - sure.length, more = sure.slice(OPEN);
  return el("section", { class: "stack" }, el("h2", {}, t("compare-differences")),
    sure.length ? el("ul", { class: "dots" }, sure.slice(0, OPEN).map(line)) : el("p", {}, t("compare-same")),
    more.length ? fold(t("compare-more", { n: number(more.length) }), el("ul", { class: "dots" }, more.map(line))) : null,
    sure.length && rest ? el("p", { class: "soft" }, t("compare-rest")) : null);
}
