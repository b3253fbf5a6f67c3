// A jar to try the page with. Its photos are loaded only when it is asked for.
import * as store from "./store.js";
import { t } from "./words.js";

/** The photos of the sample jar, with their times in their names. */
export const SAMPLE = ["sample_91s.jpg", "sample_2h.jpg", "sample_49h.jpg"];

/** What is known of it. */
const RECORD = { "water-depth": "132 mm", temp: "9 C" };

/** Adds the sample jar, or gives the one that is there. */
export async function addSample() {
  const there = (await store.jars()).find((j) => j.sample);
  if (there) return there;
  const photos = await Promise.all(SAMPLE.map(async (name) => {
    const answer = await fetch(`sample/${name}`);
    if (!answer.ok) throw new Error(`${name}: ${answer.status}`);
    return { name, blob: await answer.blob() };
  }));
  const jar = await store.create({ ...RECORD, name: t("sample-name") }, photos);
  return store.edit(jar.id, (j) => { j.sample = true; });
}
