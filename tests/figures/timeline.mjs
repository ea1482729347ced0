// What the main thread of a page computes between two moments, which other work on the machine
// sways far less than the time that passes meanwhile.

// Notes moments from the page's own begin on. Each mark of a page's timeline (User Timing, W3C) says
// in a trace how long its thread had computed by then.
export async function traced(page, act) {
  const devtools = await page.context().newCDPSession(page);
  const events = [];
  devtools.on('Tracing.dataCollected', ({ value }) => events.push(...value));
  await devtools.send('Tracing.start', {
    transferMode: 'ReportEvents',
    traceConfig: { includedCategories: ['blink.user_timing'], excludedCategories: ['*'] },
  });
  const ended = new Promise((done) => devtools.once('Tracing.tracingComplete', done));
  await act().finally(() => devtools.send('Tracing.end'));
  await ended;
  await devtools.detach();
  const marks = events.filter(({ ph, tts }) => tts !== undefined && 'IiRn'.includes(ph));
  return marks.sort((a, b) => a.ts - b.ts);
}

// Pairs of marks as what was computed from the first to the second, in milliseconds. Both are of
// one thread.
export function between(marks, from, to) {
  const found = [];
  for (const [place, mark] of marks.entries()) {
    if (mark.name !== from) continue;
    const end = marks.slice(place).find((it) => it.name === to && it.pid === mark.pid && it.tid === mark.tid);
    if (end) found.push({ cpu: (end.tts - mark.tts) / 1000, wall: (end.ts - mark.ts) / 1000 });
  }
  return found;
}

// Runs in the page before anything else. A key that is pressed while `globalThis.watched` names it
// leaves two marks: `…-came`, and `…-painted` once the frame behind it has been painted.
export function watchKeys() {
  const painted = (act) =>
    requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = act;
      port2.postMessage('');
    });
  const heard = () => {
    const name = globalThis.watched;
    if (!name) return;
    performance.mark(`${name}-came`);
    painted(() => {
      performance.mark(`${name}-painted`);
      globalThis.watched = undefined;
    });
  };
  addEventListener('keydown', heard, true);
}
