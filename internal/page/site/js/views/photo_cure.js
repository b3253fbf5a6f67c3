// What a photo shows where the jar could not be read: why, and how the person can help.
import { address } from "../route.js";
import { el } from "../dom.js";
import { button, notice } from "../parts.js";
import { remedy } from "../remedy.js";
import { t } from "../words.js";

/**
 * title is the key of the heading, refused is {text, remedy, ...} in the person's words, cure what cureOf gives of it, file
 * the photo in view, lines what it shows, undefined where it could not be opened. does are
 * stands(), drawBox(), addTop() and oneJar().
 */
export function cureNotice({ title, refused, cure, jar, file, lines, topPlaced, does }) {
  const here = cure?.file === file;
  const main = (key, act) => button(t(key), act, { kind: "main" });
  const part = () => {
    if (cure?.kind === "one") return [remedy(refused, jar), row(main("cure-one", does.oneJar))];
    if (cure?.kind === "place" && lines && (here || lines.guessed)) return [el("p", {}, t("cure-how")), row(main("cure-stands", does.stands), button(t("cure-box"), does.drawBox))];
    if (cure?.kind === "top" && lines && here && !topPlaced) return [el("p", {}, t("cure-top")), row(main("photo-add-it", does.addTop))];
    if (cure && !here) return row(el("a", { class: "button main", href: address("jar", jar.id, "photo", cure.file) }, t("cure-there")));
    return remedy(refused, jar);
  };
  return notice("bad", el("h2", {}, t(title)), el("p", { role: "alert" }, refused.text), part());
}

/** While a box is drawn: what to do, and what to do with it. */
export const boxNotice = (has, { look, leave, without }) => notice("", el("p", {}, t("cure-box-how")),
  row(button(t("cure-box-look"), look, { kind: "main" }), button(t("cancel"), leave, { kind: "quiet" }),
    has ? button(t("cure-box-without"), without, { kind: "quiet" }) : null));

const row = (...children) => el("div", { class: "row" }, children);
