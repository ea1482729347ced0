// Keeps one whole version of the app on the device. VERSION and FILES
// ([path, SHA-256 in hex] of every file of the build) are put in front of this
// when the app is built.

// One origin may hold several copies of the app under different paths; each
// must leave the caches of the others alone. A path holds no space, so no
// copy's prefix is the beginning of another's.
const PREFIX = `halfturn ${new URL(self.registration.scope).pathname} `;
const CACHE = PREFIX + VERSION;

const base64 = (hex) =>
  btoa(String.fromCharCode(...hex.match(/../g).map((byte) => parseInt(byte, 16))));

// All or nothing. Each file must be the one this build was made with: while a
// host is half way through publishing, old and new files answer side by side,
// and a mix of both would be kept as a broken version.
self.addEventListener('install', (event) => {
  const requests = FILES.map(
    ([path, digest]) =>
      new Request(path, { cache: 'reload', integrity: `sha256-${base64(digest)}` }),
  );
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(requests)));
});

self.addEventListener('activate', (event) => {
  const tidy = async () => {
    const names = await caches.keys();
    const old = names.filter((name) => name.startsWith(PREFIX) && name !== CACHE);
    await Promise.all(old.map((name) => caches.delete(name)));
    await self.clients.claim();
  };
  event.waitUntil(tidy());
});

// A new version waits until no page of the old one is open, or until a person
// asks for it: it never takes over under a running job by itself.
self.addEventListener('message', (event) => {
  if (event.data === 'take-over') self.skipWaiting();
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method === 'POST' && request.url === `${self.registration.scope}share`) {
    event.respondWith(takeShared(request));
  }
  if (request.method === 'GET' && request.url.startsWith(self.registration.scope)) {
    event.respondWith(answer(request));
  }
});

// A file that another app shares comes as a form. It is laid down for the page,
// which takes it up when it opens (incoming.js), with no network at all.
async function takeShared(request) {
  const { scope } = self.registration;
  const cache = await caches.open(`halfturn-shared ${new URL(scope).pathname}`);
  const files = (await request.formData()).getAll('file');
  await Promise.all(
    files.map((file, index) => {
      const headers = { 'x-file-name': encodeURIComponent(file.name) };
      return cache.put(`${scope}shared/${index}`, new Response(file, { headers }));
    }),
  );
  return Response.redirect(`${scope}#/data`, 303);
}

async function answer(request) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(request, { ignoreSearch: true });
  if (kept) return kept;
  if (request.mode !== 'navigate') return fetch(request);
  // The app is one page. Served at another path, its relative addresses would
  // miss, so other paths lead to it instead. What follows '#' is kept.
  const page = self.registration.scope;
  const asked = request.url.split(/[?#]/)[0];
  if (asked !== page && asked !== `${page}index.html`) return Response.redirect(page);
  return (await cache.match('./')) ?? fetch(request);
}
