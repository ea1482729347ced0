// What a person can't see or reach on the page in front: findings, one line each.

// Wider than the screen, so that one has to push the page sideways.
export const beside = (page) =>
  page.evaluate(() => {
    const room = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth <= room) return [];
    const isWide = (element) => element.getBoundingClientRect().right > room + 1;
    const outermost = [...document.querySelectorAll('body *')].filter(
      (element) => element.checkVisibility() && isWide(element) && !isWide(element.parentElement),
    );
    return outermost.map((element) => `${element.outerHTML.slice(0, 80)} is wider than ${room} px`);
  });

// Too small for a thumb at the bench.
export const small = (page) =>
  page.locator('button, article a[href], .top a[href]').evaluateAll((all) =>
    all
      .filter((each) => each.checkVisibility() && !each.closest('dialog:not([open])'))
      .map((each) => [each.innerText || each.ariaLabel, each.getBoundingClientRect()])
      .filter(([, { width, height }]) => width < 47.9 || height < 47.9)
      .map(([name, { width, height }]) => `${name}: ${width} × ${height}`),
  );

// Text that runs out of its box, or into what lies beside it.
export const cutOff = (page) =>
  page.evaluate(() => {
    const boxes = 'button, .button, td, th, li, dd, dt, label, summary, caption, legend, h1, h2, h3, p';
    const isClipped = (element) => element && (element.offsetWidth === 1 || isClipped(element.parentElement));
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const findings = [];
    const range = document.createRange();
    while (texts.nextNode()) {
      const { parentElement: parent, data } = texts.currentNode;
      const box = parent.closest(boxes);
      if (!data.trim() || !box || !parent.checkVisibility() || parent.closest('svg') || isClipped(parent)) continue;
      range.selectNodeContents(texts.currentNode);
      const text = range.getBoundingClientRect();
      const room = box.getBoundingClientRect();
      const out = (low, high) => low < -2 || high < -2;
      if (out(text.left - room.left, room.right - text.right) || out(text.top - room.top + 6, room.bottom - text.bottom + 6)) {
        findings.push(`“${data.trim().slice(0, 40)}” runs out of its ${box.localName}.${box.className}`);
      }
    }
    for (const field of document.querySelectorAll('select, input[type=text]')) {
      if (field.checkVisibility() && field.clientHeight < parseFloat(getComputedStyle(field).fontSize)) {
        findings.push(`${field.id || field.ariaLabel} is lower than its text`);
      }
    }
    return findings;
  });

// Puts a stylesheet of the reader's own on the page; the empty one takes it off again.
export const dressed = (page, css) =>
  page.evaluate((css) => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(css);
    document.adoptedStyleSheets = [sheet];
  }, css);

// What is set to move or fade. What only keeps taps off for a moment does neither.
export const moving = (page) =>
  page.evaluate((STILL) =>
    [...document.querySelectorAll('*')]
      .filter((element) => {
        const { animationName, transitionDuration } = getComputedStyle(element);
        return !STILL.includes(animationName) || transitionDuration.split(', ').some((each) => parseFloat(each) > 0);
      })
      .map((element) => element.outerHTML.slice(0, 80)),
    // These only wait: two let a button and what is under a finger take taps, one lets a text be seen.
    ['none', 'not-yet', 'covers', 'unable'],
  );

// Presses Tab until the focus has been everywhere, past the end of the page and round to where it
// began, and gathers what `look` finds at each place.
export async function everyTab(page, look) {
  await page.evaluate(() => {
    globalThis.been = new Set();
  });
  // A screen that was just gone to takes the focus to its heading once it is painted, and must not
  // take it from the key.
  const atHeading = () => document.activeElement?.localName === 'h1';
  await page.waitForFunction(atHeading, undefined, { timeout: 600 }).catch(() => {});
  const findings = [];
  const isNew = () =>
    page.evaluate(() => {
      const here = document.activeElement;
      const isNew = !globalThis.been.has(here);
      globalThis.been.add(here);
      return isNew && (here === document.body ? 'the end' : 'a place');
    });
  for (;;) {
    await page.keyboard.press('Tab');
    // What has the focus is brought into sight by the next picture.
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
    const place = await isNew();
    if (!place) return findings;
    if (place === 'a place') findings.push(...(await look(page)));
  }
}

// Why one can't see where the focus is.
export const covered = (page) =>
  page.evaluate(() => {
    const here = document.activeElement;
    const shown = here.matches('.file-input') ? here.labels[0] : here;
    const what = `${shown.localName} “${(shown.ariaLabel || shown.innerText || shown.id).slice(0, 40)}”`;
    const { left, right, top, bottom } = shown.getBoundingClientRect();
    const findings = [];
    if (getComputedStyle(shown).outlineStyle === 'none') findings.push(`${what} shows no focus`);
    const within = (low, high, room) => (Math.max(low, 0) + Math.min(high, room)) / 2;
    // What lies under a finger for a moment hides nothing.
    const at = document.elementsFromPoint(within(left, right, innerWidth), within(top, bottom, innerHeight))
      .find((it) => !it.matches('.under-finger'));
    const isSeen = at && (shown.contains(at) || at.contains(shown) || at.labels);
    if (!isSeen) findings.push(`${what} lies behind ${at ? at.outerHTML.slice(0, 60) : 'the edge of the screen'}`);
    return findings;
  });
