// Registers the service worker and tells the app about it. Speaks with the app
// only through events on window:
//
//   out  halfturn-offline-ready   everything is on this device
//   out  halfturn-update-waiting  a new version is here and waits
//   in   halfturn-take-update     someone asked for the new version
//
// The app may start to listen only after an event was sent, so what was said
// also stays readable: <html data-offline="ready" data-update="waiting">.

const HOUR = 60 * 60 * 1000;

const tell = (name, mark, value) => {
  document.documentElement.dataset[mark] = value;
  window.dispatchEvent(new CustomEvent(name));
};
const offlineReady = () => tell('halfturn-offline-ready', 'offline', 'ready');
const updateWaiting = () => tell('halfturn-update-waiting', 'update', 'waiting');

async function start(workers) {
  // Listening to 'controllerchange' alone would reload on the first visit too,
  // and in every tab though only one agreed: half-typed readings would go.
  let asked = false;
  workers.addEventListener('controllerchange', () => {
    if (asked) location.reload();
  });

  workers.ready.then(offlineReady);
  const registration = await workers.register('./sw.js', { updateViaCache: 'none' });

  window.addEventListener('halfturn-take-update', () => {
    if (!registration.waiting) return location.reload(); // Another tab was first.
    asked = true;
    registration.waiting.postMessage('take-over');
  });

  // The very first worker passes through 'waiting' too, but replaces nothing.
  const offer = () => registration.waiting && registration.active && updateWaiting();
  const follow = (worker) =>
    worker?.addEventListener('statechange', () => {
      if (worker.state === 'installed') offer();
    });
  offer();
  follow(registration.installing);
  registration.addEventListener('updatefound', () => follow(registration.installing));

  // Without network the look-up fails, which is no news on a bench.
  const look = () => navigator.onLine && registration.update().catch(() => {});
  setInterval(look, HOUR);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') look();
  });
}

// Workers are missing on an insecure address and in some private windows; the
// app then works while the network does.
if (navigator.serviceWorker) start(navigator.serviceWorker).catch(console.warn);
