// The least an app that starts from the device can be: one element, drawn by a script.
navigator.serviceWorker?.register("/sw.js");
const ready = document.createElement("h1");
ready.dataset.ready = "bench";
ready.textContent = "Bare";
document.body.append(ready);
