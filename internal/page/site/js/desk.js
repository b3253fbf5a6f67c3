// What lies on the program's desk: the photos of one jar, opened in the worker.
// Every view opens and reads through here, so that no two of them disagree about
// what the worker holds.
import * as program from "./program.js";
import * as store from "./store.js";

let held = { jar: undefined, names: new Map() };

/**
 * Opens the photos of a jar that are not open yet. tell(done, all) follows it.
 * Gives the refusals of photos that cannot be used, by name.
 */
export async function ready(jar, photos, tell = (_done, _all) => {}) {
  if (held.jar !== jar.id || !program.alive()) {
    held = { jar: jar.id, names: new Map() };
    await program.clear();
  }
  const mine = held, refused = new Map();
  for (const [i, { name, blob }] of photos.entries()) {
    tell(i, photos.length);
    if (mine.names.has(name)) continue;
    try {
      mine.names.set(name, await program.open(name, blob, jar.record));
    } catch (e) {
      if (!(e instanceof program.Refused)) throw e;
      refused.set(name, e);
    }
  }
  tell(photos.length, photos.length);
  return refused;
}

/** What the program says of an open photo (see desk.Opened in Go); undefined where it is not open. */
export const opened = (jar, name) => (held.jar === jar.id ? held.names.get(name) : undefined);

/** Puts one photo away, as when it is removed from the jar. */
export async function forget(jar, name) {
  if (held.jar !== jar.id) return;
  held.names.delete(name);
  await program.forget(name);
}

// What a reading was made from: it is made anew when any of it changes.
const basis = (record, names) => JSON.stringify([record, names]);

/** Says whether the stored answer of a jar is that of its present record and photos. */
export const fresh = (jar, photos) => Boolean(jar.answer) && jar.answer.basis === basis(jar.record, photos.map((p) => p.name));

/**
 * Reads a jar and stores the answer with it. Photos that cannot be used are left
 * out. Gives {reading, lines} | {refused} | {mistake}; the last is not stored.
 */
export async function read(jar, photos, tell) {
  for (let again = true; ; again = false) {
    try {
      const record = structuredClone(jar.record);
      const bad = await ready(jar, photos, tell);
      const names = photos.map((p) => p.name).filter((n) => !bad.has(n));
      const answer = names.length || !bad.size ? await program.read(record, names) : { refused: [...bad.values()][0].refusal };
      if (answer.mistake !== undefined) return answer;
      answer.basis = basis(record, photos.map((p) => p.name));
      held.read = answer.basis;
      jar.answer = answer;
      await store.edit(jar.id, (j) => { j.answer = answer; }, false);
      return answer;
    } catch (e) {
      // The worker may have been ended under us, and the photos with it.
      if (!again || e instanceof program.Refused || e instanceof store.Full) throw e;
      held = { jar: undefined, names: new Map() };
    }
  }
}

/**
 * Where the jar stands in its photos though there is no reading: {lines} or {mistake}.
 * record may be another than the jar's own, as while a line is dragged.
 */
export async function sketch(jar, photos, record = jar.record) {
  const names = photos.map((p) => p.name).filter((n) => opened(jar, n));
  return names.length ? program.ask("sketch", { record, photos: names }) : { lines: [] };
}

/**
 * Reads some photos of a jar and stores nothing: what can be said so far. Photos
 * that are open and not among them are put away. The answer is that of read.
 */
export async function glimpse(jar, photos) {
  if (held.jar === jar.id && program.alive()) {
    for (const name of [...held.names.keys()]) if (!photos.some((p) => p.name === name)) await forget(jar, name);
  }
  const bad = await ready(jar, photos);
  held.read = undefined; // the worker's last reading is not the stored one
  return program.read(jar.record, photos.map((p) => p.name).filter((n) => !bad.has(n)));
}

/**
 * The jar's answer with the worker ready to preview and to report on it: read
 * anew only where it has to be.
 */
export async function settled(jar, photos, tell) {
  if (program.alive() && held.jar === jar.id && fresh(jar, photos) && held.read === jar.answer.basis) return jar.answer;
  return read(jar, photos, tell);
}
