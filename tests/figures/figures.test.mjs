// What the measures stand on.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { groupOf } from './bytes.mjs';
import { renewed, table } from './document.mjs';
import { earlier, row } from './fuzz.mjs';
import { interleaved, median, seeded } from './statistics.mjs';
import { between } from './timeline.mjs';

const BEFORE = '# Figures\n\nHead.\n\n## fold\n\nbefore\n\n## size\n\nkept\n';

test('a measure renews its own section and no other', () => {
  assert.equal(renewed(BEFORE, 'fold', 'new'), BEFORE.replace('before', 'new'));
  assert.equal(renewed(BEFORE, 'size', 'new'), BEFORE.replace('kept', 'new'));
  assert.equal(renewed(BEFORE, 'crash', 'new'), `${BEFORE}\n## crash\n\nnew\n`);
});

test('a row says whether its goal is met, where it has one', () => {
  const rows = [
    { figure: 'Transfer', value: '8.1', unit: '×', goal: '≤ 10 ×', met: true, how: 'a | b' },
    { figure: 'Start', value: '2', unit: 's', goal: '≤ 1 s', met: false, how: '' },
    { figure: 'Events', value: '7', how: 'counted' },
  ];
  assert.deepEqual(table(rows).split('\n').slice(2), [
    '| Transfer | 8.1 × | ≤ 10 ×: met | a \\| b |',
    '| Start | 2 s | ≤ 1 s: missed |  |',
    '| Events | 7 |  | counted |',
  ]);
});

test('medians, interleaving and seeds', async () => {
  assert.equal(median([3, 1, 2]), 2);
  assert.equal(median([4, 1, 2, 3]), 2.5);
  const order = [];
  const note = (name) => (round) => order.push(`${name}${round}`);
  await interleaved(2, { a: note('a'), b: note('b') });
  assert.deepEqual(order, ['a0', 'b0', 'a1', 'b1']);
  const [one, same] = [seeded(7), seeded(7)];
  for (let i = 0; i < 100; i += 1) assert.equal(one(), same());
  assert.notEqual(seeded(8)(), seeded(7)());
});

test('what was computed between two marks is told apart by thread, and a mark without its end is left out', () => {
  const mark = (name, pid, ms) => ({ name, pid, tid: 1, ts: 1000 * ms, tts: 500 * ms });
  const marks = [mark('from', 1, 2), mark('to', 2, 3), mark('to', 1, 6), mark('from', 1, 7)];
  assert.deepEqual(between(marks, 'from', 'to'), [{ cpu: 2, wall: 4 }]);
});

test('what is fuzzed again leaves the rows of the other targets, with their day', () => {
  const one = row('one', 'cov: 7\nstat::number_of_executed_units: 12\n', 0);
  const section = `2026-03-01; load average before: 1.\nA machine; commit abc1234; rustc.\n\n${table([one])}`;
  const kept = earlier(renewed(BEFORE, 'fuzz', section), ['one', 'two']);
  assert.deepEqual(kept.map(({ value, met }) => [value, met]), [['0 in 12 runs', true]]);
  assert.match(kept[0].how, /coverage 7 edges.*; as of 2026-03-01, commit abc1234$/);
  const again = renewed(BEFORE, 'fuzz', `2026-04-01; idle.\nA machine; commit def5678.\n\n${table(kept)}`);
  assert.deepEqual(earlier(again, ['one']), kept, 'the day it was measured stays');
});

test('a function counts for the crate or room whose name it bears', () => {
  const groups = {
    _RNvNtCsk5z0gClBmcl_8halfturn3app6screen: 'halfturn::app',
    _RNvMs3_NtNtCsk5z0gClBmcl_8halfturn8exchange6reportNtB5_6Report2of: 'halfturn::exchange',
    _RNCNvXs_NtCseeA2Ig8vQqb_6tachys14reactive_graphNCNvNtNtCsk5z_8halfturn3app4plan6screen0: 'tachys',
    _RINvXs0_NvXNvNtNtCsk5z_8halfturn3job5eventNtNtCsf6fKH1PeV4W_19serde_path_to_error4wrap4Wrap: 'serde',
    _ZN8halfturn3app7screens6author6screen17h913f8aa84eec8dc7E: 'halfturn::app',
    '_ZN52_$LT$halfturn..app..shell..bench..Bench$GT$8keep_all17hb0a8243a2553ecbaE': 'halfturn::app',
    '_ZN59_$LT$T$u20$as$u20$reactive_graph..traits..WithUntracked$GT$18try_with17h3325acc430a85e1eE': 'reactive_graph',
    '_ZN60_$LT$$RF$mut$u20$serde_json..de..Deserializer$GT$5struct17h3b89a3f4d80934e7E': 'serde',
    '_ZN7rustfft4plan25FftPlannerScalar$LT$T$GT$9build_fft17h49dfa058b75bb9bbE': 'rustfft',
    memcpy: 'other',
  };
  for (const [name, group] of Object.entries(groups)) assert.equal(groupOf(name), group);
});
