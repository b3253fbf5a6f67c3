// What a phone needs to watch for two days: a screen that stays on, power, room.
import * as store from "../store.js";

/**
 * Keeps the screen on until release() is called. The system takes the lock away
 * when the page is not in sight; it is asked for again when it is. tell(held) says
 * how it stands.
 */
export function keepAwake(tell) {
  let lock, wanted = true;
  const ask = async () => {
    if (!wanted || document.visibilityState !== "visible" || (lock && !lock.released)) return;
    try {
      lock = await navigator.wakeLock.request("screen");
      lock.addEventListener("release", () => tell(false));
      if (!wanted) await lock.release();
      else tell(true);
    } catch {
      tell(false); // no such lock here, or little power left
    }
  };
  document.addEventListener("visibilitychange", ask);
  ask();
  return {
    release() {
      wanted = false;
      document.removeEventListener("visibilitychange", ask);
      lock?.release().catch(() => {});
    },
  };
}

/** The battery: {charging, level 0..1}; undefined where the browser does not say. */
export async function power() {
  try {
    const { charging, level } = await /** @type {any} */ (navigator).getBattery();
    return { charging, level };
  } catch {
    return undefined;
  }
}

// A photo of the size that is asked for takes about this much, in bytes; twice
// that is wanted free. Our own figures.
const PHOTO = 1.2e6, RESERVE = 2;

/** Room for so many photos: {enough, left}; enough is undefined where the browser does not say. */
export async function space(photos) {
  await navigator.storage?.persist?.().catch(() => {});
  const left = (await store.room().catch(() => undefined))?.left;
  return { left, enough: left === undefined ? undefined : left > RESERVE * photos * PHOTO };
}
