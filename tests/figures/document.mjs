// The text of docs/figures.md: one section a measure, under the measure's name.

const cell = (text) => String(text ?? '').replaceAll('|', '\\|').replaceAll('\n', ' ');
const line = (...cells) => `| ${cells.map(cell).join(' | ')} |`;
const verdict = ({ goal, met }) => {
  if (goal === undefined || goal === '') return '';
  return `${goal}: ${met ? 'met' : 'missed'}`;
};

// The rows of a measure as a table.
export const table = (rows) => [
  line('Figure', 'Value', 'Goal', 'How'),
  line('---', '---', '---', '---'),
  ...rows.map((row) => line(row.figure, `${row.value} ${row.unit ?? ''}`.trim(), verdict(row), row.how)),
].join('\n');

// The document with this section in the place of the one of the same name, or at its end.
export function renewed(text, name, section) {
  const whole = `## ${name}\n\n${section}\n`;
  const parts = text.split(/^(?=## )/m);
  const place = parts.findIndex((part) => part.startsWith(`## ${name}\n`));
  if (place < 0) return `${text.trimEnd()}\n\n${whole}`;
  parts[place] = place === parts.length - 1 ? whole : `${whole}\n`;
  return parts.join('');
}
