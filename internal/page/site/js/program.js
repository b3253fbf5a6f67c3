// The page's side of the worker: every call is a promise.

/** A photo or a jar that cannot be read, with the reason and the remedy. */
export class Refused extends Error {
  /** refusal is {code, text, remedy, said, todo}, in English: told() puts it into words. */
  constructor(refusal) {
    super(refusal.text);
    this.refusal = refusal;
  }
}

/** What the program said was wrong, in the person's words. */
export class Said extends Error {}

let worker;
let next = 0;
let speech;
const waiting = new Map();

function start() {
  worker = new Worker("worker.js");
  worker.onmessage = ({ data }) => {
    const w = waiting.get(data.id);
    if (!w) return;
    waiting.delete(data.id);
    if (data.refused) w.reject(new Refused(data.refused));
    else if (data.said !== undefined) w.reject(new Said(data.said));
    else if (data.error !== undefined) w.reject(new Error(data.error));
    else w.resolve(data.value);
  };
  // A worker that dies (out of memory) takes its open photos with it: everything
  // waiting is told, and the next call starts a new one.
  worker.onerror = (e) => {
    e.preventDefault();
    stop(new Error(e.message || "the program stopped"));
  };
  if (speech) ask("speak", speech).catch(() => {}); // it speaks English then
}

/** Says in which language and units the program answers; see words.speech. */
export function speak(how) {
  speech = how;
  if (worker) ask("speak", how).catch(() => {});
}

/** Ends the worker; calls under way fail with the reason. */
export function stop(reason = new Error("stopped")) {
  if (worker) worker.terminate();
  worker = undefined;
  for (const w of waiting.values()) w.reject(reason);
  waiting.clear();
}

/** Says whether the worker that holds the open photos is still there. */
export function alive() { return worker !== undefined; }

function call(name, args) {
  if (!worker) start();
  return new Promise((resolve, reject) => {
    const id = next++;
    waiting.set(id, { resolve, reject });
    worker.postMessage({ id, call: name, args });
  });
}

/** Opens a photo: {file, size_px, taken?, elapsed_s?}. record is a tree of text. */
export const open = (name, blob, record) => call("open", { name, blob, record: JSON.stringify(record) });
/** Looks at a photo without looking for a jar: {file, size_px, taken?, elapsed_s?}. */
export const glance = (name, blob) => call("glance", { name, blob });
/** The same of a photo that is to be sorted (ask "sort"), by its path. */
export const regard = (name, blob) => call("regard", { name, blob });
export const forget = (name) => call("forget", { name });
export const clear = () => call("clear");
/** Reads the jar: {reading, lines} or {refused} or {mistake}. */
export const read = (record, names) => call("read", { record: JSON.stringify(record), names });
/** The same while a line is dragged, fast. */
export const preview = (record) => call("preview", { record: JSON.stringify(record) });
/** Everything else the program can be asked; see internal/desk. */
export const ask = (name, request = {}) => call("ask", { name, request });
/**
 * What an answer says in the person's language: {reading} or {refused}. What the program
 * reads is kept in English, and says the same in any language that is chosen later.
 * named says that the file's name stands above.
 * @param {{reading?: any, refused?: any}} answer
 * @param {boolean} [named]
 */
export const told = ({ reading, refused }, named = false) => ask("told", { reading, refused, named });
/** The report on the jar read last, as the text of one HTML file. */
export const report = async () => (await ask("report")).html;
/** One file of a jar: record, reading and photos [{name, blob}]. */
export const pack = (record, reading, photos) => call("pack", { record: JSON.stringify(record), reading: reading ? JSON.stringify(reading) : "", photos });
/** The next piece of a file of several jars, {bytes, left}: left are photos that are none. */
export const backup = (record, reading, photos) => call("backup", { record: JSON.stringify(record), reading: reading ? JSON.stringify(reading) : "", photos });
/** Its last piece. */
export const endBackup = () => call("endBackup");
/** Opens a file of jars: their folders, "." for the top of it. */
export const unfold = (blob) => call("unfold", { blob });
/** A jar of the file opened last: {record, reading?, photos: [{name, bytes}]}. */
export const unpack = (folder) => call("unpack", { folder });
