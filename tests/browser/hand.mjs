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

// A tap as a finger makes it. One that is up in the frame in which it came down leaves the browser
// without a caret now and then, on an empty page as well as on ours, and the next keys come to
// nothing. A finger taps only what is in front.
export async function tapAt(page, x, y) {
  await page.bringToFront();
  await withDevtools(page, (devtools) =>
    devtools.send('Input.synthesizeTapGesture', { x, y, duration: 60, gestureSourceType: 'touch' }));
}

// The signs of a text as keys make them.
const signs = (text) => [...text];

// Takes a field in hand as a finger does: the element that is there now, and no other.
async function take(locator) {
  const page = locator.page();
  await locator.scrollIntoViewIfNeeded();
  const element = await locator.elementHandle();
  const isHere = () => element.evaluate((it) => it === document.activeElement);
  const isDate = (await element.getAttribute('type')) === 'date';
  // A tap on a day may open a calendar.
  if (!isDate && !(await isHere())) {
    const touch = await page.evaluate(() => navigator.maxTouchPoints > 0);
    if (!touch) await element.click();
    else {
      // Whether it can be tapped: visible, still, and under nothing else.
      await element.tap({ trial: true });
      const { x, y, width, height } = await element.boundingBox();
      await tapAt(page, x + width / 2, y + height / 2);
    }
  }
  if (!(await isHere())) await element.focus();
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

async function withDevtools(page, act) {
  const devtools = await page.context().newCDPSession(page);
  await act(devtools);
  await devtools.detach();
}
