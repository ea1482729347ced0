// Files that come from outside: opened with the installed app, or shared to
// it. The app may not listen yet, so they wait in a list:
//
//   out  halfturn-incoming          there is something in the list
//   window.halfturnIncoming         [{ file, handle }], emptied by the app;
//                                   with the handle it can save back

const waiting = (window.halfturnIncoming = []);

const bring = (file, handle) => {
  waiting.push({ file, handle });
  window.dispatchEvent(new CustomEvent('halfturn-incoming'));
};

window.launchQueue?.setConsumer(async ({ files }) => {
  for (const handle of files) bring(await handle.getFile(), handle);
});

// The service worker has laid down here what another app shared.
async function takeShared() {
  const cache = await caches.open(`halfturn-shared ${new URL('./', location).pathname}`);
  for (const request of await cache.keys()) {
    const response = await cache.match(request);
    const name = decodeURIComponent(response.headers.get('x-file-name'));
    await cache.delete(request);
    bring(new File([await response.blob()], name));
  }
}

// Caches are missing on an insecure address; nothing can be shared there.
if (window.caches) takeShared().catch(console.warn);
