// The step that was on the screen when the page was left, shown at the next start at once, before
// the program is there. It is a picture and no more: nothing is read out of it but the digits that
// are typed into its field meanwhile, which the app gets. It is shown only where nothing has changed
// since: this version, this address, the same storage, and so short a time that nothing that rests
// may have lapsed. boot.js begins and ends it:
//
//   window.halfturnLast.show()      shows it where it still holds
//   window.halfturnLast.take()      takes it away, and gives what was typed into it
//   window.halfturnLast.give(typed) into the field of the same step, once the app shows it
//   window.halfturnLast.follow()    keeps the picture of each step that is left from now on

const KEY = 'halfturn-last';
const VERSION = new URL('.', import.meta.url).pathname;
const STEP = /^#\/job\/([^/]+)\/step\/[^/]+$/;
// Far shorter than what a break is from, after which stops are confirmed anew.
const HOLDS = 10 * 60 * 1000;
// What runs by the clock would stand still in a picture.
const RUNS = '[role=timer], .line, dialog[open], canvas, video, img';
const SIGN = /^[0-9.,]$/;

const reading = (within = document) => within.querySelector('#reading');
const address = () => (location.hash.length > 1 ? location.hash : localStorage.getItem('halfturn:place'));

// What the storage holds that a step shows (FNV-1a over the texts, 53 bits of it are plenty).
function mark(job) {
  const others = /^halfturn:(job|line|procedure|removed|sum|authoring):/;
  const keys = Object.keys(localStorage).filter((key) => key.startsWith('halfturn:') && !others.test(key));
  let hash = 0x811c9dc5;
  for (const key of [...keys.sort(), `halfturn:job:${job}`]) {
    const text = `${key}\n${localStorage.getItem(key)}\n`;
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
  localStorage.removeItem(KEY);
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

function kept() {
  const text = localStorage.getItem(KEY);
  localStorage.removeItem(KEY);
  const found = text && JSON.parse(text);
  if (!found || found.version !== VERSION || found.address !== address()) return undefined;
  const age = Date.now() - found.at;
  if (!(age >= 0 && age < HOLDS)) return undefined;
  return found.mark === mark(found.address.match(STEP)[1]) ? found : undefined;
}

let shown;

// Digits go into the field from wherever, as they do in the app. Enter waits for the app.
function heard(event) {
  const field = reading(shown.place);
  if (event.key === 'Enter') event.preventDefault();
  const isPlain = !event.ctrlKey && !event.altKey && !event.metaKey;
  if (isPlain && (SIGN.test(event.key) || event.key === '-') && document.activeElement !== field) field.focus();
}

function tapped({ target }) {
  const key = target.closest?.('button.key');
  const sign = key?.textContent.trim() ?? '';
  if (SIGN.test(sign)) reading(shown.place).value += sign;
}

function show() {
  const found = kept();
  if (!found) return;
  const place = document.createElement('div');
  place.id = 'last';
  place.innerHTML = found.parts.join('');
  for (const styled of place.querySelectorAll('[data-style]')) styled.style.cssText = styled.dataset.style;
  document.body.append(place);
  shown = { place, address: found.address, before: reading(place).value };
  scrollTo(0, found.top);
  const field = reading(place);
  field.focus({ preventScroll: true });
  // What comes goes behind what stood there.
  field.setSelectionRange(field.value.length, field.value.length);
  addEventListener('keydown', heard);
  place.addEventListener('click', tapped);
}

function take() {
  if (!shown) return undefined;
  const { place, address, before } = shown;
  const { value } = reading(place);
  removeEventListener('keydown', heard);
  place.remove();
  shown = undefined;
  return value === before ? undefined : { address, value };
}

function give(typed) {
  const field = reading();
  if (!typed || !field || typed.address !== location.hash) return;
  field.value = typed.value;
  field.dispatchEvent(new Event('input', { bubbles: true }));
  field.focus({ preventScroll: true });
}

function follow() {
  addEventListener('pagehide', keep);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') keep();
    else localStorage.removeItem(KEY);
  });
}

window.halfturnLast = { show, take, give, follow };
