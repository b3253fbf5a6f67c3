// The page: a header, and one view at a time, chosen by the part of the address
// after #. A view module exports view(place, ...parts), which fills place and
// may give back a function that is called when the view is left.
import { el, say } from "./dom.js";
import * as program from "./program.js";
import { AGAIN, address } from "./route.js";
import { load, speech, t } from "./words.js";

/** @type {[RegExp, () => Promise<{view: (place: HTMLElement, ...parts: string[]) => any}>][]} */
const VIEWS = [
  [/^$/, () => import("./views/jars.js")],
  [/^new$/, () => import("./views/setup.js")],
  [/^many$/, () => import("./views/many.js")],
  [/^jar\/([^/]+)$/, () => import("./views/jar.js")],
  [/^jar\/([^/]+)\/setup$/, () => import("./views/setup.js")],
  [/^jar\/([^/]+)\/photo\/([^/]+)$/, () => import("./views/photo.js")],
  [/^jar\/([^/]+)\/sheet$/, () => import("./views/sheet.js")],
  [/^jar\/([^/]+)\/watch$/, () => import("./views/watch.js")],
  [/^jar\/([^/]+)\/film$/, () => import("./views/film.js")],
  [/^jar\/([^/]+)\/hands$/, () => import("./views/hands.js")],
  [/^jar\/([^/]+)\/result$/, () => import("./views/result.js")],
  [/^compare$/, () => import("./views/compare.js")],
  [/^settings$/, () => import("./views/settings.js")],
  [/^help$/, () => import("./views/help.js")],
];

let leave;
let showing = 0;

async function show() {
  const mine = ++showing;
  const path = location.hash.replace(/^#\/?/, "");
  const place = document.getElementById("view");
  for (const [pattern, module] of VIEWS) {
    const m = pattern.exec(path);
    if (!m) continue;
    const { view } = await module();
    if (mine !== showing) return;
    leave?.();
    leave = undefined;
    /** @type {HTMLDialogElement} */ (document.querySelector("dialog[open]"))?.close(); // it asked about what is no longer in view
    // A place of its own: a view that comes too late fills what nobody sees.
    const own = el("div", { class: "view" });
    place.replaceChildren(own);
    header(path);
    const left = await view(own, ...m.slice(1).map(decodeURIComponent));
    if (mine !== showing) {
      left?.();
      return;
    }
    leave = left;
    const title = own.querySelector("h1")?.textContent;
    document.title = title && path ? `${title} – mudline` : "mudline";
    if (mine > 1) place.focus({ preventScroll: true });
    window.scrollTo(0, 0);
    return;
  }
  location.hash = "#/";
}

// The present view anew: its language may be another.
async function again() {
  await load();
  program.speak(speech());
  await show();
}

function header(path) {
  const link = (word, to) => el("a", { href: address(...to), "aria-current": path === to.join("/") ? "page" : null }, t(`menu-${word}`));
  document.getElementById("top").replaceChildren(
    el("a", { class: "brand", href: "#/" }, el("img", { src: "icon.svg", alt: "", width: 28, height: 28 }), el("span", {}, "mudline")),
    el("nav", { "aria-label": t("menu") }, link("jars", []), link("compare", ["compare"]), link("help", ["help"]), link("settings", ["settings"])));
  document.querySelector("[data-word=skip]").textContent = t("skip");
}

// What nobody caught is told, never swallowed: the jar itself is in the store.
function fault(e) {
  const reason = e instanceof Error ? e.message : String(e);
  const view = document.getElementById("view");
  view.querySelector(":scope > .fault")?.remove();
  view.prepend(el("div", { class: "notice bad fault", role: "alert" }, el("div", { class: "words" }, el("p", {}, t("fault")),
    el("details", {}, el("summary", {}, t("fault-details")), el("p", { class: "soft", lang: "en" }, reason)))));
}
window.addEventListener("error", (e) => fault(e.error || e.message));
window.addEventListener("unhandledrejection", (e) => fault(e.reason));

// The service worker keeps the page for use without a connection. A new version
// waits until the person takes it; jars are in IndexedDB and are not touched.
async function keep() {
  if (!navigator.serviceWorker || !window.isSecureContext) return;
  const registration = await navigator.serviceWorker.register("sw.js");
  const offer = () => {
    if (!registration.waiting || !navigator.serviceWorker.controller) return;
    const take = el("button", { type: "button", onclick: () => registration.waiting.postMessage("take over") }, t("take-update"));
    document.getElementById("top").after(el("div", { class: "notice", role: "status" }, el("p", {}, t("update")), take));
    say(t("update"));
  };
  registration.addEventListener("updatefound", () =>
    registration.installing?.addEventListener("statechange", offer));
  offer();
  let known = navigator.serviceWorker.controller;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (known) location.reload();
    known = navigator.serviceWorker.controller;
  });
}

async function start() {
  if (document.documentElement.classList.contains("old")) return; // able.js says why
  await load();
  program.speak(speech());
  window.addEventListener("hashchange", show);
  window.addEventListener(AGAIN, async (/** @type {CustomEvent} */ e) => { await again(); e.detail(); });
  await show();
  keep().catch(() => {}); // without it everything but offline use still works
}
start();
