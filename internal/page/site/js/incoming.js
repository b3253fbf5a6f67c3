// Photos of many jars on their way in: which of the files are photos, each of them once, and
// how they come into the jars.
import { freeName } from "./photos.js";
import * as store from "./store.js";

const PHOTO = /\.(jpe?g|png|webp|tiff?|hei[cf])$/i;

/** The photos among files [{path, blob}]. */
export const photosAmong = (files) => files.filter((f) => f.blob.type.startsWith("image/") || PHOTO.test(f.path));

async function sameBytes(a, b) {
  const [x, y] = (await Promise.all([a.arrayBuffer(), b.arrayBuffer()])).map((part) => new Uint8Array(part));
  return x.every((v, i) => v === y[i]);
}

/** The photo among those of one jar or many that is the same file as one, under whatever name. */
export async function twinOf(one, photos) {
  for (const p of photos) if (p.blob.size === one.blob.size && await sameBytes(p.blob, one.blob)) return p;
  return undefined;
}

/** A path that none of the photos has: two phones may give one name to different photos. */
export function freePath(path, photos) {
  const cut = path.lastIndexOf("/") + 1, folder = path.slice(0, cut);
  if (!photos.some((p) => p.path === path)) return path;
  return folder + freeName(path.slice(cut), photos.filter((p) => p.path.startsWith(folder)).map((p) => p.path.slice(cut)));
}

/** When a photo was taken by its camera, in ms; 0 where that is not known. */
export const takenAt = (p) => (p.note.taken && Date.parse(p.note.taken.replace(" ", "T").replace(/ /g, ""))) || 0;

/** The photos as they were taken. */
export const inTime = (photos) => [...photos].sort((a, b) => takenAt(a) - takenAt(b));

/** Makes a jar of photos; stated is its record. */
export async function create(name, photos, stated) {
  const names = [], list = [];
  for (const p of photos) {
    names.push(freeName(p.path.split("/").pop(), names));
    list.push({ name: names.at(-1), blob: p.blob, note: p.note });
  }
  const jar = await store.create({ ...stated, name }, list.map(({ name: n, blob }) => ({ name: n, blob })));
  for (const { name: n, note } of list) await store.note(jar.id, n, note);
}

/**
 * Adds photos to a jar; those that it has already are not added again, and what it
 * states stays. stated(more) is what else it states; more says that it has photos.
 */
export async function addTo(id, photos, stated) {
  const there = await store.photos(id), notes = await store.notes(id), known = stated(there.length > 0);
  // The file may differ: what a jar was saved to holds it without what tells of its owner.
  const same = (p, o) => o.blob.size === p.blob.size || p.note.taken !== undefined && notes.some((n) => n.name === o.name && n.taken === p.note.taken && String(n.size) === String(p.note.size));
  for (const p of photos) {
    const wanted = p.path.split("/").pop();
    if (there.some((o) => o.name === wanted && same(p, o))) continue;
    const name = freeName(wanted, there.map((o) => o.name));
    await store.addPhoto(id, name, p.blob);
    await store.note(id, name, p.note);
    there.push({ name, blob: p.blob });
  }
  await store.edit(id, (jar) => { jar.record = { ...known, ...jar.record }; });
}

/** The path of a chosen file without the folder that was chosen. */
export const inFolder = (path) => path?.split("/").slice(1).join("/");

/** The files of what was dropped, by their paths; of one folder, by those within it. */
export async function dropped(items) {
  const entries = [...items].map((i) => i.webkitGetAsEntry?.()).filter(Boolean), list = [];
  for (const entry of entries) await walk(entry, entries.length === 1 && entry.isDirectory ? "" : entry.name, list);
  return list;
}

async function walk(entry, path, list) {
  if (entry.isFile) {
    const blob = await new Promise((resolve, reject) => { entry.file(resolve, reject); });
    list.push({ path: path || entry.name, blob });
    return;
  }
  const reader = entry.createReader();
  for (;;) {
    const part = await new Promise((resolve, reject) => { reader.readEntries(resolve, reject); });
    if (!part.length) return;
    for (const e of part) await walk(e, path ? `${path}/${e.name}` : e.name, list);
  }
}
