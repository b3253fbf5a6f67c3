// What the page cannot do without. This file is a plain script in plain words, so
// that a browser too old for the rest still says what is the matter.
(function () {
  var root = document.documentElement;
  if (window.WebAssembly && window.DecompressionStream && window.indexedDB && window.structuredClone && window.HTMLDialogElement) return;
  root.className = "old";
  var language = (navigator.language || "en").slice(0, 2).toLowerCase();
  if (["es", "fr"].indexOf(language) < 0) language = "en";
  fetch("words/" + language + ".json").then(function (r) { return r.json(); }).then(function (words) {
    root.lang = language;
    var p = document.createElement("p");
    p.className = "notice warn";
    p.textContent = words["too-old"];
    document.getElementById("view").appendChild(p);
  });
})();
