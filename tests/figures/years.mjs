// Years of work in a browser: jobs made here, put into its storage as an earlier version of the
// app would have left them, and taken over by the app when it starts.

import { seeded } from './statistics.mjs';
import { STEPS, TRAINER, button, heading, see } from '../browser/technician.mjs';
import { running } from '../browser/bench.mjs';

const LETTERS = '0123456789abcdefghjkmnpqrstvwxyz';
const STEPS_A_JOB = 40;
// Unpacked, as layout 1 has them, more than this do not fit at once.
const AT_ONCE = 100;
const HOUR = 3_600_000;

// A source of jobs: `next()` gives [id, log] of a finished job of 40 steps with two readings a
// step, notes, waits between and ids that pack no better than the app's own.
export function maker(seed, start = Date.UTC(2024, 0, 8)) {
  const random = seeded(seed);
  const below = (limit) => Math.floor(random() * limit);
  const id = () => Array.from({ length: 16 }, () => LETTERS[below(32)]).join('');
  let number = 0;
  const next = () => {
    number += 1;
    let at = start + number * 3 * HOUR;
    const log = [];
    const add = (did) => {
      at += 5_000 + below(90_000);
      log.push({ id: id(), seq: log.length + 1, at, did });
    };
    const set = {
      make: 'Quillmere Radio Club',
      model: '28 MHz trainer',
      serial: `QRC-${String(below(400)).padStart(3, '0')}`,
    };
    const fault = `Deaf on channel ${below(40)}`;
    add({ opened: { number: `J-${number}`, set, owner: `Member ${below(200)}`, fault, technician: 'Bench 1' } });
    for (const [index, step] of STEPS.slice(0, STEPS_A_JOB).entries()) {
      const gauge = Object.values(step.work)[0].gauge;
      const scale = gauge?.in ?? 'V';
      const digits = () => `${below(30)}.${String(below(10_000)).padStart(4, '0')} ${scale}`;
      for (const phase of ['as-found', 'as-left']) {
        add({ reading: { step: step.id, phase, value: digits() } });
      }
      if (!gauge) add({ ticked: { step: step.id } });
      if (index % 8 === 3) {
        add({ noted: { step: step.id, text: `Joint at R${below(900)} was dry; made anew, it holds.` } });
      }
    }
    add({ 'signed-off': { by: 'Bench 1', remarks: 'Left with the owner’s lead.' } });
    return [id(), log];
  };
  return { next };
}

// Fills a page's storage with so many finished jobs beside the demo, which is loaded first.
export async function fill(page, count, seed = 1) {
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  const { next } = maker(seed);
  for (let done = 0; done < count; done += AT_ONCE) {
    const jobs = Array.from({ length: Math.min(AT_ONCE, count - done) }, next);
    await page.evaluate(([all, procedure]) => {
      const key = Object.keys(localStorage).find((k) => k.startsWith('halfturn:procedure:'));
      const digest = key.split(':')[2];
      for (const [id, log] of all) {
        localStorage.setItem(`halfturn:job:${id}`, JSON.stringify({ procedure: digest, log }));
      }
      localStorage.setItem('halfturn:layout', '1');
      return procedure;
    }, [jobs, TRAINER.id]);
    await page.reload();
    await running(page);
  }
  // The lines are made when the jobs are first listed.
  await page.evaluate(() => (location.hash = '#/'));
  await see(heading(page, 'Jobs'));
}

// How many UTF-16 code units the page's storage holds, keys included.
export const units = (page) =>
  page.evaluate(() => Object.entries(localStorage).reduce((sum, [k, v]) => sum + k.length + v.length, 0));
