// Photos on their way into a jar: stored first, looked at afterwards.
import * as desk from "./desk.js";
import * as program from "./program.js";
import * as store from "./store.js";

/** The largest photo that is taken in, in bytes. */
export const LARGEST = 60e6;
const THUMB = 360;

/** A name that no other photo of the jar has, and that any folder can hold. */
export function freeName(wanted, taken) {
  const clean = wanted.replace(/[/\\\u0000-\u001f]/g, "-").replace(/^\.+/, "") || "photo.jpg";
  const dot = clean.lastIndexOf(".");
  const stem = (dot > 0 ? clean.slice(0, dot) : clean).slice(0, 100), end = dot > 0 ? clean.slice(dot).slice(0, 10) : "";
  for (let n = 1; ; n++) {
    const name = (n > 1 ? `${stem}-${n}` : stem) + end;
    if (!taken.some((other) => other.toLowerCase() === name.toLowerCase())) return name;
  }
}

async function bitmap(source) {
  try {
    return await createImageBitmap(source, { imageOrientation: "from-image" });
  } catch {
    return undefined;
  }
}

// thumb is a small picture of a photo. Where the browser cannot show the file
// itself the program, which has decoded it, is asked for it.
async function thumb(name, blob) {
  let whole = await bitmap(blob);
  if (!whole) {
    const img = new Image();
    img.src = (await program.ask("picture", { file: name })).url;
    await img.decode();
    whole = await bitmap(img);
  }
  const scale = Math.min(THUMB / Math.max(whole.width, whole.height), 1);
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(Math.round(whole.width * scale), 1);
  canvas.height = Math.max(Math.round(whole.height * scale), 1);
  const context = canvas.getContext("2d");
  context.imageSmoothingQuality = "high";
  context.drawImage(whole, 0, 0, canvas.width, canvas.height);
  whole.close();
  return new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", 0.8));
}

/**
 * Looks at a stored photo: whether it can be read, when it was taken, and what
 * it looks like, and notes it.
 */
export async function look(jar, photo) {
  const note = {};
  const refused = (await desk.ready(jar, [photo])).get(photo.name);
  if (refused) note.refused = refused.refusal;
  const opened = desk.opened(jar, photo.name);
  if (opened) Object.assign(note, { taken: opened.taken, size: opened.size_px });
  note.thumb = await thumb(photo.name, photo.blob).catch(() => undefined);
  await store.note(jar.id, photo.name, note);
}

/**
 * Looks at a stored photo without looking for the jar in it, and notes what it looks like
 * and when it was taken.
 */
export async function glance(id, photo) {
  await store.note(id, photo.name, await seen(photo.name, photo.blob, program.glance));
}

/** What is noted of a photo by a look at it: how = program.glance or program.regard. */
export async function seen(path, blob, how) {
  const note = {};
  try {
    const { taken, size_px: size } = await how(path, blob);
    Object.assign(note, { taken, size });
  } catch (e) {
    if (!(e instanceof program.Refused)) throw e;
    note.refused = e.refusal;
  }
  if (!note.refused) note.thumb = await thumb(path, blob).catch(() => undefined);
  return note;
}
