// Both hands busy: the step read aloud by a voice on the device, and a tone for inside or
// outside. What would be heard is caught where the browser would make it sound.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, openBrowser, openHost } from './bench.mjs';
import { button, byTouch, link, see, seeText } from './technician.mjs';

const voices = (localService) => ({ localService });

async function begin(t, { localService }) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  await browser.context.addInitScript((localService) => {
    globalThis.heard = { said: [], tones: 0 };
    const synthesis = new EventTarget();
    synthesis.getVoices = () => [{ localService, lang: 'en-GB', name: 'Bench voice' }];
    synthesis.speak = (utterance) => globalThis.heard.said.push(utterance.text);
    synthesis.cancel = () => {};
    Object.defineProperty(globalThis, 'speechSynthesis', { value: synthesis });
    globalThis.SpeechSynthesisUtterance = class {
      constructor(text) {
        this.text = text;
      }
    };
    const make = BaseAudioContext.prototype.createOscillator;
    BaseAudioContext.prototype.createOscillator = function () {
      globalThis.heard.tones += 1;
      return make.call(this);
    };
  }, localService);
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await link(page, 'Continue').tap();
  await see(page.getByRole('heading', { name: 'S-meter at 9' }));
  return page;
}

const heard = (page) => page.evaluate(() => globalThis.heard);

async function enter(page, digits) {
  const hand = byTouch(page);
  await hand.number(digits);
  await hand.enter();
  await see(page.getByRole('table', { name: 'Readings, newest first' }).getByText(digits.replace('-', '\u2212')));
}

test('a step is read aloud by touch and by key, and stops on demand', async (t) => {
  const page = await begin(t, voices(true));
  await button(page, 'Read aloud').tap();
  await see(button(page, 'Stop reading'));
  const [said] = (await heard(page)).said;
  for (const part of ['S-meter at 9', 'Mode: USB', 'Adjust RV101', 'Target: \u221273.0']) {
    assert.ok(said.includes(part), `${part} in: ${said}`);
  }
  await page.keyboard.press('F2');
  await see(button(page, 'Read aloud'));
  await page.keyboard.press('F2');
  assert.equal((await heard(page)).said.length, 2);
});

test('without a voice on the device nothing is sent to one elsewhere', async (t) => {
  const page = await begin(t, voices(false));
  assert.equal(await button(page, 'Read aloud').count(), 0);
  await page.keyboard.press('F2');
  assert.deepEqual((await heard(page)).said, []);
  await link(page, 'Settings').tap();
  await seeText(page, /this browser has no voice on the device itself/);
});

test('a tone tells inside from outside, once it is switched on', async (t) => {
  const page = await begin(t, voices(true));
  await enter(page, '-70.1');
  assert.equal((await heard(page)).tones, 0, 'it is off at first');
  await link(page, 'Settings').tap();
  await page.getByLabel(/^Sound: /).tap();
  await page.goBack();
  await enter(page, '-70.2');
  assert.equal((await heard(page)).tones, 3, 'outside: three short ones');
  await enter(page, '-73.3');
  assert.equal((await heard(page)).tones, 4, 'inside: one long one');
});
