// Renders the PNG icons from public/icons/icon.svg. Run after changing it:
//   CHROMIUM=/usr/bin/chromium node tools/icons.mjs

import { readFile } from 'node:fs/promises';
import { chromium } from 'playwright-core';

const icons = new URL('../public/icons/', import.meta.url);
const svg = await readFile(new URL('icon.svg', icons), 'utf8');
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM,
  args: ['--no-sandbox', '--disable-gpu'],
});

async function render(name, size, drawing, scale) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(
    `<style>body{margin:0;background:transparent}svg{display:block;transform:scale(${scale})}</style>${drawing}`,
  );
  await page.screenshot({ path: new URL(name, icons).pathname, omitBackground: true });
  await page.close();
}

await render('icon-192.png', 192, svg, 1);
await render('icon-512.png', 512, svg, 1);
// Launchers cut masks out of these: the drawing keeps to the inner four fifths
// and the ground runs to the edge.
const whole = svg.replace('rx="96"', 'x="-128" y="-128" width="768" height="768"').replace('width="512" height="512" ', '');
await render('maskable-512.png', 512, whole.replace('<svg ', '<svg overflow="visible" '), 0.8);
await browser.close();
