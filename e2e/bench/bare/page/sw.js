// The least a service worker can be: keeps the page's two files and answers from them.
self.addEventListener("install", (event) => {
  event.waitUntil(caches.open("bare").then((cache) => cache.addAll(["/", "/start.js"])));
});
self.addEventListener("fetch", (event) => {
  event.respondWith(caches.match(event.request, { ignoreVary: true }).then((kept) => kept ?? fetch(event.request)));
});
