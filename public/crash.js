// When the app stops on an error, says so and offers a way on. Deliberately
// apart from the app, which can't help itself any more by then.

const show = (error) => {
  if (error instanceof WebAssembly.RuntimeError) {
    document.getElementById('stopped').hidden = false;
  }
};
window.addEventListener('error', (event) => show(event.error));
window.addEventListener('unhandledrejection', (event) => show(event.reason));

document.getElementById('stopped-reload').addEventListener('click', () => location.reload());

document.getElementById('stopped-save').addEventListener('click', () => {
  const kept = Object.entries(localStorage).filter(([key]) => key.startsWith('halfturn:'));
  const text = JSON.stringify(Object.fromEntries(kept.sort()), null, 2);
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  link.download = 'halfturn-everything.json';
  link.click();
});
