// The service worker: keeps one whole build on the device, so that the app starts with no network.
// The bundler writes VERSION (a hash of every file of the build) and ASSETS (their paths) above this line.
//
// - One cache per build, filled completely or not at all, so that the files of two builds are never mixed.
// - A new build waits until the page sends `skip-waiting`, which it does only when a person taps the button for it.
// - It never handles records or photographs: they are in the page's database, and the page syncs them.

const PREFIX = "waxend-app-";
const CACHE = PREFIX + VERSION;
const INDEX = "/index.html";
const KEPT = new Set(ASSETS);

// Paths that only the server answers. Care cards are pages of the server; the app's index page must not replace them.
const PASSED = ["/api/", "/card/", "/health"];

self.addEventListener("install", (event) => {
  event.waitUntil(fill());
});

self.addEventListener("activate", (event) => {
  event.waitUntil(dropOthers().then(() => self.clients.claim()));
});

self.addEventListener("message", (event) => {
  // Pages of an old build send this to workers of a new one, so the text must never change.
  if (event.data === "skip-waiting") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (PASSED.some((path) => url.pathname.startsWith(path))) return;
  if (KEPT.has(url.pathname)) {
    event.respondWith(kept(url.pathname, request));
  } else if (request.mode === "navigate" && !isFile(url.pathname)) {
    event.respondWith(kept(INDEX, request));
  }
  // Everything else goes to the network as if there were no service worker, and fails if it is missing there.
});

// Paths of the app's screens have no file extension; `/sw.js` and `/openapi.json` have one.
function isFile(path) {
  return path.slice(path.lastIndexOf("/")).includes(".");
}

// `no-cache` makes the browser ask the server rather than use its HTTP cache, which may still have the former
// index.html.
async function fill() {
  const cache = await caches.open(CACHE);
  await cache.addAll(ASSETS.map((path) => new Request(path, { cache: "no-cache" })));
}

async function dropOthers() {
  const names = await caches.keys();
  const others = names.filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(others.map((name) => caches.delete(name)));
}

// From this build's cache; from the network only if the browser has deleted the cache.
async function kept(path, request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(path)) ?? fetch(request);
}
