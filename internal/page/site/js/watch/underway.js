// Whether a jar is being watched, for the views that show all there is of it.
import { shaken } from "../plan.js";
import { moments, next, tally } from "./schedule.js";

/** How the watch of a jar that is still to go on stands, as tally has it; undefined where there is none. */
export function watching({ watch, record }) {
  const down = shaken(record);
  if (!watch?.taken || watch.over || down === undefined) return undefined;
  const list = moments(watch.plan), since = (Date.now() - down) / 1000;
  return next(list, since, watch.taken) && tally(list, since, watch.taken);
}
