// The page's side of the worker: every call is a promise.

/** A photo or a jar that cannot be read, with the reason and the remedy. */
export class Refused extends Error {
  constructor({ code, text, remedy }) {
    super(text);
    this.code = code;
    this.remedy = remedy;
  }
}

let worker;
let next = 0;
const waiting = new Map();

function start() {
  worker = new Worker("worker.js");
  worker.onmessage = ({ data }) => {
    const w = waiting.get(data.id);
    if (!w) return;
    waiting.delete(data.id);
    if (data.refused) w.reject(new Refused(data.refused));
    else if (data.error !== undefined) w.reject(new Error(data.error));
    else w.resolve(data.value);
  };
  // A worker that dies (out of memory) takes its open photos with it: everything
  // waiting is told, and the next call starts a new one.
  worker.onerror = (e) => {
    e.preventDefault();
    stop(new Error(e.message || "the program stopped"));
  };
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
export const forget = (name) => call("forget", { name });
export const clear = () => call("clear");
/** Reads the jar: {reading, lines} or {refused} or {mistake}. */
export const read = (record, names) => call("read", { record: JSON.stringify(record), names });
/** The same while a line is dragged, fast. */
export const preview = (record) => call("preview", { record: JSON.stringify(record) });
/** Everything else the program can be asked; see internal/desk. */
export const ask = (name, request = {}) => call("ask", { name, request });
/** The report on the jar read last, as the bytes of one HTML file. */
export const report = () => call("report");
/** One file of a jar: record, reading and photos [{name, blob}]. */
export const pack = (record, reading, photos) => call("pack", { record: JSON.stringify(record), reading: reading ? JSON.stringify(reading) : "", photos });
/** Opens such a file: {record, reading?, photos: [{name, bytes}]}. */
export const unpack = (blob) => call("unpack", { blob });
