// Loads the app. The page's security policy allows no inline script, so the
// page names the files of this build in two links instead.

const href = (id) => document.getElementById(id).href;

try {
  const app = await import(href('app-js'));
  await app.default({ module_or_path: href('app-wasm') });
  document.documentElement.dataset.app = 'started';
} catch (error) {
  // A program that loaded and then stopped is for crash.js to report.
  if (error instanceof WebAssembly.RuntimeError) throw error;
  console.error(error);
  document.getElementById('unable').hidden = false;
}
