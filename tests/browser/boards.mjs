// Pictures for tests, drawn by the browser: an invented board.

// A board as a JPEG or another type, with parts that differ from picture to picture.
export async function drawBoard(page, { width = 2400, height = 1800, hue = 140, type = 'image/jpeg' } = {}) {
  const coded = await page.evaluate(
    ([width, height, hue, type]) => {
      const canvas = document.createElement('canvas');
      Object.assign(canvas, { width, height });
      const pen = canvas.getContext('2d');
      pen.fillStyle = `hsl(${hue} 45% 28%)`;
      pen.fillRect(0, 0, width, height);
      pen.strokeStyle = `hsl(${hue} 40% 45%)`;
      pen.lineWidth = 8;
      for (let line = 0; line < 24; line += 1) {
        pen.beginPath();
        pen.moveTo((line * width) / 24, 0);
        pen.lineTo((line * width) / 24 + 300, height / 2);
        pen.lineTo((line * width) / 24, height);
        pen.stroke();
      }
      for (let part = 0; part < 60; part += 1) {
        const [x, y] = [((part * 733) % 97) / 97, ((part * 389) % 89) / 89];
        pen.fillStyle = ['#222', '#b7a36b', '#8a8f98', '#6b2f2a'][part % 4];
        pen.fillRect(x * width, y * height, 50 + (part % 5) * 22, 40 + (part % 3) * 30);
        pen.fillStyle = '#fff';
        pen.font = '34px sans-serif';
        pen.fillText(`${'RCLQ'[part % 4]}${part}`, x * width, y * height - 8);
      }
      return canvas.toDataURL(type, 0.9);
    },
    [width, height, hue, type],
  );
  return Buffer.from(coded.split(',')[1], 'base64');
}

// The same JPEG with a note from a camera that was held upright: orientation 6 of Exif
// (CIPA DC-008), and a place that nobody else is to know.
export function heldUpright(jpeg) {
  const short = (value) => [value >> 8, value & 255];
  const entry = (tag, type, count, value) => [...short(tag), ...short(type), 0, 0, 0, count, ...value];
  const tiff = [
    ...Buffer.from('MM\0*\0\0\0\b', 'latin1'),
    ...short(2),
    ...entry(0x010f, 2, 4, Buffer.from('QRC\0')),
    ...entry(0x0112, 3, 1, [0, 6, 0, 0]),
    0, 0, 0, 0,
  ];
  const body = [...Buffer.from('Exif\0\0'), ...tiff];
  const segment = Buffer.from([0xff, 0xe1, ...short(body.length + 2), ...body]);
  return Buffer.concat([jpeg.subarray(0, 2), segment, jpeg.subarray(2)]);
}
