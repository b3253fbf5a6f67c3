// The service worker: it keeps the page's own files, so that it works without a
// connection once it has been loaded. Jars are not its business: they lie in
// IndexedDB and outlive every update.
"use strict";
const VERSION = "__VERSION__";
const FILES = ["__FILES__"];
const LATER = ["__LATER__"]; // kept once they were asked for
const CACHE = "mudline-" + VERSION;

self.addEventListener("install", (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(CACHE);
    const used = [];
    for (const f of LATER) if (await caches.match(new URL(f, self.location))) used.push(f);
    await cache.addAll([...FILES, ...used].map((f) => new Request(f, { cache: "reload" })));
  })());
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith("mudline-") && name !== CACHE) await caches.delete(name);
    }
    await self.clients.claim();
  })());
});

// The page asks for it once nothing would be lost by a reload.
self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
  event.respondWith((async () => {
    const cache = await caches.open(CACHE);
    const base = new URL("./", self.location);
    const path = url.pathname === base.pathname ? new URL("index.html", base) : url;
    const kept = await cache.match(path, { ignoreSearch: true });
    if (kept) return kept;
    const answer = await fetch(event.request);
    if (answer.ok && LATER.some((f) => new URL(f, base).pathname === url.pathname)) await cache.put(path, answer.clone());
    return answer;
  })());
});
