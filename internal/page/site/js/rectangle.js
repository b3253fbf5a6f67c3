// Drawing a box round the jar: a rectangle pulled open with a finger or the mouse.

const LEAST = 24; // CSS pixels: less was a touch, not a rectangle

/**
 * drawBox listens on a stage's element: while on() holds, pulling over the photo gives
 * drawn([x0, y0, x1, y1]) in CSS pixels of the element, again and again until it is let go.
 */
export function drawBox(element, on, drawn) {
  element.addEventListener("pointerdown", (down) => {
    if (!on() || !down.isPrimary || down.button > 0 || down.target.closest(".handle, button")) return;
    down.preventDefault();
    const r = element.getBoundingClientRect();
    const end = new AbortController();
    element.setPointerCapture(down.pointerId);
    element.addEventListener("pointermove", (e) => {
      if (e.pointerId !== down.pointerId) return;
      const xs = [down.clientX - r.left, e.clientX - r.left], ys = [down.clientY - r.top, e.clientY - r.top];
      if (Math.abs(xs[1] - xs[0]) < LEAST || Math.abs(ys[1] - ys[0]) < LEAST) return;
      drawn([Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]);
    }, { signal: end.signal });
    for (const over of ["pointerup", "pointercancel"]) element.addEventListener(over, (e) => { if (e.pointerId === down.pointerId) end.abort(); }, { signal: end.signal });
  });
}
