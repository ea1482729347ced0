// Numbers that an instrument could show at a step, inside its target or outside it: worked out
// from the target on the screen, as the person before it does.

const POWERS = { p: -12, n: -9, µ: -6, m: -3, k: 3, M: 6, G: 9 };

// What a bare number typed at `scale`, such as `mV rms`, has to be multiplied by.
function factor(scale) {
  const [, prefix] = scale.match(/^([pnµmkMG]?)(?:Hz|V|A|W|Ω|F|H|J|s)(?: .*)?$/) ?? [];
  return 10 ** (POWERS[prefix] ?? 0);
}

function size(quantity) {
  const [, number, scale] = quantity.match(/^(\S+) (.+)$/);
  return Number(number) * factor(scale);
}

function around(nominal, above, below = above) {
  const middle = size(nominal);
  const margin = (text) => {
    const share = { '%': 1e-2, ppm: 1e-6 }[text.split(' ')[1]];
    return share ? Math.abs(middle) * share * parseFloat(text) : size(text);
  };
  return { low: middle - margin(below), high: middle + margin(above) };
}

// The limits that a printed target, such as `9.0015 MHz ± 20 Hz`, sets.
function limits(stated) {
  // Decibels of a power are printed with the limits that they make.
  const target = stated.match(/\((.+)\)$/)?.[1] ?? stated;
  const [, ...bound] = target.match(/^at (least|most) (.+)$/) ?? [];
  if (bound[0]) return { [bound[0] === 'least' ? 'low' : 'high']: size(bound[1]) };
  const [low, high] = target.split(' to ');
  if (high) return { low: size(low), high: size(high) };
  const parts = target.split(/ ± | \+ | - /);
  return parts.length > 1 ? around(...parts) : {};
}

async function targetOn(page) {
  const picture = page.getByRole('img', { name: /^Target /, includeHidden: true });
  return (await picture.count()) ? targetIn(await picture.getAttribute('aria-label')) : '';
}

// The target in the name of a drawn scale.
export const targetIn = (name) => name.match(/^Target ([^;]*)/)?.[1] ?? '';

// { inside, worse }: digits to type at a step with this target, as printed, and this gauge.
// `worse` lies above the upper limit or, where there is none, below the lower one; it is
// undefined where there is no target.
export function digitsFor(target, gauge) {
  const { low, high } = limits(target.replaceAll('\u00a0', ' ').replaceAll('\u2212', '-'));
  const some = low ?? high ?? 100 * factor(gauge.in);
  const width = high - low || Math.abs(some) * 0.2;
  const inside = low === undefined ? (high ?? some) - 0.4 * width : low + 0.6 * width;
  const worse = high === undefined ? low - width : high + width;
  const decimals = Math.max(0, Math.ceil(-Math.log10(width / factor(gauge.in) / 20)));
  const digits = (value) => (value / factor(gauge.in)).toFixed(decimals);
  return { inside: digits(inside), worse: Number.isNaN(worse) ? undefined : digits(worse) };
}

// The same for the step on the page.
export const readings = async (page, { gauge }) => digitsFor(await targetOn(page), gauge);

// A tolerance of a document as the app prints it.
function printedTarget(tolerance) {
  const [[kind, bound]] = Object.entries(tolerance);
  const margin = (side) => {
    const [[by, amount]] = Object.entries(bound[side]);
    return { absolute: amount, percent: `${amount} %`, ppm: `${amount} ppm` }[by];
  };
  switch (kind) {
    case 'around': return `${bound.nominal} + ${margin('above')} - ${margin('below')}`;
    case 'between': return `${bound.low} to ${bound.high}`;
    default: return `${kind.replace('-', ' ')} ${bound}`;
  }
}

// Digits inside for every pin of a socket, in the order in which they are asked for: state by
// state, and what is said once each is entered.
export function pinReadings({ pins }) {
  const due = pins.flatMap(({ expects = [] }) => expects);
  const states = [...new Set(due.map(({ state }) => state))];
  const ordered = states.flatMap((state) => due.filter((each) => each.state === state));
  return ordered.map(({ tolerance }, index) => {
    const target = printedTarget(tolerance);
    const [, scale] = target.match(/\d (\D+?)(?: [-+] | to |$)/);
    const left = ordered.length - index - 1;
    const said = {
      0: 'Every pin is measured and inside.',
      1: 'One reading is still to be taken.',
    }[left] ?? `${left} readings are still to be taken.`;
    return { digits: digitsFor(target, { in: scale }).inside, said };
  });
}
