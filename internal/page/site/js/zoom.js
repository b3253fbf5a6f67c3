// Coming closer to the picture on a stage: with two fingers, with the wheel, with
// the buttons, and moving about in it once it is larger than its frame.
import { el } from "./dom.js";
import { icon } from "./parts.js";
import { t } from "./words.js";

/** By how much one press of a button, or of a key, comes closer. */
export const STEP = 1.6;
const TAP = 2.5; // a double tap

/**
 * gestures listens on a stage's element for
 *   scale(factor, [x, y])  come closer about a point of the element; false where
 *                          it is as close, or as far, as it can be
 *   pan(dx, dy)            move the picture
 * larger() says whether the picture is larger than its frame, held() whether a
 * line is in the hand, which goes before all else.
 */
export function gestures(element, { scale, pan, larger, held }) {
  const within = (x, y) => {
    const r = element.getBoundingClientRect();
    return [x - r.left, y - r.top];
  };
  const onPicture = (e) => !e.target.closest(".handle, .grip, button");
  pinch(element, within, { scale, pan, held });

  // One finger moves the page, until the picture is larger than its frame.
  element.addEventListener("pointerdown", (down) => {
    if (!down.isPrimary || down.button > 0 || !larger() || !onPicture(down)) return;
    let [x, y] = [down.clientX, down.clientY];
    const on = new AbortController();
    element.setPointerCapture(down.pointerId);
    element.addEventListener("pointermove", (e) => {
      if (e.pointerId !== down.pointerId || held()) return;
      if (!element.pinching) pan(e.clientX - x, e.clientY - y);
      [x, y] = [e.clientX, e.clientY];
    }, { signal: on.signal });
    for (const end of ["pointerup", "pointercancel"]) element.addEventListener(end, (e) => { if (e.pointerId === down.pointerId) on.abort(); }, { signal: on.signal });
  });
  element.addEventListener("dblclick", (e) => {
    if (onPicture(e)) scale(larger() ? 0 : TAP, within(e.clientX, e.clientY));
  });
  // The wheel alone moves the page, unless the person is at work on the picture.
  element.addEventListener("wheel", (e) => {
    if (!(e.ctrlKey || e.metaKey || larger() || element.contains(document.activeElement))) return;
    const lines = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? 30 : 1;
    const by = Math.exp(-e.deltaY * lines * (e.ctrlKey ? 0.01 : 0.002));
    if (scale(by, within(e.clientX, e.clientY)) || e.ctrlKey) e.preventDefault();
  }, { passive: false });
}

function pinch(element, within, { scale, pan, held }) {
  let last;
  const read = ([a, b]) => ({ apart: Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY) || 1,
    at: within((a.clientX + b.clientX) / 2, (a.clientY + b.clientY) / 2) });
  const both = (touches) => touches.length === 2 && [...touches].every((one) => element.contains(one.target));
  const end = () => { last = undefined; element.pinching = false; };
  element.addEventListener("touchstart", (e) => {
    if (!both(e.touches) || held()) { end(); return; }
    if (e.cancelable) e.preventDefault();
    last = read(e.touches);
    element.pinching = true;
  }, { passive: false });
  element.addEventListener("touchmove", (e) => {
    if (!last || !both(e.touches) || !e.cancelable) return;
    e.preventDefault();
    const now = read(e.touches);
    pan(now.at[0] - last.at[0], now.at[1] - last.at[1]);
    scale(now.apart / last.apart, now.at);
    last = now;
  }, { passive: false });
  for (const name of ["touchend", "touchcancel"]) element.addEventListener(name, end);
  // Safari on a desk tells of two fingers on the trackpad in events of its own.
  let size = 1;
  element.addEventListener("gesturestart", (e) => { e.preventDefault(); size = 1; });
  element.addEventListener("gesturechange", (e) => {
    e.preventDefault();
    if (!last) scale(e.scale / size, within(e.clientX, e.clientY));
    size = e.scale;
  });
}

/** The buttons: {element, tell(canCome, canGo)}; come(factor) is called. */
export function buttons(come) {
  const one = (sign, key, factor) => el("button", { type: "button", "aria-label": t(key), title: t(key), onclick: () => come(factor) }, icon(sign));
  const closer = one("plus", "photo-closer", STEP), further = one("minus", "photo-further", 1 / STEP);
  return {
    element: el("div", { class: "zoom-keys", role: "group", "aria-label": t("photo-zoom") }, closer, further),
    tell(canCome, canGo) {
      closer.setAttribute("aria-disabled", String(!canCome));
      further.setAttribute("aria-disabled", String(!canGo));
    },
  };
}
