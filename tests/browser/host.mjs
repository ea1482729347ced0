// A static web host as bare as they come, under a sub-path: what the app must
// be content with. It can vanish and come back, and fail at single files.

import { createServer } from 'node:http';
import { readFile } from 'node:fs/promises';
import { gzipSync } from 'node:zlib';
import { extname, join, normalize } from 'node:path';
import { TYPES } from '../../tools/types.mjs';
import { later } from './later.mjs';

// The files whose names change with what they hold.
const HASHED = /-[0-9a-f]{16}[./]/;
const KEPT = { 'cache-control': 'public, max-age=31536000, immutable' };

// host.url        address of the page
// host.folder     the files served; set it to publish others at the same address
// host.requests   paths asked for since the start, in order
// host.fails      (path) => true makes the host answer 500 for that file
// host.halves     (path) => true makes the line break after half of that file
// host.says       (path) => a text makes the host answer 200 with that instead of the file
// host.waits      (path) => true leaves a request for that file without an answer
// host.packed     true compresses what it sends and lets hashed files be kept, as most hosts do
// host.stop(), host.start()   the network goes, and comes back on the same port
export async function openHost(t, folder, path = '/bench/halfturn/') {
  const never = () => false;
  const host = { folder, requests: [], packed: false };
  Object.assign(host, { fails: never, halves: never, waits: never, says: () => undefined });
  const server = createServer(async (request, response) => {
    const { pathname } = new URL(request.url, host.url);
    host.requests.push(pathname);
    const file = pathname.endsWith('/') ? `${pathname}index.html` : pathname;
    if (host.waits(pathname)) return;
    if (host.fails(pathname)) return response.writeHead(500).end();
    try {
      if (!file.startsWith(path)) throw new Error('outside');
      const said = host.says(pathname);
      const whole = said ?? (await readFile(join(host.folder, normalize(file.slice(path.length)))));
      const type = TYPES[extname(file)] ?? 'text/plain';
      const body = host.packed ? gzipSync(whole) : whole;
      const packed = host.packed && { 'content-encoding': 'gzip', ...(HASHED.test(file) && KEPT) };
      response.writeHead(200, { 'content-type': type, 'content-length': Buffer.byteLength(body), ...packed });
      if (!host.halves(pathname)) return response.end(body);
      response.write(body.slice(0, body.length >> 1), () => setTimeout(() => response.destroy(), 50));
    } catch {
      response.writeHead(404).end();
    }
  });
  const listen = (port) => new Promise((done) => server.listen(port, '127.0.0.1', done));
  await listen(0);
  const { port } = server.address();
  host.url = `http://127.0.0.1:${port}${path}`;
  host.start = () => listen(port);
  host.stop = () =>
    new Promise((done) => {
      server.close(done);
      server.closeAllConnections();
    });
  later(t, async () => server.listening && host.stop());
  return host;
}
