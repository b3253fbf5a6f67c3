// What an MP4 or QuickTime file says of how long its filming took. Boxes are those
// of ISO/IEC 14496-12; the key com.android.capture.fps is what Android's recorder
// writes into a time-lapse, as metadata keys of QuickTime (from memory).

// The largest head of a film that is looked at, in bytes.
const LARGEST = 32e6;
const INSIDE = ["moov", "trak", "mdia", "minf", "stbl", "udta"];
const CAPTURE_RATE = "com.android.capture.fps";

/** {took}: the seconds the filming took, where the file says so. */
export async function told(file) {
  const moov = await find(file, "moov");
  if (!moov) return {};
  const seen = { keys: [], values: [] };
  walk(new DataView(moov), 0, moov.byteLength, seen);
  const rate = seen.values[seen.keys.indexOf(CAPTURE_RATE)];
  return rate > 0 && seen.samples > 1 ? { took: seen.samples / rate } : {};
}

const kind = (view, at) => String.fromCharCode(...[0, 1, 2, 3].map((i) => view.getUint8(at + i)));

// Finds a box at the top of a file without reading what lies before it.
async function find(file, wanted) {
  for (let at = 0; at + 16 <= file.size;) {
    const head = new DataView(await file.slice(at, at + 16).arrayBuffer());
    let size = head.getUint32(0);
    if (size === 1) size = Number(head.getBigUint64(8));
    if (size === 0) size = file.size - at;
    if (size < 8) return undefined;
    if (kind(head, 4) === wanted) return size > LARGEST ? undefined : file.slice(at + 8, at + size).arrayBuffer();
    at += size;
  }
  return undefined;
}

function walk(view, from, end, seen) {
  for (let at = from; at + 8 <= end;) {
    const size = view.getUint32(at), stop = Math.min(at + size, end);
    if (size < 8) return;
    const name = kind(view, at + 4), body = at + 8;
    if (INSIDE.includes(name)) walk(view, body, stop, seen);
    else if (name === "meta") walk(view, kind(view, body + 4) === "hdlr" ? body : body + 4, stop, seen);
    else if (name === "hdlr" && body + 12 <= stop) seen.handler = kind(view, body + 8);
    else if (name === "stsz" && seen.handler === "vide") seen.samples = view.getUint32(body + 8);
    else if (name === "keys") keys(view, body, stop, seen);
    else if (name === "ilst") values(view, body, stop, seen);
    at += size;
  }
}

function keys(view, body, end, seen) {
  for (let at = body + 8; at + 8 <= end;) {
    const size = view.getUint32(at);
    if (size < 8) return;
    seen.keys.push(new TextDecoder().decode(new Uint8Array(view.buffer, at + 8, Math.min(size, end - at) - 8)));
    at += size;
  }
}

// Items stand under the number of their key, from 1; 23 is a number of 32 bits with a point.
function values(view, body, end, seen) {
  for (let at = body; at + 24 <= end;) {
    const size = view.getUint32(at);
    if (size < 24) return;
    if (kind(view, at + 12) === "data" && view.getUint32(at + 16) === 23 && at + 28 <= end) seen.values[view.getUint32(at + 4) - 1] = view.getFloat32(at + 24);
    at += size;
  }
}
