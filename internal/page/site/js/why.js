// What went wrong, in words for a person.
import { Refused, Said } from "./program.js";
import { t } from "./words.js";

/** What the program said; what a browser or a fault of the page says is for the console alone. */
export function why(e) {
  if (e instanceof Said || e instanceof Refused) return e.message;
  console.error(e);
  return t("why-unknown");
}
