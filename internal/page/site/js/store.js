// The jars in this browser's own storage (IndexedDB). A jar is
//   {id, record, created, changed, answer?, watch?}
// where record is the tree of jar.yaml as text, answer the last reading with its
// lines, and watch what the phone's watching of it has come to (watch/schedule.js). Photos lie beside it, each {jar, name, blob, added}, so that adding
// one never rewrites another. Notes are what was found out of a photo, {jar,
// name, thumb?, size?, taken?, refused?}: losing them costs time, nothing else.

const NAME = "mudline";
const VERSION = 1;
const BESIDE = ["photos", "notes"];

let database;

function open() {
  database ||= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, VERSION);
    request.onupgradeneeded = () => {
      const db = request.result;
      db.createObjectStore("jars", { keyPath: "id" });
      for (const beside of BESIDE) db.createObjectStore(beside, { keyPath: ["jar", "name"] }).createIndex("jar", "jar");
    };
    request.onsuccess = () => {
      // Another tab with a newer page may need to change the database.
      request.result.onversionchange = () => { request.result.close(); database = undefined; };
      resolve(request.result);
    };
    request.onerror = () => { database = undefined; reject(request.error); };
    request.onblocked = () => { database = undefined; reject(new Error("blocked")); };
  });
  return database;
}

/** Full says that the browser has no room left for the jar. */
export class Full extends Error {}

const asFull = (e) => (e && e.name === "QuotaExceededError" ? new Full(e.message) : e || new Error("the browser's storage failed"));

// change runs work in one transaction: all of it is stored, or nothing.
async function change(stores, mode, work) {
  const db = await open();
  return new Promise((resolve, reject) => {
    const tx = db.transaction(stores, mode, { durability: "strict" });
    let result;
    tx.oncomplete = () => resolve(result);
    const failed = (e) => reject(asFull(e));
    tx.onabort = () => failed(tx.error);
    const keep = (request) => { request.onsuccess = () => { result = request.result; }; };
    try {
      work(...stores.map((s) => tx.objectStore(s)), keep);
    } catch (e) {
      failed(e);
      tx.abort();
    }
  });
}

// Some private windows keep no blobs, but bytes: what such a blob is made of is
// stored then.
async function stored(put, blob) {
  try {
    await put({ blob });
  } catch (e) {
    if (e instanceof Full || !blob) throw e;
    await put({ bytes: await blob.arrayBuffer(), type: blob.type });
  }
}
const whole = ({ bytes, type, ...rest }) => (bytes ? { ...rest, blob: new Blob([bytes], { type }) } : rest);

/** All jars, the one changed last first. */
export async function jars() {
  const all = await change(["jars"], "readonly", (s, keep) => keep(s.getAll()));
  return all.sort((a, b) => b.changed - a.changed);
}

export const jar = (id) => change(["jars"], "readonly", (s, keep) => keep(s.get(id)));

/** The photos of a jar, by name. */
export const photos = async (id) => (await change(["photos"], "readonly", (s, keep) => keep(s.index("jar").getAll(id)))).map(whole);

/** Their names only, which costs little. */
export const photoNames = async (id) => (await change(["photos"], "readonly", (s, keep) => keep(s.index("jar").getAllKeys(id)))).map(([, name]) => name);

/** A new jar, stored; photos [{name, blob}] may come with it. */
export async function create(record, list = []) {
  const now = Date.now();
  const j = { id: crypto.randomUUID ? crypto.randomUUID() : `${now}-${Math.random()}`, record, created: now, changed: now };
  const add = (photos) => change(["jars", "photos"], "readwrite", (s, p) => {
    s.add(j);
    for (const one of photos) p.add({ jar: j.id, added: now, ...one });
  });
  try {
    await add(list.map(({ name, blob }) => ({ name, blob })));
  } catch (e) {
    if (e instanceof Full || !list.length) throw e;
    await add(await Promise.all(list.map(async ({ name, blob }) => ({ name, bytes: await blob.arrayBuffer(), type: blob.type }))));
  }
  navigator.storage?.persist?.().catch(() => {});
  return j;
}

/** Stores what changed of a jar; photos are not touched. */
export async function put(j) {
  j.changed = Date.now();
  await change(["jars"], "readwrite", (s) => { s.put(j); });
  return j;
}

/**
 * Changes a jar in one piece: change(jar) is given what is stored now, so that
 * nothing written meanwhile is lost. Gives the jar; undefined where it is gone.
 * What is no change by the person leaves the order of the jars as it is.
 */
export async function edit(id, alter, byPerson = true) {
  return change(["jars"], "readwrite", (s, keep) => {
    const request = s.get(id);
    request.onsuccess = () => {
      const j = request.result;
      if (!j) return;
      alter(j);
      if (byPerson) j.changed = Date.now();
      s.put(j);
      keep(s.get(id));
    };
  });
}

/** The notes on a jar's photos, by name. */
export const notes = async (id) => (await change(["notes"], "readonly", (s, keep) => keep(s.index("jar").getAll(id))))
  .map((n) => { const { blob, ...rest } = whole(n); return blob ? { ...rest, thumb: blob } : rest; });

/** Notes something on a photo. */
export const note = (id, name, { thumb, ...what }) =>
  stored((as) => change(["notes"], "readwrite", (s) => { s.put({ ...what, ...as, jar: id, name }); }), thumb);

/** Adds a photo to a jar; it is stored before anything is made of it. */
export const addPhoto = (id, name, blob) =>
  stored((as) => change(["photos"], "readwrite", (p) => { p.put({ jar: id, name, ...as, added: Date.now() }); }), blob);

/**
 * Adds a photo together with what it changes of the jar: both are stored, or
 * neither. alter(jar) gives false where the photo is not wanted any more. Says
 * whether it was stored.
 */
export async function keepPhoto(id, name, blob, alter) {
  let kept = false;
  const put = (jars, photos, j, as) => {
    kept = Boolean(j) && alter(j) !== false;
    if (!kept) return;
    const now = Date.now();
    j.changed = now;
    jars.put(j);
    photos.put({ jar: id, name, ...as, added: now });
  };
  await stored((as) => {
    let fault;
    return change(["jars", "photos"], "readwrite", (jars, photos) => {
      const request = jars.get(id);
      request.onsuccess = () => {
        try {
          put(jars, photos, request.result, as);
        } catch (e) {
          fault = e;
          request.transaction.abort();
        }
      };
    }).catch((e) => { throw fault ? asFull(fault) : e; });
  }, blob);
  return kept;
}

export const removePhoto = (id, name) => change(BESIDE, "readwrite", (photos, notes) => {
  for (const s of [photos, notes]) s.delete([id, name]);
});

/** Removes a jar with its photos. */
export const remove = (id) => change(["jars", ...BESIDE], "readwrite", (jars, photos, notes) => {
  jars.delete(id);
  for (const s of [photos, notes]) {
    const cursor = s.index("jar").openKeyCursor(id);
    cursor.onsuccess = () => {
      const c = cursor.result;
      if (!c) return;
      s.delete(c.primaryKey);
      c.continue();
    };
  }
});

/** Removes all there is. */
export const removeAll = () => change(["jars", ...BESIDE], "readwrite", (jars, photos, notes) => {
  for (const s of [jars, photos, notes]) s.clear();
});

/** Bytes used and bytes left; either may be undefined where the browser does not say. */
export async function room() {
  const e = await navigator.storage?.estimate?.();
  return { used: e?.usage, left: e?.quota === undefined ? undefined : e.quota - e.usage };
}
