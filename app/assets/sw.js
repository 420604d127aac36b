// The service worker: keeps one whole build on the device, so that the app starts with no network.
// The bundler writes VERSION (a hash of every file of the build) and ASSETS (their paths) above this line.
//
// - One cache per build, filled whole or not at all: a page of one build never meets files of another.
// - A new build waits until the page says `skip-waiting`, which it does only on a person's tap.
// - It never touches records or photographs: those live in the page's database, and sync is the page's work.

const PREFIX = "waxend-app-";
const CACHE = PREFIX + VERSION;
const INDEX = "/index.html";
const KEPT = new Set(ASSETS);

// What belongs to the server alone. A care card is a page of the server's; falling back to the app would swallow it.
const PASSED = ["/api/", "/card/", "/health"];

self.addEventListener("install", (event) => {
  event.waitUntil(fill());
});

self.addEventListener("activate", (event) => {
  event.waitUntil(dropOthers().then(() => self.clients.claim()));
});

self.addEventListener("message", (event) => {
  // Old pages talk to new workers: this word may never change.
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
  // Anything else goes to the network as if there were no worker: what is missing stays missing.
});

// Screens of the app have no file's name; `/sw.js` and `/openapi.json` have.
function isFile(path) {
  return path.slice(path.lastIndexOf("/")).includes(".");
}

// `no-cache` asks the server past the browser's own cache, which might still hold the former index.html.
async function fill() {
  const cache = await caches.open(CACHE);
  await cache.addAll(ASSETS.map((path) => new Request(path, { cache: "no-cache" })));
}

async function dropOthers() {
  const names = await caches.keys();
  const others = names.filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(others.map((name) => caches.delete(name)));
}

// From this build's cache; from the network only if the browser has taken the cache away.
async function kept(path, request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(path)) ?? fetch(request);
}
