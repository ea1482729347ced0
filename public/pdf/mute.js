// A worker has a policy of its own, which only its host could state. So all that reaches out of it
// is taken away before a PDF is read: what the reader needs, the page hands to it.
const REACHING = [
  'fetch', 'XMLHttpRequest', 'WebSocket', 'WebSocketStream', 'EventSource', 'WebTransport',
  'BroadcastChannel', 'Worker', 'indexedDB', 'caches', 'importScripts',
];
for (const name of REACHING) {
  for (let at = self; at; at = Object.getPrototypeOf(at)) {
    if (Object.hasOwn(at, name)) {
      Object.defineProperty(at, name, { value: undefined, configurable: false, writable: false });
    }
  }
}
