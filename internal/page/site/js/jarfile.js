// A jar as one file: saved for keeping or for another device, and opened again.
import * as desk from "./desk.js";
import { save } from "./dom.js";
import * as program from "./program.js";
import * as store from "./store.js";
import { t } from "./words.js";

/** The largest jar file that is opened, in bytes: all of it has to be in memory at once. */
const LARGEST = 500e6;
const TYPES = { jpg: "image/jpeg", jpeg: "image/jpeg", png: "image/png", webp: "image/webp", tif: "image/tiff", tiff: "image/tiff", heic: "image/heic", heif: "image/heif" };

/** A jar's name, or what stands in its place. */
export const nameOf = (jar) => jar.record.name || t("jar-unnamed");

/** Saves a jar with its photos, and its reading where that is of today. */
export async function saveFile(id) {
  const jar = await store.jar(id), photos = await store.photos(id);
  const bytes = await program.pack(jar.record, desk.fresh(jar, photos) ? jar.answer.reading : undefined, photos);
  const plain = nameOf(jar).replace(/[^\p{L}\p{N} _-]+/gu, "").trim().replace(/\s+/g, "-").slice(0, 60) || "jar";
  save(`${plain}.zip`, new Blob([bytes], { type: "application/zip" }));
}

/** Opens a jar file as a new jar and gives it. Errors say in words what is wrong. */
export async function openFile(file) {
  if (file.size > LARGEST) throw new Error(t("file-too-large", { mb: LARGEST / 1e6 }));
  const { record, photos } = await program.unpack(file);
  if (!record.name) record.name = file.name.replace(/\.zip$/i, "");
  const typed = photos.map(({ name, bytes }) => ({ name, blob: new Blob([bytes], { type: TYPES[name.split(".").pop().toLowerCase()] || "" }) }));
  return store.create(record, typed);
}
