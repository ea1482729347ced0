// What a page is on paper: printed by the browser, its words read and its pages looked at by
// poppler's tools.

import { execFileSync, spawnSync } from 'node:child_process';
import { mkdir, readFile, readdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { folder } from './bench.mjs';

const has = (tool) => spawnSync(tool, ['-v']).error === undefined;

// Dots to the millimetre of the pages that are measured.
const DOTS = 100 / 25.4;
// The head of each page stands in the margin above this, and nothing below the other.
const HEAD_MM = 14;
const FOOT_MM = 9;
// What the margins at the sides leave of a page's width.
const SIDES_MM = 22;
const WIDTH_MM = { A4: 210, Letter: 215.9 };
// Longer than any word of ours: what a person typed without a space may have to be broken.
const LONGEST_WORD = 24;
// Darker than this is ink, and not the edge of a smoothed letter.
const INK = 200;

// Prints to PDF. With SHEETS=<folder> the pages are kept as pictures, to be looked at. Each page
// comes as its text and how far down its last line stands, as a share of what can be printed on;
// nothing comes where poppler-utils are not installed.
export async function printed(t, page, name, format = 'A4') {
  const path = join(process.env.SHEETS ?? (await folder(t)), `${name}.pdf`);
  if (process.env.SHEETS) await mkdir(process.env.SHEETS, { recursive: true });
  await page.pdf({ path, format });
  if (!has('pdftoppm')) {
    t.diagnostic('pdftoppm and pdftotext (poppler-utils) are not here: the pages are not looked into');
    return undefined;
  }
  const stem = path.replace(/\.pdf$/, '');
  if (process.env.SHEETS) execFileSync('pdftoppm', ['-r', '100', '-png', path, stem]);
  execFileSync('pdftoppm', ['-r', '100', '-gray', path, stem]);
  const text = execFileSync('pdftotext', ['-layout', path, '-'], { encoding: 'utf8' });
  const names = (await readdir(dirname(path))).filter((file) => file.startsWith(`${name}-`) && file.endsWith('.pgm'));
  const pictures = await Promise.all(names.sort().map((file) => readFile(join(dirname(path), file))));
  return text.split('\f').slice(0, -1).map((text, index) => ({ text, full: fullness(pictures[index]) }));
}

// How far down the last line of a page stands, between its head and its foot.
function fullness(picture) {
  const [header, width, height] = picture.toString('latin1', 0, 40).match(/^P5\s(\d+)\s(\d+)\s\d+\s/);
  const dots = picture.subarray(header.length);
  const [top, bottom] = [Math.round(HEAD_MM * DOTS), Math.round(height - FOOT_MM * DOTS)];
  for (let row = bottom - 1; row > top; row -= 1) {
    const line = dots.subarray(row * width, (row + 1) * width);
    if (line.some((dot) => dot < INK)) return (row - top) / (bottom - top);
  }
  return 0;
}

// The words that a line ends within, laid out as wide as on paper.
export async function brokenWords(page, format) {
  const before = page.viewportSize();
  const width = Math.floor(((WIDTH_MM[format] - SIDES_MM) / 25.4) * 96);
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width, height: before.height });
  const broken = await page.$eval('.report', (report, longest) => {
    const lines = (range) =>
      new Set([...range.getClientRects()].filter(({ width }) => width > 0).map(({ top }) => Math.round(top))).size;
    const found = [];
    const walk = document.createTreeWalker(report, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
      const node = walk.currentNode;
      if (node.parentElement.closest('svg')) continue;
      for (const { 0: word, index } of node.data.matchAll(/[\p{L}\p{N}’']+/gu)) {
        const range = document.createRange();
        range.setStart(node, index);
        range.setEnd(node, index + word.length);
        if (word.length <= longest && lines(range) > 1) found.push(word);
      }
    }
    return found;
  }, LONGEST_WORD);
  await page.emulateMedia({ media: 'screen' });
  await page.setViewportSize(before);
  return broken;
}
