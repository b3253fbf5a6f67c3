// When many jars were set down, asked once for all of them.
import { el } from "./dom.js";
import { moment } from "./fields.js";
import { takenAt } from "./incoming.js";
import { choices, field, select } from "./parts.js";
import { stamp } from "./plan.js";
import * as program from "./program.js";
import { t } from "./words.js";

// The field of how long each jar stood before its first photo. seconds is undefined until
// check has found it right.
function lead() {
  const input = el("input", { type: "text", inputmode: "decimal", autocomplete: "off" });
  const units = select(["s", "min", "h", "d"].map((u) => [u, t(`unit-${u}`)]), "min", { "aria-label": t("unit-time") });
  const f = field({ label: t("many-lead"), help: t("many-lead-help"), control: input, beside: units });
  const it = { element: f.element, seconds: undefined, focus: () => input.focus(), check: async () => {
    const text = input.value.trim(), file = "photo.jpg";
    const record = { photos: { [file]: { elapsed: /[a-z]/i.test(text) ? text : `${text}${units.value}` } } };
    const bad = !text || Boolean((await program.ask("record", record)).mistake);
    it.seconds = bad ? undefined : (await program.ask("elapsed", { record, photos: [{ file, taken: "" }] }))[0].elapsed_s;
    f.wrong(bad ? t("photo-when-wrong") : "");
    return !bad;
  } };
  for (const e of [input, units]) e.addEventListener("change", it.check);
  return it;
}

// Photos this close, in ms, may be of one round past all jars.
const ROUND = 10 * 60_000;

const firstOf = (photos) => Math.min(...photos.map(takenAt).filter(Boolean));

// Whether a jar's first photo is from a round that is a later one of another jar: then it is
// not the photo that was meant.
function late(photos, jars) {
  const at = firstOf(photos);
  return jars.some((others) => firstOf(others) < at - ROUND && others.some((o) => Math.abs(takenAt(o) - at) < ROUND));
}

/**
 * The question of when the jars were set down. Gives {element, check(), focus(), of}:
 * of(photos, jars, more) is what the record of a jar with these photos, among those of all
 * jars, states of it, {} where nothing is known; more says that it had photos before.
 */
export function setDown() {
  const at = moment(), before = lead(), place = el("div");
  let how = "";
  const shown = () => ({ same: at, before })[how];
  const asked = choices(t("many-when"), [["", t("many-when-later")], ["before", t("many-when-before")], ["same", t("many-one-time")]], "", (v) => {
    how = v;
    place.replaceChildren(shown()?.element || "");
  }, { help: t("many-when-help") });
  return {
    element: el("div", { class: "stack set-down" }, asked, place),
    check: async () => !shown() || shown().check(),
    focus: () => shown().focus(),
    of(photos, jars, more) {
      if (how === "same") return at.value() ? { shaken: at.value() } : {};
      if (how !== "before" || more || !Number.isFinite(firstOf(photos)) || late(photos, jars)) return {};
      return { shaken: stamp(new Date(firstOf(photos) - before.seconds * 1000)) };
    },
  };
}
