// Files that come from outside: opened with the installed app, or shared to
// it. The app may not listen yet, so they wait in a list:
//
//   out  halfturn-incoming          there is something in the list
//   window.halfturnIncoming         [{ file, handle }], emptied by the app one by one;
//                                   with the handle it can save back, without a file
//                                   there was none in what was shared

const waiting = (window.halfturnIncoming = []);

const bring = (file, handle) => {
  waiting.push({ file, handle });
  window.dispatchEvent(new CustomEvent('halfturn-incoming'));
};

window.launchQueue?.setConsumer(async ({ files }) => {
  for (const handle of files) bring(await handle.getFile(), handle);
});

// The service worker has laid down here what another app shared. What came into a window of the
// browser's own did not come from the device's sharing, which opens the installed app: a page
// elsewhere sent it, and it is not even shown. What held no file is told as that.
async function takeShared() {
  const cache = await caches.open(`halfturn-shared ${new URL('./', location).pathname}`);
  const isInstalled = !matchMedia('(display-mode: browser)').matches;
  for (const request of await cache.keys()) {
    const response = await cache.match(request);
    const content = await response.blob();
    await cache.delete(request);
    const name = response.headers.get('x-file-name');
    const isFromDevice = response.headers.get('x-sender') === 'device';
    if (isFromDevice && !isInstalled) continue;
    bring(name === null ? undefined : new File([content], decodeURIComponent(name)));
  }
}

// Caches are missing on an insecure address; nothing can be shared there.
if (window.caches) takeShared().catch(console.warn);
