// What a hand at the bench may rely on, looked at in the page before and after each action: that
// no control comes under the finger, that the keypad stays, that the focus is somewhere, and that
// a field holds what was typed into it.

// Installed into each page. `monkey.before(point)` remembers, `monkey.after()` compares.
export function watch() {
  const CONTROLS = 'button, a[href], input, select, textarea, summary, label';
  // Half the width of a finger (WCAG 2.2, 2.5.8: targets of 24 px stand apart).
  const FINGER = 12;
  const name = (it) =>
    (it.getAttribute('aria-label') ?? (it.textContent.trim() || it.id || it.tagName)).trim().slice(0, 40);
  const box = (it) => {
    const { x, y, width, height } = it.getBoundingClientRect();
    return [x, y, width, height].map(Math.round);
  };
  const same = (a, b) => a.every((value, place) => Math.abs(value - b[place]) <= 1);
  const at = (point) => {
    const under = document.elementFromPoint(point.x, point.y)?.closest(CONTROLS) ?? null;
    return under && !under.disabled ? under : null;
  };
  // The middle of the finger and its four edges.
  const spots = ({ x, y }) =>
    [[0, 0], [FINGER, 0], [-FINGER, 0], [0, FINGER], [0, -FINGER]].map(([dx, dy]) => ({ x: x + dx, y: y + dy }));
  const dialogs = () => [...document.querySelectorAll('dialog[open]')];
  const place = () => `${location.hash} ${dialogs().length}`;
  const keypad = () => [...document.querySelectorAll('.keypad button')].filter((it) => it.checkVisibility());
  // A control that stays is the same element, or one that was made anew in its place.
  const described = (it) => it && { it, name: name(it), box: box(it) };
  const isSame = (was, now) =>
    was.it === now.it || (was.name === now.name && same(was.box, now.box));
  let seen;
  // Whether the tap in hand has come to its end, or has begun at all.
  let clicked = false;
  addEventListener('click', () => (clicked = true));

  const canType = (it) =>
    it && !it.readOnly && !it.disabled &&
    (it.tagName === 'TEXTAREA' || (it.tagName === 'INPUT' && ['text', 'search'].includes(it.type)));

  window.monkey = {
    before(point) {
      clicked = !point;
      const active = document.activeElement;
      seen = {
        place: place(),
        scroll: [scrollX, scrollY],
        point,
        under: point && spots(point).map((spot) => described(at(spot))),
        tapped: point && described(at(point)),
        keys: keypad().map(described),
        active,
      };
    },

    after() {
      const faults = [];
      // The page was loaded anew meanwhile.
      if (!seen) return faults;
      const active = document.activeElement;
      const alive = (it) => it.isConnected && it.checkVisibility() && !it.disabled;
      const idle = !active || active === document.body;
      // Whoever had the focus, or was tapped, is gone, and nobody has it now.
      const had = [seen.active, seen.tapped?.it].filter((it) => it && it !== document.body && it !== document.documentElement);
      if (idle && had.some((it) => !alive(it))) {
        faults.push(['focus', `it was on “${name(had.find((it) => !alive(it)))}”`]);
      }
      const moved = place() !== seen.place;
      const scrolled = scrollX !== seen.scroll[0] || scrollY !== seen.scroll[1];
      if (!moved && (seen.point || !scrolled)) {
        const now = keypad();
        for (const key of seen.keys) {
          const still = now.find((it) => it === key.it) ?? now.find((it) => name(it) === key.name);
          if (!still) faults.push(['keypad', `${key.name} is gone`]);
          else if (!same(box(still), key.box)) {
            faults.push(['keypad', `${key.name} from ${key.box} to ${box(still)}`]);
            break;
          }
        }
      }
      // A browser brings the field of a label into sight, and a summary opens what is below it.
      const isNative = /^(SUMMARY|LABEL|INPUT|SELECT|TEXTAREA)$/.test(seen.tapped?.it.tagName ?? '');
      if (!moved && seen.point && !isNative) {
        spots(seen.point).forEach((spot, index) => {
          const was = seen.under[index];
          const now = described(at(spot));
          // What is gone is no danger, what was not there is one only where something was tapped,
          // and what was tapped and stayed is none where something else lay over a part of it.
          const isTapped = now && seen.tapped && isSame(seen.tapped, now) && same(seen.tapped.box, now.box);
          if (now && seen.tapped && !isTapped && !(was && isSame(was, now))) {
            faults.push(['finger', `“${now.name}” is where “${was?.name ?? seen.tapped.name}” was`]);
          }
        });
      }
      return faults.filter(([kind], index, all) => all.findIndex(([other]) => other === kind) === index);
    },

    // The field that has the focus, as far as what is typed into it can be foretold: a browser that
    // is busy puts the caret where the finger was a little after the focus is there.
    async field() {
      const it = document.activeElement;
      if (!canType(it)) return null;
      for (let still = 0, last = NaN; still < 10; ) {
        still = it.selectionStart === last ? still + 1 : 0;
        last = it.selectionStart;
        await new Promise(requestAnimationFrame);
      }
      const { id, value, selectionStart, selectionEnd, maxLength } = it;
      return { id, value, start: selectionStart, end: selectionEnd, most: maxLength, place: place() };
    },

    valueOf(id) {
      return document.getElementById(id)?.value ?? null;
    },

    place,

    // The tap has come to its end, or to none; and what follows from it at once is there, which
    // takes two frames and a task.
    async settled() {
      for (let wait = 0; wait < 100 && !clicked; wait += 1) await new Promise((done) => setTimeout(done, 10));
      await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 20))));
      // Some keys scroll the page smoothly.
      for (let last = NaN; last !== scrollY; ) {
        last = scrollY;
        await new Promise((done) => setTimeout(done, 40));
      }
    },
  };
}

// What a field holds once a text was typed into it.
export function typed({ value, start, end, most }, text) {
  const whole = value.slice(0, start) + text + value.slice(end);
  const room = most > 0 ? most - (value.length - (end - start)) : Infinity;
  // A sign of two units goes in whole or not at all.
  const cut = text.slice(0, Math.max(0, room)).replace(/[\ud800-\udbff]$/, '');
  return text.length <= room ? whole : value.slice(0, start) + cut + value.slice(end);
}
