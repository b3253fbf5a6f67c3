// What could be said so far of a jar that is being watched. It runs in the worker
// and is asked for beside the schedule, never within it.
import { chart } from "../chart.js";
import * as desk from "../desk.js";
import { el } from "../dom.js";
import { headline, partsOf } from "../fractions.js";
import * as program from "../program.js";
import * as store from "../store.js";
import { t } from "../words.js";
import { thin } from "./schedule.js";

// From how many photos on it is tried, and how many are read at most.
const FEWEST = 3, MOST = 16;

/** A place for it: {element, update(jar)}. An update that comes while another runs is left out. */
export function soFar() {
  const words = el("div", { class: "stack tight" }, el("p", { class: "soft" }, t("watch-sofar-none")));
  const curve = chart("settling");
  curve.figure.hidden = true;
  const element = el("section", { class: "card stack sofar" }, el("h2", {}, t("watch-sofar")), words, curve.figure);
  let busy = false;
  const update = async (jar) => {
    if (busy) return;
    busy = true;
    try {
      const photos = (await store.photos(jar.id)).filter((p) => p.name.startsWith("watch_"));
      if (photos.length < FEWEST) return;
      const answer = await desk.glimpse(jar, thin(photos, MOST));
      if (!answer.reading) {
        words.replaceChildren(el("p", { class: "soft" }, t("watch-sofar-none")),
          el("p", { class: "small soft" }, answer.mistake ?? (await program.told(answer)).refused?.text ?? ""));
        return;
      }
      words.replaceChildren(...[answer.reading.fractions && el("p", { class: "strong" }, headline(answer.reading)), partsOf(answer.reading),
        el("p", { class: "small soft" }, t("watch-sofar-early"))].filter(Boolean));
      curve.figure.hidden = false;
      curve.figure.hidden = !await curve.update({ reading: answer.reading });
    } catch {
      // The worker may have ended; the next photo tries again. Nothing is lost by it.
    } finally {
      busy = false;
    }
  };
  return { element, update };
}
