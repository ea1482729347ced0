// Every screen of the app, found as a person finds it: by its links.

import { button, heading, link, see, startJob, byTouch } from './technician.mjs';

// The ids of fields whose text is taken in by the button beside them, or is only looked for.
export const UNTIL_A_BUTTON =
  /^(.*-find|find(-.*)?|fingerprint|second-reading|signed-by|photo-note|(change|off|table)-.*|author-(adjusters|test-points|instruments))$/;

// The demo and a job of one's own, on its first step.
export async function stocked(page) {
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await link(page, 'Jobs').tap();
  await startJob(byTouch(page), 'QRC-11');
}

// Shows the screen of an address.
export async function goTo(page, address) {
  await page.evaluate((hash) => (location.hash = hash), address);
  // The screen is there with the next task.
  await page.evaluate(() => new Promise((done) => setTimeout(done)));
}

// All addresses that links lead to from the start, and from where they lead. `keep` may leave
// out some, so that a screen that exists many times over is seen a few times.
export async function addresses(page, keep = () => true) {
  const found = ['#/'];
  for (const address of found) {
    await goTo(page, address);
    const links = await page.evaluate(() =>
      [...document.querySelectorAll('a[href^="#/"]')].map((each) => each.getAttribute('href')));
    for (const next of links) if (!found.includes(next) && keep(next, found)) found.push(next);
  }
  return found;
}

// At most `most` addresses that differ only in names and numbers.
export function few(most) {
  const shape = (address) => address.split('/').map((part, place) => {
    const fixed = place === 1 || (place > 2 && /^[a-z]+$/.test(part) && !part.includes('%'));
    return fixed ? part : '*';
  }).slice(0, 4).join('/');
  return (address, found) => found.filter((each) => shape(each) === shape(address)).length < most;
}
