// The handle of a line: what a finger, a mouse or keys take hold of.
import { el } from "./dom.js";
import { isBox, isSide } from "./lines.js";
import { t } from "./words.js";

/** The name of a line in place of its handle, where nothing can be moved. */
export const tag = (name) => el("div", { class: "tag", "aria-hidden": "true" }, t(`photo-line-${name}`));

/** The handle of a line in a photo of a size; on has its listeners take, key, focus and blur. */
export function handle(name, size, on) {
  const side = isSide(name), small = side || isBox(name);
  return el("div", {
    class: `handle ${name}${side ? " across" : small ? " edge" : ""}`, role: "slider", tabindex: "0", "aria-label": t(`photo-line-${name}`),
    "aria-orientation": side ? "horizontal" : "vertical",
    "aria-valuemin": small ? 0 : -100, "aria-valuemax": small ? size[side ? 0 : 1] : 200,
    onpointerdown: on.take, onkeydown: on.key, onfocus: on.focus, onblur: on.blur,
  }, el("span", { class: "grab", "aria-hidden": "true" }), small ? null : el("span", { class: "handle-name" }, t(`photo-line-${name}`)));
}

/** By how many pixels of the photo a key moves a line; undefined for other keys. */
export function stepOf(e, side) {
  const step = e.shiftKey ? 10 : 1;
  return (side
    ? { ArrowLeft: -step, ArrowDown: -step, ArrowRight: step, ArrowUp: step, PageUp: 10, PageDown: -10 }
    : { ArrowUp: -step, ArrowRight: -step, ArrowDown: step, ArrowLeft: step, PageUp: -10, PageDown: 10 })[e.key];
}
