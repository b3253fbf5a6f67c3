// Decoding HEIC photos in a browser that cannot: libheif and libde265, compiled to
// WebAssembly (heif.wasm.gz). Loaded by worker.js only when such a photo comes.
"use strict";

// heif gives a function from the bytes of a file to its picture:
// {space, chroma, premultiplied, width, height, stride, chromaStride, pixels}, or null
// where it cannot be decoded. Its planes lie in pixels one after the other.
self.heif = async function heif(address) {
  const packed = await fetch(address);
  if (!packed.ok) throw new Error(`the HEIC decoder could not be loaded (${packed.status})`);
  const plain = new Response(packed.body.pipeThrough(new DecompressionStream("gzip")), { headers: { "Content-Type": "application/wasm" } });
  const module = await WebAssembly.compileStreaming(plain);
  return (file) => {
    // An instance for each photo: its memory goes with it.
    const { exports } = new WebAssembly.Instance(module, { wasi_snapshot_preview1: SYSTEM() });
    instance = exports;
    try {
      exports._initialize();
      return picture(exports, file);
    } catch {
      return null;
    } finally {
      instance = undefined;
    }
  };
};

let instance;

// What the library may ask of a system (WASI preview 1): there are no files, no environment,
// and what it prints is dropped. 8 is EBADF.
const SYSTEM = () => {
  const word = (at, v) => new DataView(instance.memory.buffer).setUint32(at, v, true);
  const none = () => 8;
  return {
    environ_get: () => 0,
    environ_sizes_get(count, size) { word(count, 0); word(size, 0); return 0; },
    fd_close: none, fd_fdstat_get: none, fd_prestat_get: none, fd_prestat_dir_name: none, fd_read: none, fd_seek: none,
    fd_write(_fd, list, n, written) {
      const view = new DataView(instance.memory.buffer);
      let all = 0;
      for (let i = 0; i < n; i++) all += view.getUint32(list + 8 * i + 4, true);
      word(written, all);
      return 0;
    },
    proc_exit(status) { throw new Error(`the HEIC decoder ended (${status})`); },
  };
};

const YCBCR = 0, RGB = 1, CHROMA_420 = 1, CHROMA_444 = 3;
const aligned = (v) => Math.ceil(v / 16) * 16; // as the library lays its rows

function picture({ memory, malloc, decode }, file) {
  const at = malloc(file.length), told = malloc(20);
  new Uint8Array(memory.buffer).set(file, at);
  const call = (only, out) => decode(at, file.length, only, told, told + 4, told + 8, told + 12, told + 16, out);
  if (!call(1, 0)) return null;
  const [width, height, space, chroma, premultiplied] = new Uint32Array(memory.buffer.slice(told, told + 20));
  const across = chroma === CHROMA_444 ? width : Math.ceil(width / 2);
  const down = chroma === CHROMA_420 ? Math.ceil(height / 2) : height;
  const stride = aligned(space === RGB ? 4 * width : width), chromaStride = aligned(across);
  const size = stride * height + (space === YCBCR ? 2 * chromaStride * down : 0);
  const out = malloc(size);
  if (!out || !call(0, out)) return null;
  return { space, chroma, premultiplied, width, height, stride, chromaStride, pixels: new Uint8Array(memory.buffer, out, size) };
}
