// Starts the program and looks after its service worker.
//
// The program hears of the worker through events on `window`, each also left as an attribute on
// <html> for whoever starts listening later:
//   lugbook:offline-ready   data-offline="ready"    every file is kept; the network may go
//   lugbook:offline-failed  data-offline="failed"   no worker here: plain HTTP, or private browsing
//   lugbook:update-ready    data-update="ready"     a newer build waits for lugbook:take-over
//   lugbook:replaced        data-update="replaced"  another tab took a newer build over
// The program dispatches `lugbook:take-over` when the person asks and the outbox is idle.

import start from "/app.js";

const root = document.documentElement;
let registration = null;
let tookOver = false; // this page asked for the change of worker
let failed = false; // the program did not start

try {
  await start({ module_or_path: "/app.wasm" });
  document.getElementById("boot")?.remove();
} catch (error) {
  console.error(error);
  failed = true;
  explain();
}

try {
  await lookAfterWorker();
} catch (error) {
  console.warn(error);
  tell("offline-failed", "offline", "failed");
}

// Without a program to ask, a waiting build is taken over at once: it may be the repair.
function explain() {
  const panel = document.getElementById("boot") ?? document.body.appendChild(document.createElement("div"));
  panel.className = "boot";
  const text = document.createElement("p");
  text.setAttribute("role", "alert");
  text.textContent =
    "Lugbook could not start in this browser. Everything kept on this phone is still here. " +
    "Load the page again; if that does not help, update the browser, or free some space on the phone.";
  const again = document.createElement("button");
  again.className = "button";
  again.textContent = "Load again";
  again.addEventListener("click", () => location.reload());
  panel.replaceChildren(text, again);
}

function tell(name, attribute, state) {
  root.dataset[attribute] = state;
  window.dispatchEvent(new CustomEvent(`lugbook:${name}`));
}

async function lookAfterWorker() {
  const workers = navigator.serviceWorker;
  if (!workers) throw new Error("this address or browser allows no service worker");

  workers.addEventListener("message", ({ data }) => {
    if (data?.type === "ready" && data.complete) tell("offline-ready", "offline", "ready");
  });

  const hadController = workers.controller !== null;
  let changes = 0;
  workers.addEventListener("controllerchange", () => {
    changes += 1;
    if (tookOver) location.reload();
    // The first worker claims a page that had none: nothing was replaced.
    else if (hadController || changes > 1) tell("replaced", "update", "replaced");
    tookOver = false;
  });

  window.addEventListener("lugbook:take-over", takeOver);

  registration = await workers.register("/sw.js", { updateViaCache: "none" });
  watch(registration.installing);
  registration.addEventListener("updatefound", () => watch(registration.installing));
  if (registration.waiting) offer();

  // Offline, asking for an update fails, which is no news.
  const look = () => registration.update().catch(() => {});
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") look();
  });
  window.addEventListener("online", look);
  // A tablet on the kitchen wall is never hidden.
  setInterval(look, 60 * 60 * 1000);

  const { active } = await workers.ready;
  active.postMessage({ type: "ready?" });
}

// `installed` beside an active worker is an update; without one it is the first install.
function watch(worker) {
  worker?.addEventListener("statechange", () => {
    if (worker.state === "installed" && registration.active) offer();
    if (worker.state === "activated") worker.postMessage({ type: "ready?" });
  });
}

function offer() {
  if (failed) takeOver();
  else tell("update-ready", "update", "ready");
}

function takeOver() {
  if (!registration?.waiting) return;
  tookOver = true;
  registration.waiting.postMessage({ type: "take-over" });
}
