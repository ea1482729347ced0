// Loads the app, which lies beside it.

const part = (id) => document.getElementById(id);
const unable = part('unable');

// The page says by itself after a while that it could not start (crash.css), for this file may
// be the one that is missing.
unable.hidden = true;

// A later visit starts from what is kept, too soon to read anything meanwhile.
part('starting').hidden = Boolean(navigator.serviceWorker?.controller);

const last = window.halfturnLast;
try {
  last?.show();
  const app = await import('./halfturn.js');
  await app.default({ module_or_path: new URL('halfturn_bg.wasm', import.meta.url) });
  // Taking the program in was long; what a finger did meanwhile comes first.
  await new Promise((done) => setTimeout(done));
  // Both in one task, so that nothing is painted between them.
  const done = last?.take();
  await app.open();
  await last?.give(done);
  last?.follow();
  document.documentElement.dataset.app = 'started';
} catch (error) {
  // A program that loaded and then stopped is for crash.js to report.
  if (error instanceof WebAssembly.RuntimeError) throw error;
  console.error(error);
  unable.className = 'now';
  unable.hidden = false;
} finally {
  await last?.give(last.take());
  part('starting').remove();
}
