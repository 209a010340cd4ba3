// Keeps every file of one build. BUILD and FILES are filled in by the build.
const build = "{{BUILD}}";
const files = /*{{FILES}}*/ [];
const scope = new URL(self.registration.scope).pathname;
const prefix = "evenlot:" + scope + ":";
const name = prefix + build;

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(name).then((c) => c.addAll(files.map((f) => new Request(scope + f, { cache: "reload" })))));
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const key of await caches.keys()) if (key.startsWith(prefix) && key !== name) await caches.delete(key);
    await self.clients.claim();
  })());
});

self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== location.origin || !url.pathname.startsWith(scope)) return;
  event.respondWith((async () => {
    const cache = await caches.open(name);
    let path = url.pathname;
    if (path.endsWith("/")) path += "index.html";
    const kept = await cache.match(path, { ignoreSearch: true });
    return kept ?? fetch(event.request);
  })());
});
