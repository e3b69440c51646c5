// Keeps one whole build of the program on the phone and answers from it.
//
// A build is installed complete or not at all, waits until the page hands over, and then removes
// the builds before it. Files of two builds never mix. The server's build fills in the next two
// lines; a change of either is what makes the browser see a new worker.
const BUILD = "%BUILD%";
const FILES = ["%FILES%"];

const PREFIX = "lugbook-";
const CACHE = PREFIX + BUILD;
const PAGE = "/index.html";

// A name with its content's hash means the same bytes in every build.
const HASHED = /-[0-9a-f]{12}\.[a-z]+$/;

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("message", (event) => event.waitUntil(hear(event)));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (FILES.includes(url.pathname)) {
    event.respondWith(answer(url.pathname, request));
  } else if (request.mode === "navigate" && isScreen(url.pathname)) {
    event.respondWith(answer(PAGE, request));
  }
});

async function install() {
  const cache = await caches.open(CACHE);
  try {
    await Promise.all(FILES.map((path) => keep(cache, path)));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

async function keep(cache, path) {
  const kept = HASHED.test(path) ? await caches.match(path) : undefined;
  const response = kept ?? (await fetch(path, { cache: HASHED.test(path) ? "default" : "no-cache" }));
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  if (path === PAGE && !(await response.clone().text()).includes(BUILD)) {
    throw new Error(`${path} is of another build`);
  }
  await cache.put(path, response);
}

async function activate() {
  for (const name of await caches.keys()) {
    if (name.startsWith(PREFIX) && name !== CACHE) await caches.delete(name);
  }
  await self.clients.claim();
}

async function hear(event) {
  if (event.data?.type === "take-over") await self.skipWaiting();
  if (event.data?.type === "ready?") {
    event.source.postMessage({ type: "ready", build: BUILD, complete: await isComplete() });
  }
}

async function isComplete() {
  const cache = await caches.open(CACHE);
  const found = await Promise.all(FILES.map((path) => cache.match(path)));
  return found.every((response) => response !== undefined);
}

// The network is the way out when the browser has thrown single files away.
async function answer(path, request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(path)) ?? fetch(request);
}

// The same rule as the server's: the API, and names with a dot, are not screens.
function isScreen(path) {
  const isApi = path === "/api" || path.startsWith("/api/");
  return !isApi && !path.slice(path.lastIndexOf("/")).includes(".");
}
