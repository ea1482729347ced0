// The step that was on the screen when the page was left, shown at the next start at once, before
// the program is there. It is a picture and no more: nothing is read out of it but what is typed and
// tapped at its reading meanwhile, which the app gets in the same order. It is shown only where nothing
// has changed since: this version, this address, the same storage, and so short a time that nothing
// that rests may have lapsed. boot.js begins and ends it:
//
//   window.halfturnLast.show()      shows it where it still holds
//   window.halfturnLast.take()      takes it away, and gives what was done at it
//   window.halfturnLast.give(done)  does that at the same step, once the app shows it
//   window.halfturnLast.follow()    keeps the picture of each step that is left from now on

const KEY = 'halfturn-last';
const VERSION = new URL('.', import.meta.url).pathname;
const STEP = /^#\/job\/([^/]+)\/step\/[^/]+$/;
// Far shorter than what a break is from, after which stops are confirmed anew.
const HOLDS = 10 * 60 * 1000;
// What runs by the clock would stand still in a picture.
const RUNS = '[role=timer], .line, dialog[open], canvas, video, img';
const SIGN = /^[0-9.,-]$/;
// What belongs to a reading: its keys, its unit, how it was left, and the half of the step.
const KEYS = '.keypad button, .phases button, .panes button';

const reading = (within = document) => within.querySelector('#reading');
const address = () => (location.hash.length > 1 ? location.hash : localStorage.getItem('halfturn:place'));

// What the storage holds that a step shows (FNV-1a over the texts, 53 bits of it are plenty).
function mark(job) {
  const others = /^halfturn:(job|line|procedure|removed|sum|authoring):/;
  const procedures = /^halfturn:procedure:/;
  const keys = Object.keys(localStorage).filter((key) => key.startsWith('halfturn:') && !others.test(key));
  let hash = 0x811c9dc5;
  const texts = [...keys.sort(), `halfturn:job:${job}`].map((key) => `${key}\n${localStorage.getItem(key)}\n`);
  // These are long and never change, unless something is wrong with them.
  const long = Object.keys(localStorage).filter((key) => procedures.test(key)).sort();
  for (const text of [...texts, ...long.map((key) => `${key} ${localStorage.getItem(key).length}\n`)]) {
    for (let at = 0; at < text.length; at += 1) hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193);
  }
  return hash;
}

function pictureOf(parts) {
  return parts.map((part) => {
    const copy = part.cloneNode(true);
    // The page's policy lets no style through that stands in a text.
    for (const styled of copy.querySelectorAll('[style]')) {
      styled.dataset.style = styled.style.cssText;
      styled.removeAttribute('style');
    }
    const fields = [...part.querySelectorAll('input, textarea')];
    for (const [at, field] of [...copy.querySelectorAll('input, textarea')].entries()) {
      field.setAttribute('value', fields[at].value);
      if (field.matches('textarea')) field.textContent = fields[at].value;
    }
    return copy.outerHTML;
  });
}

function keep() {
  if (!forget()) return;
  const [, job] = location.hash.match(STEP) ?? [];
  const parts = ['header.top', 'main#screen'].map((it) => document.querySelector(it));
  if (!job || !parts.every(Boolean) || !reading() || document.querySelector(RUNS)) return;
  const kept = { version: VERSION, address: location.hash, at: Date.now(), mark: mark(job), top: scrollY };
  try {
    localStorage.setItem(KEY, JSON.stringify({ ...kept, parts: pictureOf(parts) }));
  } catch {
    // No room for a picture is no loss.
  }
}

// Whether there is a storage to keep it in.
function forget() {
  try {
    localStorage.removeItem(KEY);
    return true;
  } catch {
    return false;
  }
}

function kept() {
  const text = localStorage.getItem(KEY);
  forget();
  const found = text && JSON.parse(text);
  if (!found || found.version !== VERSION || found.address !== address()) return undefined;
  const age = Date.now() - found.at;
  if (!(age >= 0 && age < HOLDS)) return undefined;
  return found.mark === mark(found.address.match(STEP)[1]) ? found : undefined;
}

let shown;

const pane = (within = document) => within.querySelector('[data-pane]')?.dataset.pane;

// What stands in the field counts, however it came there; its verdict is of what stood there before.
function typed() {
  const { place, done } = shown;
  place.classList.add('last-typed');
  const { value } = reading(place);
  const before = done.at(-1);
  if (before?.value === undefined) done.push({ value });
  else before.value = value;
}

// The number is sent, and the next one begins.
function entered() {
  shown.done.push({ enter: true });
  reading(shown.place).value = '';
  shown.place.classList.add('last-typed');
}

// Digits go into the field from wherever, as they do in the app, but for another field of text.
function heard(event) {
  if (event.ctrlKey || event.altKey || event.metaKey) return;
  const isEnter = event.key === 'Enter';
  if (!isEnter && !SIGN.test(event.key)) return;
  const { place, giving, done } = shown;
  const { activeElement: active } = document;
  if (!giving && active !== reading(place) && active?.matches('input, textarea')) return;
  if (giving) {
    // Behind what the app is still being given.
    event.preventDefault();
    event.stopImmediatePropagation();
    done.push(isEnter ? { enter: true } : { sign: event.key });
  } else if (isEnter) {
    event.preventDefault();
    if (!event.repeat) entered();
  } else if (active !== reading(place)) {
    reading(place).focus();
  }
}

function tapped({ target }) {
  const { place, done } = shown;
  const key = target.closest?.(KEYS);
  if (!key) return;
  const sign = key.textContent.trim();
  if (key.matches('.key-enter')) return entered();
  if (key.matches('.key') && SIGN.test(sign)) {
    reading(place).value += sign;
    return typed();
  }
  const index = [...place.querySelectorAll(KEYS)].indexOf(key);
  const halves = [...place.querySelectorAll('.panes button')].indexOf(key);
  if (halves >= 0) place.querySelector('[data-pane]').dataset.pane = ['do', 'measure'][halves];
  else place.classList.add('last-typed');
  done.push({ index, text: key.textContent });
}

function show() {
  let found;
  try {
    found = kept();
  } catch {
    // The storage is denied, or holds something else under this name.
  }
  if (!found) return;
  const place = document.createElement('div');
  place.id = 'last';
  place.innerHTML = found.parts.join('');
  for (const styled of place.querySelectorAll('[data-style]')) styled.style.cssText = styled.dataset.style;
  document.body.append(place);
  shown = { place, address: found.address, done: [] };
  scrollTo(0, found.top);
  const field = reading(place);
  field.focus({ preventScroll: true });
  // What comes goes behind what stood there.
  field.setSelectionRange(field.value.length, field.value.length);
  addEventListener('keydown', heard, true);
  field.addEventListener('input', typed);
  place.addEventListener('submit', (event) => {
    event.preventDefault();
    entered();
  });
  place.addEventListener('click', tapped);
}

function take() {
  if (!shown || shown.giving) return undefined;
  shown.half = pane(shown.place);
  shown.giving = true;
  shown.place.remove();
  return shown;
}

const turn = () => new Promise((done) => setTimeout(done));

function put(value) {
  const field = reading();
  if (!field) return;
  field.value = value;
  field.dispatchEvent(new Event('input', { bubbles: true }));
  field.focus({ preventScroll: true });
}

// One thing after the other; where Enter leads on, the next number goes there, as it does by hand.
async function give(taken) {
  if (!taken) return;
  const isSame = taken.address === location.hash && reading();
  const halves = [...document.querySelectorAll('.panes button')];
  if (isSame && taken.half && pane() !== taken.half) halves[['do', 'measure'].indexOf(taken.half)]?.click();
  while (isSame && taken.done.length) {
    const { value, sign, enter, index, text } = taken.done.shift();
    const key = index === undefined ? undefined : document.querySelectorAll(KEYS)[index];
    if (value !== undefined) put(value);
    else if (sign) put(`${reading()?.value ?? ''}${sign}`);
    else if (key && key.textContent === text) key.click();
    else if (enter) document.querySelector('button.key-enter')?.click();
    await turn();
  }
  removeEventListener('keydown', heard, true);
  shown = undefined;
}

function follow() {
  addEventListener('pagehide', keep);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') keep();
    else forget();
  });
}

window.halfturnLast = { show, take, give, follow };
