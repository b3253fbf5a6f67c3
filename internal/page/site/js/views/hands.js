// The hand test: one question at a time, every one may be left out.
import { address, go } from "../route.js";
import * as desk from "../desk.js";
import { el, say, unique } from "../dom.js";
import { handDrawing } from "../hand_drawings.js";
import { back, button, notice } from "../parts.js";
import * as program from "../program.js";
import { capital } from "../remedy.js";
import * as store from "../store.js";
import { why } from "../why.js";
import { MM_PER_INCH, inches, number, t, written } from "../words.js";
import { handsSay } from "./result.js";

export async function view(place, id) {
  const jar = await store.jar(id);
  if (!jar) { go(); return undefined; }
  const test = new HandTest(place, jar, await store.photos(id), await program.ask("hands"));
  test.start();
  return undefined;
}

class HandTest {
  #jar; #photos; #questions; #body; #heading; #at = -1;

  constructor(place, jar, photos, questions) {
    [this.#jar, this.#photos, this.#questions] = [jar, photos, questions];
    this.#heading = el("h1", { tabindex: "-1" }, t("hands-title"));
    this.#body = el("div", { class: "hands stack" });
    place.append(back(jar.record.name || t("photo-jar"), "jar", jar.id), this.#heading, this.#body);
  }

  get #answers() { return this.#jar.record.hand || {}; }

  start() {
    const any = Object.keys(this.#answers).length > 0;
    const step = (key, at, kind) => button(t(key), () => this.#go(at), { kind });
    this.#heading.textContent = t("hands-title");
    this.#body.replaceChildren(el("p", {}, t("hands-intro")), el("p", {}, t("hands-skip-all")),
      el("div", { class: "steps" }, step(any ? "hands-go-on" : "hands-begin", 0, "main"), any ? step("hands-see", this.#questions.length) : null));
  }

  #go(at) {
    this.#at = at;
    if (at < 0) this.start();
    else if (at >= this.#questions.length) this.#end();
    else this.#ask(this.#questions[at]);
    window.scrollTo(0, 0);
  }

  async #answer(key, value) {
    const hand = { ...this.#answers };
    if (value === undefined || value === "" || (Array.isArray(value) && !value.length)) delete hand[key];
    else hand[key] = value;
    const alter = (j) => {
      if (Object.keys(hand).length) j.record.hand = hand;
      else delete j.record.hand;
    };
    alter(this.#jar);
    try {
      await store.edit(this.#jar.id, alter);
      return true;
    } catch (e) {
      this.#body.prepend(notice("bad", el("p", { role: "alert" }, e instanceof store.Full ? t("photo-full") : t("photo-failed", { reason: why(e) }))));
      return false;
    }
  }

  #ask(q) {
    const at = this.#at;
    this.#heading.textContent = q.Do;
    const step = el("p", { class: "soft" }, t("hands-step", { n: number(at + 1), all: number(this.#questions.length) }));
    const bar = el("progress", { max: this.#questions.length, value: at, "aria-label": t("hands-progress") });
    const how = el("div", { class: "how" }, handDrawing(q.Key), el("p", {}, q.How));
    const ask = el("h2", { id: "ask" }, q.Ask);
    const field = { choice: () => this.#choices(q), lengths: () => this.#ribbons(q), text: () => this.#words(q) }[q.Kind]();
    this.#body.replaceChildren(step, bar, how, el("div", { class: "stack", role: "group", "aria-labelledby": "ask" }, ask, field.element),
      el("div", { class: "steps" },
        button(t("hands-back"), () => this.#go(at - 1), { kind: "quiet" }),
        button(t("hands-skip"), async () => { if (await this.#answer(q.Key, undefined)) this.#go(at + 1); }),
        field.next ? button(t("hands-next"), async () => { if (await field.next()) this.#go(at + 1); }, { kind: "main" }) : null));
    this.#heading.focus();
  }

  #choices(q) {
    const at = this.#at, now = this.#answers[q.Key];
    return { element: el("ul", { class: "answers-to-choose" }, q.Choices.map((c) => el("li", {}, el("button", {
      type: "button", class: "choice", "aria-pressed": String(c.Value === now),
      onclick: async () => { if (await this.#answer(q.Key, c.Value)) this.#go(at + 1); },
    }, c.Label)))) };
  }

  #words(q) {
    const id = unique("hand");
    const input = el("input", { id, type: "text", maxlength: "60", autocomplete: "off", value: this.#answers[q.Key] || "" });
    return {
      element: el("div", { class: "field" }, el("label", { for: id }, t("hands-words")), input, el("p", { class: "soft" }, t("hands-example", { example: q.Example }))),
      next: () => this.#answer(q.Key, input.value.trim()),
    };
  }

  // A list of lengths in the person's unit, kept as text with the unit.
  #ribbons(q) {
    const unit = inches() ? "in" : "mm";
    const shown = (text) => {
      const m = /^([\d.,]+)\s*(mm|cm|in)?$/.exec(text.trim());
      if (!m) return "";
      const mm = parseFloat(m[1].replace(",", ".")) * { mm: 1, cm: 10, in: MM_PER_INCH }[m[2] || "mm"];
      return unit === "in" ? written(mm / MM_PER_INCH, 2) : written(mm, 1);
    };
    const kept = [this.#answers[q.Key] ?? []].flat().filter((v) => v !== "none");
    const list = el("ol", { class: "ribbons" });
    const wrong = el("p", { class: "wrong", role: "alert" });
    const add = (value = "", focus = false) => {
      const id = unique("ribbon");
      const input = el("input", { id, inputmode: "decimal", autocomplete: "off", value, size: "6" });
      const row = el("li", {}, el("label", { for: id }, t("hands-ribbon", { unit: t(`hands-unit-${unit}`) })), input,
        button(t("hands-remove"), () => { row.remove(); more.focus(); }, { kind: "quiet" }));
      list.append(row);
      if (focus) input.focus();
    };
    const more = button(t("hands-add"), () => add("", true), { sign: "plus" });
    kept.length ? kept.forEach((v) => add(shown(v))) : add();
    const at = this.#at;
    return {
      element: el("div", { class: "stack" }, list, more, button(t("hands-no-ribbon"), async () => { if (await this.#answer(q.Key, ["none"])) this.#go(at + 1); }), wrong),
      next: async () => {
        const values = [];
        for (const input of list.querySelectorAll("input")) {
          const text = input.value.trim();
          if (!text) continue;
          const v = Number(text.replace(",", "."));
          if (!(v >= 0 && v <= (unit === "in" ? 12 : 300))) {
            wrong.textContent = t("hands-wrong-length", { text, example: unit === "in" ? written(1.25, 2) : "30" });
            input.focus();
            return false;
          }
          values.push(`${v} ${unit}`);
        }
        return this.#answer(q.Key, values);
      },
    };
  }

  async #end() {
    this.#heading.textContent = t("hands-end");
    this.#heading.focus();
    const status = el("p", { role: "status" }, t("photo-reading"));
    const out = el("div", {}, status);
    this.#body.replaceChildren(out, this.#given(), el("div", { class: "steps" },
      button(t("hands-back"), () => this.#go(this.#questions.length - 1), { kind: "quiet" }),
      el("a", { class: "button main", href: address("jar", this.#jar.id, "result") }, t("photo-done"))));
    if (!Object.keys(this.#answers).length) { status.textContent = t("hands-nothing"); return; }
    try {
      const answer = desk.fresh(this.#jar, this.#photos) ? this.#jar.answer : await desk.read(this.#jar, this.#photos, (done, all) => {
        if (done < all) status.textContent = t("photo-opening", { n: number(done + 1), all: number(all) });
        else status.textContent = t("photo-reading");
      });
      const hand = answer.reading && (await program.told(answer)).reading.hand;
      if (hand) out.replaceChildren(handsSay(hand));
      else status.textContent = answer.mistake !== undefined ? answer.mistake : t("hands-no-jar");
      say(out.textContent);
    } catch (e) {
      status.textContent = e instanceof store.Full ? t("photo-full") : t("photo-failed", { reason: why(e) });
    }
  }

  // The answers so far, each a way back to its question.
  #given() {
    const rows = this.#questions.map((q, i) => {
      const v = this.#answers[q.Key];
      if (v === undefined) return null;
      const words = q.Kind === "choice" ? q.Choices.find((c) => c.Value === v)?.Label || v : [v].flat().map((x) => (x === "none" ? t("hands-no-ribbon") : x)).join(", ");
      return el("li", {}, el("button", { type: "button", class: "given", onclick: () => this.#go(i) }, el("span", {}, q.Do), el("strong", {}, capital(words))));
    });
    return el("section", {}, el("h2", {}, t("hands-given")), el("ul", { class: "answers" }, rows));
  }
}
