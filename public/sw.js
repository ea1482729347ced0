// Keeps one whole version of the app on the device. tools/service-worker.sh puts this between
// the head and the foot of one function, which is handed VERSION and FILES ([path, SHA-256 in
// hex] of every file of the build). A script that was cut anywhere is therefore no script at all,
// and the browser refuses it.

// One origin may hold several copies of the app under different paths; each
// must leave the caches of the others alone. A path holds no space, so no
// copy's prefix is the beginning of another's.
const { scope } = self.registration;
const PREFIX = `halfturn ${new URL(scope).pathname} `;
const CACHE = PREFIX + VERSION;
const SHARED = `halfturn-shared ${new URL(scope).pathname}`;

const base64 = (hex) =>
  btoa(String.fromCharCode(...hex.match(/../g).map((byte) => parseInt(byte, 16))));
const hex = (bytes) =>
  [...new Uint8Array(bytes)].map((byte) => byte.toString(16).padStart(2, '0')).join('');

// Each file must be the one this build was made with: while a host is half way through
// publishing, old and new files answer side by side, and a mix would be a broken version.
const request = ([path, digest]) =>
  new Request(path, { cache: 'reload', integrity: `sha256-${base64(digest)}` });

const isWhole = async (kept, digest) =>
  kept && hex(await crypto.subtle.digest('SHA-256', await kept.arrayBuffer())) === digest;

// The files that are not here byte for byte: a browser short of room or a disk that failed may
// have taken one.
async function lacking() {
  const cache = await caches.open(CACHE);
  const missing = [];
  for (const file of FILES) {
    const kept = await cache.match(file[0]);
    if (!(await isWhole(kept, file[1]))) missing.push(file);
  }
  return missing;
}

// The caches of other versions of this copy, the latest first.
const others = async () =>
  (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE).reverse();

// What other versions left behind, also those that never came to their end. A version that is
// on its way needs its own.
async function tidy() {
  if (self.registration.installing || self.registration.waiting) return;
  for (const name of await others()) await caches.delete(name);
}

// All or nothing. What is here already, under whatever name of this same version, is not fetched
// again; what was refused leaves nothing behind.
async function install() {
  const isBegun = await caches.has(CACHE);
  try {
    const cache = await caches.open(CACHE);
    await cache.addAll((await lacking()).map(request));
    if ((await lacking()).length) throw new Error('A file that was kept is gone again');
  } catch (error) {
    if (!isBegun) await caches.delete(CACHE);
    throw error;
  }
}

// Fetches what is lacking, as far as it can be had, and says how many files still are. Only once
// all of them are here may what came before go.
async function mend() {
  const cache = await caches.open(CACHE);
  const add = (file) => cache.add(request(file)).catch(() => {});
  let missing = await lacking();
  if (missing.length) {
    await Promise.all(missing.map(add));
    missing = await lacking(); // What was added may be gone again.
  }
  if (missing.length === 0) await tidy();
  return missing.length;
}

// A version that isn't whole leaves the start to the one before it, where that is still here.
async function activate() {
  if ((await mend()) > 0 && (await others()).length) await (await caches.open(CACHE)).delete('./');
  await self.clients.claim();
}

self.addEventListener('install', (event) => event.waitUntil(install()));
self.addEventListener('activate', (event) => event.waitUntil(activate()));

// A new version waits until no page of the old one is open, or until a person
// asks for it: it never takes over under a running job by itself.
//
// in 'take-over'   a person wants this version, or no other can serve
// in 'version'     answered with VERSION: a script that is not all there stays silent
// in 'lacking'     answered with how many files can't be had, after trying to mend that
self.addEventListener('message', (event) => {
  const [port] = event.ports;
  if (event.data === 'take-over') self.skipWaiting();
  if (event.data === 'version') port.postMessage(VERSION);
  if (event.data === 'lacking') event.waitUntil(mend().then((count) => port.postMessage(count)));
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method === 'POST' && request.url === `${scope}share`) {
    event.respondWith(takeShared(request));
  }
  if (request.method === 'GET' && request.url.startsWith(scope)) {
    event.respondWith(answer(request));
  }
});

// Who sends a share. The device's own sharing opens a window from outside of any page, so its
// origin is 'null' or not stated, and so is that of a page that hides it: incoming.js tells
// those two apart by the window. Nobody else has any business here.
function sender(request) {
  if (request.mode !== 'navigate') return 'page'; // A script of a page in our scope.
  const stated = request.headers.get('origin') ?? 'null';
  const { origin } = new URL(scope);
  const isOwn = (address) => new URL(address).origin === origin;
  if (stated === origin) return 'page';
  const isHidden = stated === 'null' && (!request.referrer || isOwn(request.referrer));
  const isWindow = request.destination === 'document' && request.referrerPolicy !== 'no-referrer';
  return isHidden && isWindow ? 'device' : 'stranger';
}

// Files that another app shares come as a form. They are laid down for the page, which takes
// them up when it opens (incoming.js), with no network at all. Each has a name of its own, so
// that of two shares none is lost; one that holds no file is laid down as that.
async function takeShared(request) {
  const from = sender(request);
  if (from !== 'stranger') {
    const form = await request.formData().catch(() => new FormData());
    const files = form.getAll('file').filter((file) => file instanceof File);
    const cache = await caches.open(SHARED);
    const lay = (file, index) => {
      const headers = { 'x-sender': from };
      if (file) headers['x-file-name'] = encodeURIComponent(file.name);
      const place = `${scope}shared/${Date.now()}-${index}-${crypto.randomUUID()}`;
      return cache.put(place, new Response(file, { headers }));
    };
    await Promise.all((files.length ? files : [null]).map(lay));
  }
  return Response.redirect(`${scope}#/data`, 303);
}

// Another version's file stands in only where this one's is gone.
async function find(request) {
  const options = { ignoreSearch: true };
  const kept = await (await caches.open(CACHE)).match(request, options);
  if (kept) return kept;
  for (const name of await others()) {
    const older = await (await caches.open(name)).match(request, options);
    if (older) return older;
  }
  return undefined;
}

async function answer(request) {
  // Without a network there is no news of a new version, which is no fault.
  if (request.url === `${scope}worker.json`) return fetch(request).catch(() => new Response(null, { status: 204 }));
  const kept = await find(request);
  if (kept) return kept;
  if (request.mode !== 'navigate') return fetch(request);
  // The app is one page. Served at another path, its relative addresses would
  // miss, so other paths lead to it instead. What follows '#' is kept.
  const asked = request.url.split(/[?#]/)[0];
  if (asked !== scope && asked !== `${scope}index.html`) return Response.redirect(scope);
  return (await find('./')) ?? fetch(request);
}
