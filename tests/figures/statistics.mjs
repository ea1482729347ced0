// What measures share to say honestly how long something took.

// The middle value; of an even count, the mean of the two in the middle.
export function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

// The values of several functions, each called `rounds` times in turn, so that what slows the
// machine for a while slows all of them: { name: [values] }.
export async function interleaved(rounds, functions) {
  const values = Object.fromEntries(Object.keys(functions).map((name) => [name, []]));
  for (let round = 0; round < rounds; round += 1) {
    for (const [name, run] of Object.entries(functions)) values[name].push(await run(round));
  }
  return values;
}

// A source of numbers from 0 up to 1 that gives the same ones for the same seed.
// (mulberry32, a public-domain generator; from memory.)
export function seeded(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}
