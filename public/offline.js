// Brings the service worker onto the device, looks after it, and tells the app. Speaks with the
// app only through events on window:
//
//   out  halfturn-offline           how much of the app is on this device has changed
//   out  halfturn-update-waiting    a new version is here, whole, and waits
//   in   halfturn-take-update       someone asked for the new version
//
// The app may start to listen only after an event was sent, so what was said
// also stays readable: <html data-offline="ready" data-update="waiting">.
//
//   data-offline   ready     every file is on this device, byte for byte
//                  lacking   some are not and can't be had just now
//   data-looked    what the last look for a new version came to: none, waiting, refused
//
// A browser installs any script that runs, also an empty one, and checks the address a worker was
// registered from on its own. So each version's worker has a name made from what it holds, which
// never changes, and worker.json says which is the newest and what its digest is. Only a worker
// that was seen to be the very one is registered, and only one that answers is offered.

const HOUR = 60 * 60 * 1000;
const MINUTE = 60 * 1000;
// Between attempts to replace what can't start the app.
const RETRY = 5 * 1000;
// How long a worker may take to wake up, and to read through every file, on a slow device.
const WAKING = 10 * 1000;
const READING = 120 * 1000;
// How long the app has the device for itself when it starts.
const SETTLING = 2 * 1000;

// The copy for devices that have an earlier version, which registered under this name. It is the
// newest worker as well.
const PLAIN = './sw.js';
const WORKER = /^\.\/sw-[0-9a-f]{16}\.js$/;

const mark = (name, value) => (document.documentElement.dataset[name] = value);
const isMarked = (name, value) => document.documentElement.dataset[name] === value;
const tell = (event) => window.dispatchEvent(new CustomEvent(event));
const here = (path) => new URL(path, document.baseURI).href;
const wait = (time) => new Promise((done) => setTimeout(done, time));

const workers = navigator.serviceWorker;
// The worker of a new version that has shown to be whole.
let proved = null;
// Whether a person asked for the new version on this page. Listening to 'controllerchange' alone
// would reload in every tab though only one agreed: half-typed readings would go.
let asked = false;

// What a worker says to a question; nothing where it says nothing.
const ask = (worker, question, patience) =>
  new Promise((done) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => done(data);
    setTimeout(done, patience);
    worker.postMessage(question, [port2]);
  });
const versionOf = (worker) => ask(worker, 'version', WAKING);

// Until a worker has gone through this state or failed.
const reached = (worker, state) =>
  new Promise((done) => {
    const look = () => {
      if (worker.state === state || worker.state === 'activated') done(true);
      if (worker.state === 'redundant') done(false);
    };
    worker.addEventListener('statechange', look);
    look();
  });

// This copy's own; another copy may answer for a folder above.
async function registered() {
  const found = await workers.getRegistration(here('./'));
  return found?.scope === here('./') ? found : undefined;
}

const newestOf = (registration) =>
  registration && (registration.installing ?? registration.waiting ?? registration.active);

async function published() {
  const answer = await fetch('./worker.json', { cache: 'no-store' });
  const { worker, sha256 } = await answer.json();
  if (!WORKER.test(worker)) throw new Error('worker.json names no worker');
  return { worker, sha256 };
}

// Fetches a worker's script only to see that it is the one.
async function seen(path, sha256) {
  const answer = await fetch(path, { cache: 'no-store' });
  const digest = await crypto.subtle.digest('SHA-256', await answer.arrayBuffer());
  const hex = [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0'));
  if (hex.join('') !== sha256) throw new Error(`${path} is not what was built`);
  return path;
}

// Registers what the host has now, where that is another than the newest here; or, where `broken`
// is still the newest here, in its place.
async function take(broken) {
  const { worker, sha256 } = await published();
  const registration = await registered();
  const newest = newestOf(registration);
  if (broken ? newest !== broken : newest?.scriptURL === here(worker)) return registration;
  const path = await seen(worker, sha256).catch((error) => {
    if (!broken) throw error;
    return seen(PLAIN, sha256);
  });
  if (newest?.scriptURL !== here(path)) return workers.register(path, { updateViaCache: 'none' });
  await registration.update();
  return registration;
}

// Looks after a worker that came, from wherever: it is offered once it has shown to be whole, and
// replaced where it hasn't. The very first one replaces nothing, and one of the same version
// changes nothing.
async function follow(registration, worker) {
  if (!(await reached(worker, 'installed'))) return 'refused';
  if (registration.waiting !== worker) return 'none';
  const version = await versionOf(worker);
  if (!version) return replace(worker);
  const { active } = registration;
  const current = active && (await versionOf(active));
  if (!active || active === worker) return 'none';
  if (!current || current === version) {
    worker.postMessage('take-over');
    if (await reached(worker, 'activated')) await check(registration);
    return 'none';
  }
  proved = worker;
  mark('update', 'waiting');
  tell('halfturn-update-waiting');
  if (isMarked('offline', 'lacking')) await check(registration);
  return 'waiting';
}

// One worker is followed once, whoever noticed it first.
const following = new WeakMap();
function followed(registration, worker) {
  if (!following.has(worker)) following.set(worker, follow(registration, worker));
  return following.get(worker);
}

// A worker that says nothing can't start the app. Another goes in its place as soon as the host
// has a whole one, and until then the page says that something is lacking.
async function replace(broken) {
  console.warn(`${broken.scriptURL} is not whole and is replaced.`);
  offline('lacking');
  for (;;) {
    const registration = await take(broken).catch(() => undefined);
    if (registration && newestOf(registration) !== broken) return 'refused';
    await wait(RETRY);
  }
}

function offline(value) {
  if (isMarked('offline', value)) return;
  mark('offline', value);
  tell('halfturn-offline');
}

// Has all that is kept for the app read through and mended, and says how it is then.
async function check(registration) {
  if (!registration.active && !(await reached(newestOf(registration), 'activated'))) return;
  const { active, waiting } = registration;
  if (!(await versionOf(active))) {
    return registration.active === active ? replace(active) : check(registration);
  }
  const count = await ask(active, 'lacking', READING);
  const isBroken = waiting && !(await versionOf(waiting));
  offline(count === 0 && !isBroken ? 'ready' : 'lacking');
}

// Whether there is a new version.
async function look() {
  // Without network the look-up fails, which is no news on a bench.
  if (!navigator.onLine) return;
  try {
    const registration = await take();
    const newest = newestOf(registration);
    const isNews = newest && newest !== registration.active;
    mark('looked', isNews ? await followed(registration, newest) : 'none');
  } catch {
    mark('looked', 'refused');
  }
}

function watch(registration) {
  const { waiting, installing } = registration;
  if (waiting) followed(registration, waiting);
  if (installing) followed(registration, installing);
  registration.addEventListener('updatefound', () => {
    if (registration.installing) followed(registration, registration.installing);
  });
}

async function lookAgain() {
  await look();
  const registration = await registered();
  if (registration && !isMarked('offline', 'ready')) await check(registration);
}

async function keepLooking() {
  for (;;) {
    await wait(isMarked('offline', 'ready') ? HOUR : MINUTE);
    await lookAgain();
  }
}

async function start() {
  workers.addEventListener('controllerchange', () => {
    if (asked) location.reload();
  });
  window.addEventListener('halfturn-take-update', async () => {
    const registration = await registered();
    // Another tab may have been first.
    if (!proved || registration?.waiting !== proved) return location.reload();
    asked = true;
    proved.postMessage('take-over');
  });
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') lookAgain();
  });

  const known = await registered();
  if (known) {
    watch(known);
    // The app itself comes first.
    wait(SETTLING).then(() => check(known));
    await look();
  } else {
    await look();
    const fresh = await registered();
    if (fresh) {
      watch(fresh);
      await check(fresh);
    }
  }
  await keepLooking();
}

// Workers are missing on an insecure address and in some private windows; the
// app then works while the network does.
if (workers) start().catch(console.warn);
