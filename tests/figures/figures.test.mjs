// What the measures stand on.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { renewed, table } from './document.mjs';
import { interleaved, median, seeded } from './statistics.mjs';

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
