// Hands on a keyboard: the only way in which tests write into fields. Every sign is a key of its
// own, and after each the field must still be the one that was typed into, still have the focus,
// and hold what was typed so far. Putting a value into a field in one stroke would see none of it.

import assert from 'node:assert/strict';

// Writes a text in the place of whatever stands in the field.
export async function type(locator, text) {
  const hold = await take(locator);
  if (hold.isDate) return typeDate(hold, text);
  await clear(hold);
  await keys(hold, '', text);
}

// Writes on behind what stands there.
export async function add(locator, text) {
  const hold = await take(locator);
  await hold.page.keyboard.press('Control+End');
  await keys(hold, await hold.value(), text);
}

// Deletes so many signs from the end, each with a key; all of them where no number is named.
export async function erase(locator, count = Infinity) {
  const hold = await take(locator);
  await hold.page.keyboard.press('Control+End');
  let left = await hold.value();
  for (let number = 0; number < count && left; number += 1) {
    await hold.page.keyboard.press('Backspace');
    left = signs(left).slice(0, -1).join('');
    await hold.holds(left, 'Backspace');
  }
  await hold.stays(left);
}

// Puts a text in by the clipboard, in the place of what stands there.
export async function paste(locator, text) {
  const hold = await take(locator);
  await hold.page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
  await hold.page.evaluate((it) => navigator.clipboard.writeText(it), text);
  await hold.page.keyboard.press('Control+a');
  await hold.page.keyboard.press('Control+v');
  const most = await hold.most();
  await hold.stays(most < 0 ? text : text.slice(0, most));
}

// Composes a text as an input method does, behind what stands there: it grows, underlined, and is
// taken in when it is whole.
export async function compose(locator, text) {
  const hold = await take(locator);
  await hold.page.keyboard.press('Control+End');
  const before = await hold.value();
  await withDevtools(hold.page, async (devtools) => {
    for (let length = 1; length <= signs(text).length; length += 1) {
      const part = signs(text).slice(0, length).join('');
      await devtools.send('Input.imeSetComposition', {
        text: part, selectionStart: part.length, selectionEnd: part.length,
      });
      await hold.holds(before + part, `composing ${part}`);
    }
    await devtools.send('Input.insertText', { text });
  });
  await hold.stays(before + text);
}

// Replaces the word that was typed last, as autocorrection does.
export async function correct(locator, wrong, right) {
  const hold = await take(locator);
  await hold.page.keyboard.press('Control+End');
  const before = await hold.value();
  assert.ok(before.endsWith(wrong), `“${before}” ends with “${wrong}”`);
  const start = before.length - wrong.length;
  await withDevtools(hold.page, async (devtools) => {
    await devtools.send('Input.imeSetComposition', {
      text: right, selectionStart: right.length, selectionEnd: right.length,
      replacementStart: start, replacementEnd: before.length,
    });
    await devtools.send('Input.insertText', { text: right });
  });
  await hold.stays(before.slice(0, start) + right);
}

// For so long a second tap at one spot makes a double tap, in milliseconds.
export const DOUBLE = 600;
// Nearer to each other than this, in CSS px, it takes two taps for one double tap (from memory).
const APART = 100;
const lastTap = new WeakMap();

// A tap as a finger makes it: down, and up a little later. A finger taps only what is in front, and
// it is not so quick that another field has scrolled under it since its last tap: Chromium takes
// both for a double tap and leaves that field without a caret.
export async function tapAt(page, x, y) {
  await page.bringToFront();
  const last = lastTap.get(page);
  if (last && Math.hypot(x - last.x, y - last.y) < APART) {
    await page.waitForTimeout(Math.max(0, last.at + DOUBLE - Date.now()));
  }
  await withDevtools(page, async (devtools) => {
    await down(devtools, x, y);
    await page.waitForTimeout(60);
    await up(devtools);
  });
  // Counted from when the finger is up again, which a busy machine makes late.
  lastTap.set(page, { x, y, at: Date.now() });
}

const touch = (devtools, type, touchPoints) => devtools.send('Input.dispatchTouchEvent', { type, touchPoints });
const down = (devtools, x, y) => touch(devtools, 'touchStart', [{ x, y }]);
const up = (devtools) => touch(devtools, 'touchEnd', []);

// Two taps at one spot, both on their way before anything could come of the first, however busy
// the machine.
export async function tapTwice(page, x, y) {
  await withDevtools(page, (devtools) => Promise.all(
    [1, 2].flatMap(() => [down(devtools, x, y), up(devtools)]),
  ));
}

// Lets what a page animates, such as for how long new keys take no tap, last as long as the test
// needs, and go on as ever afterwards.
export async function slowly(page, act) {
  await withDevtools(page, async (devtools) => {
    await devtools.send('Animation.enable');
    await devtools.send('Animation.setPlaybackRate', { playbackRate: 0.001 });
    await act();
    await devtools.send('Animation.setPlaybackRate', { playbackRate: 1 });
  });
}

// The signs of a text as keys make them.
const signs = (text) => [...text];

// Where a finger finds an element: its middle, once that stands still and lies under nothing else.
// Playwright's own trial of a tap won't do: it taps and swallows what comes of it, and the tap
// after it leaves the field without a caret.
async function middleOf(element) {
  const point = await element.evaluate(async (it) => {
    const isOwn = (hit) => it.contains(hit) || [...(it.labels ?? [])].some((label) => label.contains(hit));
    for (let look = 0, last = {}; look < 300; look += 1) {
      const box = it.getBoundingClientRect();
      const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
      const isStill = last.x === middle.x && last.y === middle.y;
      if (isStill && isOwn(document.elementFromPoint(middle.x, middle.y))) return middle;
      // What lies behind a bar is drawn from under it.
      if (look % 60 === 59) it.scrollIntoView({ block: 'center' });
      last = middle;
      await new Promise(requestAnimationFrame);
    }
    return null;
  });
  assert.ok(point, `${await element.evaluate((it) => it.id || it.outerHTML)} can be tapped`);
  return point;
}

// Takes a field in hand as a finger does: the element that is there now, and no other.
async function take(locator) {
  const page = locator.page();
  await locator.scrollIntoViewIfNeeded();
  const element = await locator.elementHandle();
  const isHere = () => element.evaluate((it) => it === document.activeElement);
  const isDate = (await element.getAttribute('type')) === 'date';
  if (!(await isHere())) {
    const isTouch = await page.evaluate(() => navigator.maxTouchPoints > 0);
    // A tap on a day may open a calendar.
    if (isDate) await element.focus();
    else if (!isTouch) await element.click();
    else {
      const { x, y } = await middleOf(element);
      await tapAt(page, x, y);
    }
  }
  const state = () =>
    element.evaluate((it) => ({
      connected: it.isConnected,
      focused: it === document.activeElement,
      value: it.value,
    }));
  const name = await element.evaluate((it) => it.id || it.getAttribute('aria-label') || it.type);
  // A question to the page may overtake a key or what comes out of the clipboard, so it is asked
  // again for some seconds; what a key made anew or lost stays so.
  const holds = async (value, after) => {
    const wanted = { connected: true, focused: true, value };
    let is = await state();
    for (let look = 0; look < 100 && is.connected && is.value !== value; look += 1) {
      await page.waitForTimeout(50);
      is = await state();
    }
    assert.deepEqual(is, wanted, `${name} after ${after}`);
  };
  return {
    page,
    isDate,
    value: () => element.evaluate((it) => it.value),
    most: () => element.evaluate((it) => it.maxLength),
    holds,
    // What stands must stand also once everything that follows from it is on the screen.
    stays: async (value) => {
      await page.evaluate(
        () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))),
      );
      await holds(value, 'all of it');
    },
  };
}

async function keys(hold, before, text) {
  let value = before;
  for (const sign of signs(text)) {
    // A sign that no key makes comes as an input method sends it.
    await (sign === '\n' ? hold.page.keyboard.press('Enter') : hold.page.keyboard.type(sign));
    value += sign;
    await hold.holds(value, `the key ${sign}`);
  }
  await hold.stays(value);
}

async function clear(hold) {
  if ((await hold.value()) === '') return;
  await hold.page.keyboard.press('Control+a');
  await hold.page.keyboard.press('Backspace');
  await hold.holds('', 'Backspace');
}

// A day is typed into its three parts, in the order of the browser's language.
async function typeDate(hold, day) {
  const [year, month, date] = day.split('-');
  for (let part = 0; part < 3; part += 1) await hold.page.keyboard.press('ArrowLeft');
  for (const digit of month + date + year) await hold.page.keyboard.press(digit);
  await hold.stays(day);
}

const devtoolsOf = new WeakMap();

async function withDevtools(page, act) {
  if (!devtoolsOf.has(page)) devtoolsOf.set(page, await page.context().newCDPSession(page));
  await act(devtoolsOf.get(page));
}

// Until keys that came with the last tap take the next one, and nothing covers their place: 300 ms
// of the page's own time, which a busy machine begins late.
export async function uncovered(page) {
  await page.waitForTimeout(350);
  await page.waitForFunction(() => !document.getAnimations().some(
    ({ animationName, playState }) => ['covers', 'not-yet'].includes(animationName) && playState === 'running',
  ));
}
