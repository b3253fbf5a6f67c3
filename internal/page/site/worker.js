// The worker: it runs the reading program, so that the page itself never waits.
// A message is {id, call, args}; the answer {id, value}, {id, refused}, {id, said} (what was
// wrong, in words) or {id, error} (a fault).
"use strict";
importScripts("wasm_exec.js");

// The longest side of the picture the program works with, in pixels. Larger
// photos are decoded and reduced by the browser, smaller ones by the program.
const WORKING_SIDE = 1600;
const PROGRAM = "mudline.wasm.gz";
const DECODER = "heif.wasm.gz"; // loaded when a HEIC photo comes that the browser cannot decode

const started = start();

async function start() {
  let ready;
  const isReady = new Promise((resolve) => { ready = resolve; });
  self.mudline = { ready };
  const go = new Go();
  const packed = await fetch(PROGRAM);
  if (!packed.ok) throw new Error(`the program could not be loaded (${packed.status})`);
  const plain = new Response(packed.body.pipeThrough(new DecompressionStream("gzip")),
    { headers: { "Content-Type": "application/wasm" } });
  const { instance } = await WebAssembly.instantiateStreaming(plain, go.importObject);
  // It runs for as long as the worker does: if it ends, as for want of memory, the
  // page is told and starts a new one.
  go.run(instance).then(() => setTimeout(() => { throw new Error("the program stopped"); }));
  await isReady;
}

// run calls the program and throws its mistakes.
function run(name, ...args) {
  const out = self.mudline[name](...args);
  if (out.refused !== undefined) throw { refused: JSON.parse(out.refused) };
  if (out.said !== undefined) throw { said: out.said };
  if (out.error !== undefined) throw new Error(out.error);
  if (out.left !== undefined) return { bytes: out.bytes, left: out.left };
  return out.bytes !== undefined ? out.bytes : JSON.parse(out.json);
}

// photo decodes one photo and hands it to the program, by the call of that name.
async function photo(call, name, blob, ...more) {
  const file = new Uint8Array(await blob.arrayBuffer());
  const picture = await decode(blob);
  if (!picture) {
    if (isHEIC(file)) await decoder();
    return run(call, name, file, null, 0, 0, 0, 0, ...more);
  }
  const { pixels, width, height, fullWidth, fullHeight } = picture;
  return run(call, name, file, pixels, width, height, fullWidth, fullHeight, ...more);
}

// packed hands the photos of a jar to the program, by the call of that name.
async function packed(call, { record, reading, photos }) {
  const files = [];
  for (const p of photos) files.push(new Uint8Array(await p.blob.arrayBuffer()));
  return run(call, record, reading || "", photos.map((p) => p.name), files);
}

// isHEIC knows a HEIC file by its first bytes (ISO/IEC 14496-12, the box ftyp).
function isHEIC(file) {
  const text = (from, to) => String.fromCharCode(...file.subarray(from, to));
  return text(4, 8) === "ftyp" && /^(hei[cxms]|mif1)/.test(text(8, 12));
}

// decoder loads what decodes HEIC, once, for a browser that does not itself. Without it
// the program says what else can be done.
let decoding;
function decoder() {
  decoding ||= (async () => {
    importScripts("heif.js");
    run("heic", await self.heif(DECODER));
  })().catch(() => { decoding = undefined; });
  return decoding;
}

// decode lets the browser decode and reduce a large picture, upright. It gives
// null for one that needs no reducing, and for one the browser cannot decode, or
// not as it is asked to: the program then decodes it, or says what is wrong with it.
async function decode(blob) {
  if (!truthful()) return null;
  try {
    return await reduced(blob);
  } catch {
    return null;
  }
}

// Some browsers change what is read from a canvas, against tracking, and some have
// none in a worker. No soil is read from colours that were made up.
let checked;
function truthful() {
  if (checked !== undefined) return checked;
  if (typeof OffscreenCanvas === "undefined") return checked = false;
  const side = 64, context = new OffscreenCanvas(side, side).getContext("2d", { willReadFrequently: true });
  if (!context) return checked = false;
  const colour = (i) => [(i * 37) % 256, (i * 101) % 256, (i * 59) % 256];
  for (let i = 0; i < side; i++) {
    context.fillStyle = `rgb(${colour(i)})`;
    context.fillRect(0, i, side, 1);
  }
  const got = context.getImageData(0, 0, side, side).data;
  return checked = got.every((v, k) => v === (k % 4 === 3 ? 255 : colour(Math.floor(k / 4 / side))[k % 4]));
}

async function reduced(blob) {
  const whole = await createImageBitmap(blob, { imageOrientation: "from-image", colorSpaceConversion: "none" });
  const fullWidth = whole.width, fullHeight = whole.height;
  const long = Math.max(fullWidth, fullHeight);
  if (long <= WORKING_SIDE && blob.type !== "image/heic" && blob.type !== "image/heif") {
    whole.close();
    return null;
  }
  const scaled = (v) => long <= WORKING_SIDE ? v : Math.max(Math.round(v * WORKING_SIDE / long), 1);
  const width = scaled(fullWidth), height = scaled(fullHeight);
  const small = await createImageBitmap(whole, { resizeWidth: width, resizeHeight: height, resizeQuality: "high" });
  whole.close();
  const canvas = new OffscreenCanvas(width, height);
  const context = canvas.getContext("2d", { willReadFrequently: true });
  context.imageSmoothingQuality = "high"; // for a browser that leaves the size aside
  context.drawImage(small, 0, 0, width, height);
  small.close();
  const pixels = context.getImageData(0, 0, width, height).data;
  return { pixels: new Uint8Array(pixels.buffer), width, height, fullWidth, fullHeight };
}

const calls = {
  open: ({ name, blob, record }) => photo("open", name, blob, record),
  glance: ({ name, blob }) => photo("glance", name, blob),
  regard: ({ name, blob }) => photo("regard", name, blob),
  forget: ({ name }) => run("forget", name),
  clear: () => run("clear"),
  read: ({ record, names }) => run("read", record, JSON.stringify(names)),
  preview: ({ record }) => run("preview", record),
  ask: ({ name, request }) => run("ask", name, JSON.stringify(request)),
  pack: (jar) => packed("pack", jar),
  backup: (jar) => packed("backup", jar),
  endBackup: () => run("endBackup"),
  // Of a large file only what is asked for is read.
  unfold: ({ blob }) => {
    const reader = new FileReaderSync();
    return run("unfold", blob.size, (from, to) => new Uint8Array(reader.readAsArrayBuffer(blob.slice(from, to))));
  },
  unpack: ({ folder }) => {
    const summary = run("unpack", folder);
    return { ...summary, photos: summary.photos.map((name) => ({ name, bytes: run("unpacked", name) })) };
  },
};

// One call at a time, in their order.
let last = Promise.resolve();
self.onmessage = ({ data: { id, call, args } }) => {
  last = last.then(async () => {
    try {
      await started;
      self.postMessage({ id, value: await calls[call](args || {}) });
    } catch (e) {
      if (e && (e.refused || e.said !== undefined)) self.postMessage({ id, ...e });
      else self.postMessage({ id, error: String((e && e.message) || e) });
    }
  });
};
