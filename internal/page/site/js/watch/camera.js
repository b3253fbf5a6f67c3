// The live camera. Its pictures stay in the page.

/** Why there is no picture: "insecure", "none", "denied", "busy", "still" or "other". */
export class NoCamera extends Error {
  constructor(why) {
    super(why);
    this.why = why;
  }
}

const REASONS = { NotAllowedError: "denied", SecurityError: "denied", NotFoundError: "none", OverconstrainedError: "none",
  NotReadableError: "busy", AbortError: "busy" };

// The program works with 1600 pixels on the longer side; a little more than that
// leaves the reducing to the browser.
const WISHED = { facingMode: { ideal: "environment" }, width: { ideal: 2560 }, height: { ideal: 1440 } };

// How long a camera may take for one more picture, in ms.
const PATIENCE = 1500;

/** Opens the camera that looks away from the person, where there is one. */
export async function openCamera() {
  if (!window.isSecureContext) throw new NoCamera("insecure");
  if (!navigator.mediaDevices?.getUserMedia) throw new NoCamera("none");
  let stream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ audio: false, video: WISHED });
  } catch (e) {
    throw new NoCamera(REASONS[e.name] || "other");
  }
  const camera = new Camera(stream);
  try {
    await camera.play();
  } catch {
    camera.close();
    throw new NoCamera("other");
  }
  return camera;
}

class Camera {
  #stream; #last;

  constructor(stream) {
    this.#stream = stream;
    this.video = document.createElement("video");
    Object.assign(this.video, { muted: true, playsInline: true, srcObject: stream });
  }

  async play() {
    await this.video.play();
    if (!this.video.videoWidth) await new Promise((resolve) => this.video.addEventListener("loadedmetadata", resolve, { once: true }));
  }

  /** Says whether it still runs: a call or another program may have taken it. */
  get alive() { return this.#stream.getVideoTracks().some((t) => t.readyState === "live" && !t.muted); }

  /** One picture that was not given before: {blob, at}, at in ms. */
  async frame() {
    if (this.video.paused) await this.video.play().catch(() => {});
    const { time, at } = await this.#fresh();
    const canvas = document.createElement("canvas");
    canvas.width = this.video.videoWidth;
    canvas.height = this.video.videoHeight;
    canvas.getContext("2d").drawImage(this.video, 0, 0);
    this.#last = time;
    const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", 0.95));
    if (!blob) throw new NoCamera("other");
    return { blob, at };
  }

  // Waits for a picture other than the last one.
  #fresh() {
    const { video } = this;
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => reject(new NoCamera("still")), PATIENCE);
      const got = (time) => {
        if (time === this.#last) return watch();
        clearTimeout(timer);
        return resolve({ time, at: Date.now() });
      };
      const watch = () => (video.requestVideoFrameCallback
        ? video.requestVideoFrameCallback((_, { mediaTime }) => got(mediaTime))
        : setTimeout(() => got(video.currentTime), 40));
      watch();
    });
  }

  close() {
    for (const track of this.#stream.getTracks()) track.stop();
    this.video.srcObject = null;
    this.video.remove();
  }
}
