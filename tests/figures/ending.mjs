// The end of a browser without any warning, and a watch on the page for the moment before it.

import { execFileSync } from 'node:child_process';
import { readlinkSync } from 'node:fs';
import { join } from 'node:path';

// The process group that a browser of ours has to itself.
export function groupOf(browser) {
  const lock = readlinkSync(join(browser.profile, 'SingletonLock'));
  const leader = lock.split('-').pop();
  const of = (process) => Number(execFileSync('ps', ['-o', 'pgid=', '-p', process], { encoding: 'utf8' }));
  const group = of(leader);
  if (!group || group === of(`${process.pid}`)) throw new Error('the browser has no process group of its own');
  return group;
}

// Ends every process of the browser at once, so that none has time to write anything.
export async function killGroup(browser, group = groupOf(browser)) {
  process.kill(-group, 'SIGKILL');
  await browser.close().catch(() => {});
  browser.close = async () => {};
}

// Calls back in the very task in which a page of the browser comes to say something: `watch(page,
// { selector, text, after })` says what, the text left out for any; only after something else was
// there where that is named. `first` is waited for in every page from its beginning.
export async function watchPages(browser, said, first = null) {
  await browser.context.exposeBinding('screenSaid', () => said());
  await browser.context.addInitScript((first) => {
    globalThis.awaited ??= first;
    const look = () => {
      const { awaited } = globalThis;
      if (!awaited) return;
      if (awaited.after && document.querySelector(awaited.after)) awaited.after = undefined;
      if (awaited.after) return;
      const found = [...document.querySelectorAll(awaited.selector)];
      const holds = (it) => it.textContent.replaceAll('\u00a0', ' ').includes(awaited.text ?? '');
      if (!found.some(holds)) return;
      globalThis.awaited = null;
      globalThis.screenSaid();
    };
    document.addEventListener('DOMContentLoaded', () => {
      new MutationObserver(look).observe(document.documentElement, {
        childList: true, subtree: true, characterData: true, attributes: true,
      });
      look();
    });
  }, first);
}

export const watch = (page, awaited) => page.evaluate((it) => (globalThis.awaited = it), awaited);
