// Handles that stand in a column beside the jar.

/**
 * Spreads handles in order from the bottom up so that they stand gap apart
 * between top and bottom, near to where they want to be; the pinned one stays.
 */
export function spread(list, gap, top, bottom, pinned) {
  const clamp = (v) => Math.min(Math.max(v, top), bottom);
  for (const one of list) one.at = clamp(one.y);
  const hold = list.findIndex((one) => one.name === pinned);
  const up = (from) => { for (let i = from + 1; i < list.length; i++) list[i].at = Math.min(list[i].at, list[i - 1].at - gap); };
  const down = (from) => { for (let i = from - 1; i >= 0; i--) list[i].at = Math.max(list[i].at, list[i + 1].at + gap); };
  if (hold >= 0) { up(hold); down(hold); return; }
  // Groups that crowd are moved apart about their middle.
  for (let pass = 0; pass < 20; pass++) {
    let still = true;
    for (let i = 1; i < list.length; i++) {
      const lack = gap - (list[i - 1].at - list[i].at);
      if (lack <= 0.01) continue;
      still = false;
      list[i - 1].at += lack / 2;
      list[i].at -= lack / 2;
    }
    if (still) break;
  }
  if (list.length && list[0].at > bottom) { list[0].at = bottom; up(0); }
  if (list.length && list.at(-1).at < top) { list.at(-1).at = top; down(list.length - 1); }
}
