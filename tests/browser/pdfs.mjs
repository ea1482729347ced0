// PDFs for tests, written by hand as ISO 32000-1 lays them down.

import { deflateSync } from 'node:zlib';

// A PDF of these objects, numbered from 1; the first is the catalogue.
export function pdf(objects, trailer = '') {
  const parts = ['%PDF-1.4\n'];
  const places = [];
  let length = parts[0].length;
  objects.forEach((object, index) => {
    places.push(length);
    parts.push(`${index + 1} 0 obj\n${object}\nendobj\n`);
    length += parts.at(-1).length;
  });
  const entry = (place) => `${String(place).padStart(10, '0')} 00000 n \n`;
  parts.push(`xref\n0 ${objects.length + 1}\n0000000000 65535 f \n${places.map(entry).join('')}`);
  parts.push(`trailer\n<< /Size ${objects.length + 1} /Root 1 0 R ${trailer}>>\nstartxref\n${length}\n%%EOF\n`);
  return Buffer.from(parts.join(''), 'latin1');
}

const stream = (text, keys = '') => `<< /Length ${text.length} ${keys}>>\nstream\n${text}\nendstream`;

// A circuit diagram of so many sheets of A4 that lie: a line around each, its number, and on the
// second a black square of 20 points at a quarter of its width and three quarters of its height
// from the upper left.
export const SQUARE = { page: 2, x: 2500, y: 7500 };
const SIZE = { width: 842, height: 595 };

export function diagram({ sheets = 2, catalogue = '' } = {}) {
  const { width, height } = SIZE;
  const at = { x: width * 0.25, y: height * 0.25 };
  const square = `${at.x - 10} ${at.y - 10} 20 20 re f\n`;
  const drawing = (sheet) =>
    `1 w 20 20 ${width - 40} ${height - 40} re S\n${sheet === 2 ? square : ''}` +
    `BT /F1 24 Tf 60 ${height - 80} Td (Sheet ${sheet}, R 4.7 k) Tj ET`;
  const numbers = Array.from({ length: sheets }, (_, index) => index + 1);
  const kids = numbers.map((sheet) => `${2 * sheet + 2} 0 R`).join(' ');
  return pdf([
    `<< /Type /Catalog /Pages 2 0 R ${catalogue}>>`,
    `<< /Type /Pages /Kids [${kids}] /Count ${sheets} /MediaBox [0 0 ${width} ${height}] >>`,
    '<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>',
    ...numbers.flatMap((sheet) => [
      `<< /Type /Page /Parent 2 0 R /Contents ${2 * sheet + 3} 0 R /Resources << /Font << /F1 3 0 R >> >> >>`,
      stream(drawing(sheet)),
    ]),
  ]);
}

// One that asks for a password (the standard handler of revision 2) that is none of the usual ones.
export function locked() {
  const hex = '00112233445566778899aabbccddeeff'.repeat(2);
  const plain = diagram().toString('latin1');
  const encrypt = `/Encrypt << /Filter /Standard /V 1 /R 2 /O <${hex}> /U <${hex}> /P -4 >> /ID [<00> <00>] `;
  return Buffer.from(plain.replace('/Root 1 0 R ', `/Root 1 0 R ${encrypt}`), 'latin1');
}

// One whose only page has one line of so many points.
export function heavy(points) {
  const line = deflateSync(Buffer.from(`0 0 m ${'600 600 l 0 1 l '.repeat(points / 2)}S`)).toString('latin1');
  return pdf([
    '<< /Type /Catalog /Pages 2 0 R >>',
    '<< /Type /Pages /Kids [3 0 R] /Count 1 /MediaBox [0 0 600 600] >>',
    '<< /Type /Page /Parent 2 0 R /Contents 4 0 R >>',
    stream(line, '/Filter /FlateDecode '),
  ]);
}

// One whose only page is an image of so many pixels to a side, with nothing behind them.
export function bomb(side) {
  return pdf([
    '<< /Type /Catalog /Pages 2 0 R >>',
    '<< /Type /Pages /Kids [3 0 R] /Count 1 /MediaBox [0 0 600 600] >>',
    '<< /Type /Page /Parent 2 0 R /Contents 4 0 R /Resources << /XObject << /I 5 0 R >> >> >>',
    stream('600 0 0 600 0 0 cm /I Do'),
    stream('x', `/Type /XObject /Subtype /Image /Width ${side} /Height ${side} /ColorSpace /DeviceRGB /BitsPerComponent 8 `),
  ]);
}
