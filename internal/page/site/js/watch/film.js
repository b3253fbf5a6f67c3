// Frames out of a time-lapse film, decoded by the browser itself. Times are in
// seconds: of the film as it plays, and since the jar was set down.
import { spread } from "./schedule.js";

/** The longest time since shaking that counts, in seconds; as internal/record has it. */
export const LONGEST = 60 * 86400;

// How many frames are sought, and for how long one is, in ms.
const FRAMES = 36, PATIENCE = 8000, SETTLE = 150;

/** A film the browser cannot play. */
export class Unplayable extends Error {}

/** Opens a film: {video, plays, close()}, plays being how long it plays. */
export async function openFilm(file) {
  const url = URL.createObjectURL(file), video = document.createElement("video");
  Object.assign(video, { muted: true, playsInline: true, preload: "auto" });
  const close = () => { video.removeAttribute("src"); video.load(); URL.revokeObjectURL(url); };
  try {
    video.src = url;
    await event(video, "loadeddata");
    // A film that was written as it came does not say how long it is until it was sought to its end.
    if (!Number.isFinite(video.duration)) {
      video.currentTime = 1e7;
      await event(video, "seeked");
    }
    if (!Number.isFinite(video.duration) || video.duration <= 0 || !video.videoWidth) throw new Unplayable();
    return { video, plays: video.duration, close };
  } catch (e) {
    close();
    throw e instanceof Unplayable ? e : new Unplayable();
  }
}

function event(video, kind) {
  return /** @type {Promise<void>} */ (new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Unplayable()), PATIENCE);
    video.addEventListener(kind, () => { clearTimeout(timer); resolve(); }, { once: true });
    video.addEventListener("error", () => { clearTimeout(timer); reject(new Unplayable()); }, { once: true });
  }));
}

/**
 * What is wrong with the times a person stated: "begin", "took", "fast" (shorter
 * than it plays), "long" (beyond what can be read) or "ahead" (its end has not come
 * yet); "" where nothing is. since is the time since shaking now, where it is known.
 */
export function wrongTimes({ begin, took, plays, since }) {
  if (!(begin >= 0)) return "begin";
  if (!(took > 0)) return "took";
  if (took < plays) return "fast";
  if (begin + took > LONGEST) return "long";
  if (since !== undefined && begin + took > since + 60) return "ahead";
  return "";
}

/**
 * Gives the frames nearest to times that are even in their logarithm, each once:
 * calls each({blob, seconds}, done, all) and waits for it. A frame's time is its
 * own, not the one it was sought by.
 */
export async function frames({ video, plays }, { begin, took }, each) {
  const wanted = spread(begin, begin + took, FRAMES);
  const canvas = document.createElement("canvas");
  canvas.width = video.videoWidth;
  canvas.height = video.videoHeight;
  const context = canvas.getContext("2d");
  let last = -1, lastSecond = 0;
  for (const [i, at] of wanted.entries()) {
    const shown = await seek(video, Math.min(((at - begin) / took) * plays, plays));
    const seconds = Math.max(Math.round(begin + (Math.min(shown, plays) / plays) * took), 1);
    if (shown <= last || seconds <= lastSecond) continue;
    last = shown;
    lastSecond = seconds;
    context.drawImage(video, 0, 0);
    const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", 0.95));
    if (!blob) throw new Unplayable();
    if (await each({ blob, seconds }, i + 1, wanted.length) === false) return;
  }
}

// Shows the film at a moment and gives the time of the frame that is shown.
async function seek(video, to) {
  let shown;
  const frame = video.requestVideoFrameCallback && new Promise((resolve) =>
    video.requestVideoFrameCallback((_, { mediaTime }) => { shown = mediaTime; resolve(undefined); }));
  const sought = event(video, "seeked");
  video.currentTime = to;
  await sought;
  // Where the frame is the one that is shown already, none is announced.
  if (frame) await Promise.race([frame, new Promise((resolve) => setTimeout(resolve, SETTLE))]);
  return shown ?? (video.requestVideoFrameCallback ? -1 : video.currentTime);
}
