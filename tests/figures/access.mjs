// What axe-core finds on all screens, on each device either way up, by day and by night.

import { DIST, PHONE, TABLET, UPRIGHT, barriers, openBrowser, openHost } from '../browser/bench.mjs';
import { screens } from '../browser/screens.mjs';

const SIDEWAYS = { ...PHONE, viewport: { width: 844, height: 390 } };
const DEVICES = { tablet: TABLET, 'tablet upright': UPRIGHT, phone: PHONE, 'phone sideways': SIDEWAYS };

export async function measure({ dist = DIST, quick, t }) {
  // The checks do the same as tests, save the phone sideways.
  const names = quick ? ['phone sideways'] : Object.keys(DEVICES);
  const rows = [];
  for (const name of names) rows.push(...(await onDevice(name, dist, t)));
  return rows;
}

async function onDevice(name, dist, t) {
  const host = await openHost(t, dist);
  const page = await (await openBrowser(t, { device: DEVICES[name] })).visit(host);
  const found = { light: [], dark: [] };
  let count = 0;
  for await (const screen of screens(page, host)) {
    count += 1;
    for (const colorScheme of Object.keys(found)) {
      await page.emulateMedia({ colorScheme });
      found[colorScheme].push(...(await barriers(page)).map((it) => `${screen.name}: ${it}`));
    }
  }
  return Object.entries(found).map(([theme, list]) => ({
    figure: `barriers on ${count} screens, ${name}, ${theme}`,
    value: String(list.length),
    goal: '0',
    met: list.length === 0,
    how: 'axe-core, all its rules with target size and label in name',
    wrong: list.length ? list.join('; ') : undefined,
  }));
}
