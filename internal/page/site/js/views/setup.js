// Setting a jar up, one thing at a time, and changing what is known of it later.
import { address, go } from "../route.js";
import { el } from "../dom.js";
import { chosen, mistaken, moment, nameField, prepared, preparedFold, quantity } from "../fields.js";
import { back, button, fold, jarDrawing, notice, toast } from "../parts.js";
import { planned, stamp } from "../plan.js";
import * as program from "../program.js";
import * as store from "../store.js";
import { why } from "../why.js";
import { lengthIn, number, t } from "../words.js";

export const view = (place, id) => (id ? change(place, id) : begin(place));

const STEPS = ["name", "fill", "depth", "temp", "shake"];

// begin walks through the steps. The jar is stored from the first one on.
async function begin(place) {
  const box = el("div", { class: "stack wizard" });
  place.append(box);
  let jar;
  const keep = async (key, value) => {
    const set = (j) => { if (value) j.record[key] = value; else delete j.record[key]; };
    if (jar) { jar = await store.edit(jar.id, set); return; }
    jar = await store.create({ [key]: value });
  };
  const show = (i) => {
    const step = STEPS[i];
    const messages = el("div", { class: "messages", role: "alert" });
    const next = async (f) => {
      const fields = [f].flat().filter(Boolean);
      const wrong = await mistaken(fields);
      if (wrong) return wrong.focus();
      try {
        for (const one of fields) await keep(one.key, one.value());
        if (i + 1 < STEPS.length) show(i + 1);
        else go("jar", jar.id);
      } catch (e) {
        messages.replaceChildren(notice("bad", el("p", {}, e instanceof store.Full ? t("full") : why(e))));
      }
      return undefined;
    };
    const { picture, title, body, f, actions } = STEP[step](jar, next);
    const heading = el("h1", { tabindex: "-1" }, title);
    const before = i ? button(t("back"), () => show(i - 1), { kind: "quiet" }) : el("a", { class: "button quiet", href: address() }, t("cancel"));
    box.replaceChildren(
      el("div", { class: "stack tight" }, el("p", { class: "soft" }, t("setup-step", { n: i + 1, all: STEPS.length })),
        el("ol", { class: "count", "aria-hidden": "true" }, STEPS.map((_, k) => el("li", { class: k <= i ? "done" : null })))),
      el("div", { class: "picture" }, picture), heading,
      el("form", { novalidate: true, onsubmit: (e) => { e.preventDefault(); next(f); } }, body, messages,
        el("div", { class: "actions" }, before, actions || el("button", { type: "submit", class: "main" }, t("next")))));
    window.scrollTo(0, 0);
    if (i || jar) heading.focus();
  };
  show(0);
}

// What each step shows: its picture, title, body, its field, and its own actions.
const STEP = {
  name(jar) {
    const f = nameField(jar?.record.name, true);
    return { picture: jarDrawing(3), title: t("setup-name"), body: f.element, f };
  },
  // How much soil goes in is told before it does: by the height that the water will have.
  fill(jar) {
    const soil = el("p", { class: "strong", role: "status" });
    const amount = async (level, unit) => {
      const { soil_mm: mm, soil_share: share } = await planned(level ? { "water-depth": level } : {});
      soil.textContent = mm ? t("setup-soil-of", { height: lengthIn(mm, unit) }) : t("setup-soil", { share: fraction(share) });
    };
    const level = quantity("water-depth", "", { texts: "water-level", changed: (text, unit) => amount(text, unit).catch(() => {}) });
    amount("", "").catch(() => soil.remove());
    const f = prepared(jar.record);
    return { picture: jarDrawing(0), title: t("setup-fill"),
      body: [level.element, soil, el("ol", { class: "dots" }, ["soil", "water", "powder"].map((k) => el("li", {}, t(`setup-fill-${k}`)))), notice("", el("p", {}, t("caution-powder"))), preparedFold(f)], f };
  },
  depth(jar) {
    const f = quantity("water-depth", jar.record["water-depth"], { big: true });
    return { picture: jarDrawing(3, true), title: t("field-water-depth"), body: [f.element], f };
  },
  temp(jar) {
    const f = quantity("temp", jar.record.temp, { big: true });
    return { picture: jarDrawing(0), title: t("setup-temp"), body: [el("p", {}, t("setup-temp-why")), f.element], f };
  },
  shake(jar, next) {
    const when = moment(jar.record.shaken);
    const down = (value) => next({ key: "shaken", value: () => value, check: async () => true });
    return { picture: jarDrawing(1), title: t("setup-shake"),
      body: [el("ol", { class: "dots" }, ["lid", "long", "down"].map((k) => el("li", {}, t(`setup-shake-${k}`)))), cautions(),
        fold(t("setup-earlier"), when.element, el("div", {}, button(t("setup-earlier-keep"), async () => {
          if (when.value() && await when.check()) down(when.value());
          else { when.wrong(t("field-shaken-empty")); when.focus(); }
        })))],
      actions: [button(t("set-down-now"), () => down(stamp(new Date())), { kind: "main full" }),
        button(t("setup-later"), () => go("jar", jar.id), { kind: "quiet" })] };
  },
};

const cautions = () => notice("", el("p", {}, t("caution-glass")), el("p", {}, t("caution-hands")));

// The share of soil as a plain fraction.
const fraction = (share) => ({ 0.2: "1/5", 0.25: "1/4", 0.33: "1/3", 0.5: "1/2" }[Math.round(share * 100) / 100] || `${number(share * 100)} %`);

// change shows all that is known of a jar, to be put right.
async function change(place, id) {
  const jar = await store.jar(id);
  if (!jar) return go();
  const r = jar.record;
  const names = await program.ask("crops").catch(() => []);
  const crops = [["", t("field-crop-none")], ...names];
  const first = [nameField(r.name), quantity("water-depth", r["water-depth"]), quantity("temp", r.temp), moment(r.shaken)];
  const more = [chosen("crop", crops, r.crop), quantity("rooting-depth", r["rooting-depth"]), quantity("daily-use", r["daily-use"]),
    quantity("organic-matter", r["organic-matter"])];
  const made = prepared(r);
  const system = chosen("system", ["usda", "canadian", "england-wales", "international", "australian", "german", "european"].map((s) => [s, t(`system-${s}`)]), r.system || "usda");
  const messages = el("div", { class: "messages", role: "alert" });
  const save = async (e) => {
    e.preventDefault();
    messages.replaceChildren();
    const bad = await mistaken([...first, ...made, ...more]);
    if (bad) { bad.focus(); return; }
    const set = (j) => {
      for (const f of [...first, ...made, ...more, system]) {
        const v = f.value();
        if (!v || (f === system && v === "usda" && !r.system)) delete j.record[f.key];
        else j.record[f.key] = v;
      }
    };
    try {
      const wrong = structuredClone(jar);
      set(wrong);
      const { mistake } = await program.ask("record", wrong.record);
      if (mistake) { messages.replaceChildren(notice("bad", el("p", {}, mistake))); return; }
      await store.edit(id, set);
      toast(t("setup-saved"));
      go("jar", id);
    } catch (err) {
      messages.replaceChildren(notice("bad", el("p", {}, err instanceof store.Full ? t("full") : why(err))));
    }
  };
  place.append(el("div", { class: "stack" }, back(r.name || t("jar-unnamed"), "jar", id), el("h1", {}, t("setup-change")),
    el("form", { novalidate: true, onsubmit: save },
      el("div", { class: "card stack" }, first.map((f) => f.element)),
      preparedFold(made),
      fold(t("setup-garden"), el("div", { class: "card stack" }, el("p", { class: "soft" }, t("setup-garden-why")), more.map((f) => f.element))),
      fold(t("setup-advanced"), el("div", { class: "card stack" }, system.element)),
      messages,
      el("div", { class: "row" }, el("button", { type: "submit", class: "main grow" }, t("save")),
        el("a", { class: "button quiet", href: address("jar", id) }, t("cancel"))))));
  return undefined;
}
