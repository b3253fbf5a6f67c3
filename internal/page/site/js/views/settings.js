// Language, units, and what the page keeps in this browser.
import { address, again } from "../route.js";
import { el } from "../dom.js";
import { button, choices, confirm, icon, toast } from "../parts.js";
import { keepAll, kept as keptAt, openAll } from "../several.js";
import * as store from "../store.js";
import { LANGUAGES, choose, counted, number, settings, t } from "../words.js";

const CODES = "js/views/settings.js"; // a file of every version, to ask the worker's cache for

export async function view(place) {
  // The page is shown anew in the new words, with the focus where it was.
  const keys = ["language", "length", "temperature"];
  const set = (key) => async (value) => {
    choose(key, value);
    await again();
    const chosen = document.querySelectorAll("#view fieldset")[keys.indexOf(key)]?.querySelector(":checked");
    /** @type {HTMLElement} */ (chosen)?.focus();
  };
  place.append(el("div", { class: "stack loose" }, el("h1", {}, t("set-title")),
    el("div", { class: "card stack" },
      choices(t("set-language"), [["", t("set-auto")], ...Object.entries(LANGUAGES)], settings.language, set("language")),
      choices(t("set-lengths"), [["", t("set-auto")], ["mm", t("set-mm")], ["in", t("set-in")]], settings.length, set("length")),
      choices(t("set-temperature"), [["", t("set-auto")], ["C", "°C"], ["F", "°F"]], settings.temperature, set("temperature"))),
    el("section", { class: "stack" }, el("h2", {}, t("set-kept")), el("p", {}, t("set-kept-how")), await kept()),
    el("section", { class: "stack" }, el("h2", {}, t("set-offline")), el("p", {}, t(await offline()))),
    el("section", { class: "stack" }, el("h2", {}, t("set-about")), el("p", {}, t("set-about-what")), el("p", {}, t("set-licence", { licence: "MIT" })),
      el("p", { class: "soft" }, t("set-version", { version: await version() })))));
}

const megabytes = (bytes) => (bytes >= 2e9 ? t("set-gb", { n: number(bytes / 1e9) }) : t("set-mb", { n: number(bytes / 1e6, bytes < 1e7 ? 1 : 0) }));

async function kept() {
  const [jars, { used, left }] = await Promise.all([store.jars(), store.room()]);
  const facts = [[t("set-jars"), number(jars.length)]];
  if (used !== undefined) facts.push([t("set-used"), megabytes(used)]);
  if (left !== undefined) facts.push([t("set-left"), megabytes(left)]);
  const messages = el("div", { class: "stack messages", role: "alert" });
  const restore = el("label", { class: "pick" }, icon("file"), t("set-restore"), el("input", { type: "file", accept: ".zip,application/zip", multiple: true, onchange: async (e) => {
    const { opened } = await openAll([...e.target.files], messages);
    e.target.value = "";
    if (opened.length) messages.append(el("p", {}, el("a", { href: address() }, counted("several-opened", opened.length))));
  } }));
  return el("div", { class: "stack" },
    el("dl", { class: "facts" }, facts.map(([k, v]) => [el("dt", {}, k), el("dd", {}, v)])),
    el("p", {}, keptAt()), el("h3", {}, t("set-backup")), el("p", {}, t("set-backup-what")), el("p", {}, t("save-bare")),
    el("div", { class: "row" }, jars.length ? button(t("set-backup-all"), () => keepAll(jars.map((j) => j.id), messages), { sign: "save" }) : null, restore),
    messages,
    jars.length ? el("div", {}, button(t("set-remove-all"), () => removeAll(jars.length), { kind: "bad" })) : null);
}

async function removeAll(n) {
  const answer = await confirm(t("set-remove-all"), [counted("set-remove-all-what", n)], [[t("set-remove-all"), "bad", true]]);
  if (!answer) return;
  await store.removeAll();
  toast(t("set-removed-all"));
  await again();
}

/** The key of the sentence on use without a connection. */
async function offline() {
  if (!window.isSecureContext || !navigator.serviceWorker) return "set-offline-never";
  const registration = await navigator.serviceWorker.getRegistration();
  return registration?.active ? "set-offline-yes" : "set-offline-soon";
}

// The version is the name of the store in which the service worker keeps it.
async function version() {
  const names = window.caches ? await caches.keys() : [];
  for (const name of names) if (await (await caches.open(name)).match(CODES)) return name.replace("mudline-", "");
  return t("set-version-unknown");
}
