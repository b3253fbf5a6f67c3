// How watching a jar begins: the camera is aimed, and the jar shaken and set down.
import { el, say } from "../dom.js";
import { button, icon, notice, shape } from "../parts.js";
import * as program from "../program.js";
import { shaken } from "../plan.js";
import { why } from "../why.js";
import { elapsed, number, t } from "../words.js";
import { judge, outline } from "../watch/aim.js";
import { power, space } from "../watch/awake.js";

// The frame that is looked at is no photo of the jar: no file can have its name.
const FRAME = "/aim";
const PAUSE = 2500; // between two looks, in ms
const SHAKING = 600; // ten minutes, in seconds

/** Seconds as a clock that runs down. */
export function clock(seconds) {
  if (seconds >= 3600) return elapsed(Math.ceil(seconds / 60) * 60);
  const s = Math.max(Math.ceil(seconds), 0);
  return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`;
}

/** Shows the live picture with the outline until the person goes on. page is the Watch. */
export async function aiming(page, body, stage) {
  const verdict = el("div", { class: "verdict-now" }, notice("", el("p", {}, t("watch-see-wait"))));
  const checks = el("div", { class: "stack" });
  const standing = shaken(page.jar.record) !== undefined;
  const aim = { done: false };
  const go = button(t(standing ? "watch-start" : "watch-aimed"), () => { aim.done = true; page.ready(); }, { kind: "main" });
  body.replaceChildren(el("p", {}, t("watch-what")), el("div", { class: "sides" },
    el("section", { class: "stack" }, el("h2", {}, t("watch-aim")), stage, verdict),
    el("section", { class: "stack" }, el("h2", {}, t("watch-before")), checks, el("p", { class: "soft" }, t("watch-private")), el("div", { class: "row" }, go))));
  prepared(checks, page.plan.length);
  let told;
  while (!aim.done && !page.closed) {
    const { key, words, seen } = await looked(page);
    if (aim.done || page.closed) return;
    drawOver(stage, seen);
    verdict.replaceChildren(notice(key === "good" ? "good" : "warn", el("p", {}, words)));
    if (told !== key) say(words);
    told = key;
    await new Promise((resolve) => setTimeout(resolve, PAUSE));
  }
}

// What the program sees in the live picture: {key, words, seen?}.
async function looked(page) {
  try {
    const camera = await page.open();
    const { blob } = await camera.frame();
    await program.open(FRAME, blob, {});
    const seen = await program.ask("stands", { file: FRAME });
    await program.forget(FRAME);
    const key = judge(seen);
    return { key, words: t(`watch-see-${key}`), seen: seen.found ? seen : undefined };
  } catch (e) {
    if (e.refusal) {
      const { refused } = await program.told({ refused: e.refusal }, true);
      return { key: refused.code, words: refused.text };
    }
    return { key: e.why || "fault", words: e.why ? t(`watch-no-${e.why}`) : why(e) };
  }
}

// The outline, and where the jar was seen, over the live picture.
function drawOver(stage, seen) {
  const video = stage.querySelector("video");
  stage.querySelector("svg")?.remove();
  if (!video?.videoWidth) return;
  const w = video.videoWidth, h = video.videoHeight, o = outline(w, h), unit = Math.max(w, h) / 100;
  const frame = { x: o.x, y: o.y, width: o.width, height: o.height, rx: o.width * 0.12 };
  const both = (tag, attributes, kind) => [shape(tag, { ...attributes, class: "seam", "stroke-width": unit }), shape(tag, { ...attributes, class: kind, "stroke-width": unit * 0.5, ...(kind === "wish" ? { "stroke-dasharray": `${2 * unit} ${unit}` } : {}) })];
  const box = seen && { x: seen.left * w, y: seen.water * h, width: (seen.right - seen.left) * w, height: (seen.floor - seen.water) * h };
  stage.append(shape("svg", { viewBox: `0 0 ${w} ${h}`, "aria-hidden": "true", focusable: "false" }, ...both("rect", frame, "wish"), ...(box ? both("rect", box, "seen") : [])));
}

const line = (sign, kind, words) => el("li", { class: kind }, icon(sign), el("span", {}, words));

// What is to be seen to before the phone is left alone.
async function prepared(place, photos) {
  const list = el("ul", { class: "checks" });
  place.replaceChildren(list);
  const [battery, room] = await Promise.all([power(), space(photos)]);
  const charge = battery && { percent: number(battery.level * 100) };
  list.append(battery === undefined ? line("info", "", t("watch-power-unknown"))
    : battery.charging ? line("check", "good", t("watch-power-good", charge)) : line("warn", "warn", t("watch-power-bad", charge)),
  room.enough === undefined ? line("info", "", t("watch-space-unknown"))
    : room.enough ? line("check", "good", t("watch-space-good")) : line("warn", "warn", t("watch-space-bad", { mb: number(room.left / 1e6) })),
  line("info", "", t("watch-still")), line("info", "", t("watch-open")));
}

/** The countdown of shaking, and the moment the jar is set down. */
export function shaking(page, body, stage) {
  const time = el("p", { class: "clock", role: "timer" }, clock(SHAKING)), what = el("p", {}, t("watch-shake-how"));
  const heading = el("h2", { tabindex: -1 }, t("watch-shake"));
  let until;
  const begin = button(t("watch-shake-start"), () => {
    until = Date.now() + SHAKING * 1000;
    begin.remove();
    down.classList.add("main");
    down.focus();
    tick();
  }, { kind: "main" });
  const down = button(t("watch-down"), () => { clearInterval(timer); page.start(); });
  const tick = () => {
    if (page.closed) clearInterval(timer);
    if (until === undefined) return;
    const left = (until - Date.now()) / 1000;
    time.textContent = clock(left);
    if (left > 0 || heading.dataset.done) return;
    heading.dataset.done = "yes";
    heading.textContent = t("watch-put");
    what.textContent = t("watch-put-how");
    say(t("watch-put"));
  };
  const timer = setInterval(tick, 500);
  body.replaceChildren(el("section", { class: "card due" }, heading, time, what, el("div", { class: "actions" }, begin, down)), stage);
  heading.focus({ preventScroll: true });
}
