// What a person can do in a photo about a refusal for what was seen in it.
import * as desk from "./desk.js";
import { history } from "./history.js";
import { mark, marksOf, whereIs, written } from "./lines.js";
import { messages } from "./messages.js";
import * as store from "./store.js";

// A photo on its side is none of them: its layers would be read across.
const KINDS = { no_jar: "place", no_deposit: "top", still_mixed: "top", different_jars: "one" };

// What is too dark or blurred where the jar was seen may be no jar; and a photo may have
// been left out for want of one.
const ELSEWHERE = ["jar.where-it-stands", "jar.hardly-any", "jar.none"];

/**
 * What can be done about a refusal {code, said, todo}, and in which photo: {kind, file}. kind
 * is "place" (show where the jar stands), "top" (place the top of the soil) or "one" (say
 * that it is one jar); undefined where nothing can be done in a photo. last is the photo
 * meant where none is named.
 */
export function cureOf({ code, said, todo }, last = undefined) {
  const all = [...messages(todo), ...messages(said)];
  const kind = KINDS[code] || (all.some((m) => ELSEWHERE.includes(m.key)) ? "place" : undefined);
  const file = all.map((m) => m.args?.file).find(Boolean) || all.map((m) => m.args?.photos?.list?.[0]).find(Boolean) || last;
  return kind && file ? { kind, file } : undefined;
}

/**
 * Takes all photos as those of one jar: in each that looks otherwise the floor and the water
 * are stated where the program sees them, as a person would. Gives the answer.
 */
export async function oneJar(jar, photos, tell) {
  for (let left = photos.length; ; left--) {
    const answer = await desk.read(jar, photos, tell);
    const cure = answer.refused && cureOf(answer.refused);
    if (cure?.kind !== "one" || !left) return answer;
    const seen = (await desk.sketch(jar, photos)).lines?.find((p) => p.file === cure.file);
    if (!seen) return answer;
    const before = marksOf(jar.record, cure.file);
    const after = { ...before, lines: { ...before.lines, floor: written(whereIs(seen, "floor")), water: written(whereIs(seen, "water")) } };
    mark(jar.record, cure.file, after);
    await store.edit(jar.id, (j) => mark(j.record, cure.file, after));
    history(jar.id).add({ file: cure.file, name: "water", before, after });
  }
}
