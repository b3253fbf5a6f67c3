// Jars as files: one of them or all, saved for keeping or for another device, and opened again.
import * as desk from "./desk.js";
import { save } from "./dom.js";
import * as program from "./program.js";
import { stamp } from "./plan.js";
import { capital } from "./remedy.js";
import * as store from "./store.js";
import { why } from "./why.js";
import { t } from "./words.js";

const TYPES = { jpg: "image/jpeg", jpeg: "image/jpeg", png: "image/png", webp: "image/webp", tif: "image/tiff", tiff: "image/tiff", heic: "image/heic", heif: "image/heif" };

/** A jar's name, or what stands in its place. */
export const nameOf = (jar) => jar.record.name || t("jar-unnamed");

/** A name for a file of jars. */
const fileName = (name) => `${name.replace(/[^\p{L}\p{N} _-]+/gu, "").trim().replace(/\s+/g, "-").slice(0, 60) || "jar"}.zip`;

const stored = async (id) => {
  const jar = await store.jar(id), photos = await store.photos(id);
  return { jar, photos, reading: desk.fresh(jar, photos) ? jar.answer.reading : undefined };
};

/** Saves a jar with its photos, and its reading where that is of today. */
export async function saveFile(id) {
  const { jar, photos, reading } = await stored(id);
  const bytes = await program.pack(jar.record, reading, photos);
  save(fileName(nameOf(jar)), new Blob([bytes], { type: "application/zip" }));
}

/**
 * Saves jars to one file, a folder for each. tell(done, all) follows it. Gives the photos
 * that could not go into it: [{jar, photos}].
 */
export async function saveFiles(ids, tell) {
  const pieces = [], left = [];
  try {
    for (const [i, id] of ids.entries()) {
      tell(i, ids.length);
      const { jar, photos, reading } = await stored(id);
      const piece = await program.backup(jar.record, reading, photos);
      pieces.push(new Blob([piece.bytes])); // which the browser may keep on disk
      if (piece.left.length) left.push({ jar: nameOf(jar), photos: piece.left });
    }
  } finally {
    pieces.push(await program.endBackup()); // so that the next one begins anew
  }
  save(fileName(`${t("save-all-name")} ${stamp(new Date()).slice(0, 10)}`), new Blob(pieces, { type: "application/zip" }));
  return left;
}

// What makes two jars the same: what is stated, and the names of their photos.
const same = (record, names) => JSON.stringify([inOrder(record), [...names].sort()]);
const inOrder = (v) => (v && typeof v === "object" && !Array.isArray(v) ? Object.fromEntries(Object.keys(v).sort().map((k) => [k, inOrder(v[k])])) : v);

/**
 * Opens files of one jar or of many, each jar as a new one unless it is here already.
 * tell(done, all) follows the jars of a file. Gives {opened, here, failed}: jars, and
 * [{file, reason}] in words.
 */
export async function openFiles(files, tell = (_done, _all) => {}) {
  const opened = [], here = [], failed = [], known = new Map();
  for (const jar of await store.jars()) known.set(same(jar.record, await store.photoNames(jar.id)), jar);
  const one = async (file, folder) => {
    const { record, photos } = await program.unpack(folder);
    if (!record.name) record.name = (folder === "." ? file.name.replace(/\.zip$/i, "") : folder.split("/").pop());
    const key = same(record, photos.map((p) => p.name));
    if (known.has(key)) return here.push(known.get(key));
    const typed = photos.map(({ name, bytes }) => ({ name, blob: new Blob([bytes], { type: TYPES[name.split(".").pop().toLowerCase()] || "" }) }));
    known.set(key, await store.create(record, typed));
    return opened.push(known.get(key));
  };
  for (const file of files) {
    const missed = (e, of) => {
      failed.push({ file: of, reason: e instanceof store.Full ? t("full") : capital(why(e)) });
      return e instanceof store.Full;
    };
    try {
      const folders = await program.unfold(file);
      for (const [i, folder] of folders.entries()) {
        tell(i, folders.length);
        try {
          await one(file, folder);
        } catch (e) {
          if (missed(e, folders.length > 1 ? `${file.name}, ${folder}` : file.name)) return { opened, here, failed };
        }
      }
    } catch (e) {
      missed(e, file.name);
    }
  }
  return { opened, here, failed };
}
