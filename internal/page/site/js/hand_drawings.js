// A drawing for each test of the hand test, 160 by 100: a hand is a thick round line,
// soil is brown, water blue, what moves an arrow.
import { shape } from "./parts.js";
import { t } from "./words.js";

const path = (kind, d) => shape("path", { class: kind, d });
const dot = (kind, cx, cy, r) => shape("circle", { class: kind, cx, cy, r });
const dots = (kind, r, ...at) => at.map(([x, y]) => dot(kind, x, y, r));
const hand = (d) => path("skin", d);
const move = (d) => path("move", d);
const drop = (x, y) => path("wet", `M${x} ${y}c5 7 7 10 7 13a7 7 0 0 1-14 0c0-3 2-6 7-13z`);

// A hand held out flat, seen from the side.
const palm = () => hand("M8 74h60c22 0 46-2 66-12M68 74c-6-8-2-18 10-18");
const ball = (x, y, r = 19) => dot("soil", x, y, r);
const sun = () => [dot("light", 26, 24, 10), path("ray", "M26 6v-4M26 46v-4M8 24H4M48 24h-4M13 11l-3-3M39 11l3-3")];

const DRAWINGS = {
  hands: () => [path("flesh", "M24 54h46v28a12 12 0 0 1-12 12H36a12 12 0 0 1-12-12z"), hand("M30 58V28M41 56V18M53 56V22M64 58V32M28 76L10 56"), path("page", "M98 20h46v62H98z"), move("M108 38l5 5 9-10M108 62l5 5 9-10M128 42h8M128 66h8")],
  "stones-out": () => [palm(), ...dots("soil", 6, [74, 54], [86, 52], [98, 54], [80, 44], [92, 43]), dot("stone", 124, 24, 9), dot("stone", 142, 40, 6), path("root", "M104 36c6-10 2-16 10-24"), move("M98 36l14-8M106 26l7 1-2 7")],
  "colour-dry": () => [...sun(), palm(), ...dots("dry", 8, [74, 52], [90, 50], [106, 50], [82, 38], [98, 36])],
  moistened: () => [drop(84, 2), drop(100, 14), drop(76, 22), palm(), path("soil", "M58 64c4-16 44-18 52-2z")],
  "colour-moist": () => [...sun(), palm(), path("soil", "M58 64c4-20 44-22 52-2z"), drop(140, 12)],
  smell: () => [path("line", "M20 10c10 12 12 24 22 38 2 8-6 10-14 8M22 68c4 4 10 6 16 4"), move("M62 44c8-8 12 6 20-2M62 56c8-8 12 6 20-2M62 32c8-8 12 6 20-2"), ball(122, 48, 20), hand("M92 88c10-2 14-12 22-14h26")],
  kneaded: () => [path("soil", "M46 62c0-18 20-24 36-18 20-10 40 2 36 18-6 14-64 16-72 0z"), hand("M8 84c20 0 34-6 46-14M152 84c-20 0-34-6-46-14M36 26c12 4 20 10 26 22M124 26c-12 4-20 10-26 22"), move("M72 22a16 10 0 0 1 20 4M92 18v8h-8")],
  ball: () => [ball(80, 46, 26), hand("M6 86h60c32 0 52-4 58-22 4-12-4-24-16-28M50 78c-12-10-12-28 0-40M124 64c-4-8-8-14-16-18")],
  failure: () => [ball(44, 18, 15), move("M44 40v34M36 66l8 9 8-9"), path("line", "M6 90h148"), path("soil", "M96 88c2-14 14-20 20-14l-6 8 12-4c10-2 16 4 18 10z"), ...dots("soil", 4, [88, 84], [148, 76]), path("ruler", "M74 4v84M70 4h8M70 88h8")],
  ribbons: () => [hand("M4 88c20 0 30-4 40-14M14 40c14 4 24 10 32 22"), path("soil", "M44 78c-4-10-2-18 4-22 10 6 10 8 22 8 30 0 50-6 70-18l2 7c-18 14-42 21-70 21-12 0-14 6-28 4z"), path("ruler", "M58 94h82M58 90v8M140 90v8")],
  grit: () => [palm(), path("wet", "M70 62c8-8 34-8 44-2l-8 4z"), ...dots("grain", 2.6, [82, 58], [90, 60], [98, 57], [104, 59], [88, 53]), hand("M92 50c2-16 12-26 26-32l24-8"), move("M62 40a24 14 0 0 1 20-16M56 30l5 11 9-7")],
  smooth: () => [palm(), path("soil", "M66 63c10-9 38-10 50-3l-10 5z"), hand("M76 50c2-16 14-26 28-32l24-8"), move("M92 46h40M124 39l9 7-9 7")],
  sticky: () => [path("soil", "M52 48c18 12 38 12 56 0 8 6 8 18 0 24-18-12-38-12-56 0-8-6-8-18 0-24z"), hand("M6 30c16 4 30 14 42 30M154 30c-16 4-30 14-42 30M6 74c10 4 24 0 40-8"), move("M60 26H42M48 19l-8 7 8 7M100 26h18M112 19l8 7-8 7")],
};

/** The drawing of a test, by the key of its question; nothing where there is none. */
export function handDrawing(key) {
  const parts = DRAWINGS[key]?.();
  if (!parts) return null;
  return shape("svg", { class: "hand-drawing", viewBox: "0 0 160 100", role: "img", "aria-label": t(`hands-drawn-${key}`) }, ...parts.flat());
}
