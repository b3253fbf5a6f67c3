"use strict";
(() => {
  const table = document.getElementById("table");
  const body = table.tBodies[0];
  const rows = Array.from(body.rows);
  const words = document.getElementById("words");
  const only = document.getElementById("only");
  const count = document.getElementById("count");
  const compare = new Intl.Collator(document.documentElement.lang, { numeric: true, sensitivity: "base" }).compare;

  const filter = () => {
    const wanted = words.value.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    for (const row of rows) {
      const text = `${row.cells[1].dataset.find} ${row.cells[2].dataset.sort}`.toLowerCase();
      const fits = wanted.every((w) => text.includes(w)) && (!only.checked || row.dataset.look);
      row.hidden = !fits;
      shown += fits ? 1 : 0;
    }
    count.textContent = shown === rows.length ? "" : count.dataset.text.replace("{shown}", shown).replace("{all}", rows.length);
  };

  const value = (row, column, kind) => {
    const text = row.cells[column].dataset.sort || "";
    return kind === "number" ? (text === "" ? null : Number(text)) : text;
  };

  const sort = (head) => {
    const up = head.getAttribute("aria-sort") !== "ascending";
    for (const other of head.parentNode.cells) other.removeAttribute("aria-sort");
    head.setAttribute("aria-sort", up ? "ascending" : "descending");
    const column = head.cellIndex;
    const kind = head.dataset.key;
    const sorted = rows.map((row, i) => ({ row, i, v: value(row, column, kind) }));
    sorted.sort((a, b) => {
      const noA = a.v === null || a.v === "", noB = b.v === null || b.v === "";
      if (noA || noB) return noA - noB || a.i - b.i; // without a value: last
      const order = kind === "number" ? a.v - b.v : compare(a.v, b.v);
      return (up ? order : -order) || a.i - b.i;
    });
    body.append(...sorted.map((s) => s.row));
  };

  for (const head of table.tHead.rows[0].cells) {
    if (!head.dataset.key) continue;
    const button = document.createElement("button");
    button.type = "button";
    const paper = document.createElement("span"); // on paper a button is not repeated on each sheet
    paper.className = "paper";
    paper.textContent = head.textContent;
    button.append(...head.childNodes);
    button.addEventListener("click", () => sort(head));
    head.append(button, paper);
  }
  const form = document.getElementById("find");
  form.hidden = false;
  form.addEventListener("submit", (e) => e.preventDefault());
  words.addEventListener("input", filter);
  only.addEventListener("change", filter);
})();
