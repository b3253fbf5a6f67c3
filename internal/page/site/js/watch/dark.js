// The screen turned black, with the next moment just readable, so that a phone on
// a windowsill neither lights the jar nor wears its screen.
import { el } from "../dom.js";
import { t } from "../words.js";

// So long nobody touches the page before it turns black by itself, in ms.
const IDLE = 60_000;
const PLACES = 4; // the words move about: a still picture for days marks some screens

/** The black screen: {on(), tell(main, below), close()}. */
export function darkness() {
  const main = el("span", { class: "dark-main" }), below = el("span", { class: "dark-below" });
  const cover = el("button", { type: "button", class: "dark-cover", onclick: () => dialog.close() }, main, below, el("span", { class: "dark-below" }, t("watch-light")));
  const dialog = el("dialog", { class: "dark", "aria-label": t("watch-dark-name") }, cover);
  document.body.append(dialog);
  let moved = 0, timer;
  const on = () => { if (!dialog.open) dialog.showModal(); };
  const rest = () => {
    clearTimeout(timer);
    timer = setTimeout(() => { if (document.visibilityState === "visible" && !document.querySelector("dialog[open]")) on(); }, IDLE);
  };
  const signs = ["pointerdown", "keydown", "scroll"];
  for (const sign of signs) document.addEventListener(sign, rest, { passive: true });
  rest();
  return {
    on,
    tell(a, b) {
      if (main.textContent !== a) cover.dataset.place = moved++ % PLACES;
      main.textContent = a;
      below.textContent = b;
    },
    close() {
      clearTimeout(timer);
      for (const sign of signs) document.removeEventListener(sign, rest);
      dialog.close();
      dialog.remove();
    },
  };
}
