// Reads bar codes and matrix codes, from the camera or from a picture:
//
//   window.halfturnScan.look(video, found, failed)   shows the camera in the video and looks for
//                                   codes; gives what ends that and lets the camera go. found is
//                                   called with the text of one, failed with why it can't go on
//   window.halfturnScan.read(file)  the texts of the codes in a picture
//
// The browser's own detector is used where it knows the formats, else a decoder that is kept here.
// That is fetched at the first look, out of what is kept on the device where there is no network.

const LONGEST_SIDE = 2000;
const BETWEEN_LOOKS = 150;
const WANTED = ['qr_code', 'code_128', 'code_39', 'ean_13'];
const CAMERA = { video: { facingMode: 'environment', width: { ideal: 1280 } } };

const here = (path) => new URL(path, document.baseURI).href;

async function ownDetector() {
  const known = await window.BarcodeDetector?.getSupportedFormats?.().catch(() => []);
  if (!WANTED.every((format) => known?.includes(format))) return undefined;
  const detector = new window.BarcodeDetector();
  return async (canvas) => (await detector.detect(canvas)).map(({ rawValue }) => rawValue);
}

async function keptDecoder() {
  const { prepareZXingModule, readBarcodes } = await import(here('decoder/reader/index.js'));
  const locateFile = () => here('decoder/zxing_reader.wasm');
  await prepareZXingModule({ overrides: { locateFile }, fireImmediately: true });
  return async (canvas) => {
    const picture = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
    const found = await readBarcodes(picture, { tryHarder: true, maxNumberOfSymbols: 8 });
    return found.filter(({ isValid }) => isValid).map(({ text }) => text);
  };
}

let reader;
const codes = () => {
  reader ??= (async () => (await ownDetector()) ?? keptDecoder())();
  // What could not be fetched is asked for again.
  reader.catch(() => (reader = undefined));
  return reader;
};

function drawn(source, width, height, canvas = document.createElement('canvas')) {
  const scale = Math.min(1, LONGEST_SIDE / Math.max(width, height));
  canvas.width = Math.max(1, Math.round(width * scale));
  canvas.height = Math.max(1, Math.round(height * scale));
  const context = canvas.getContext('2d', { willReadFrequently: true });
  // Codes are dark on light: what is clear in a picture is paper.
  context.fillStyle = '#fff';
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(source, 0, 0, canvas.width, canvas.height);
  return canvas;
}

async function read(file) {
  const decode = await codes();
  const picture = await createImageBitmap(file);
  try {
    return await decode(drawn(picture, picture.width, picture.height));
  } finally {
    picture.close();
  }
}

const pause = () => new Promise((resolve) => setTimeout(resolve, BETWEEN_LOOKS));

function look(video, found, failed) {
  let stream;
  let ended = false;
  const end = () => {
    ended = true;
    stream?.getTracks().forEach((track) => track.stop());
    video.srcObject = null;
    delete video.dataset.live;
  };
  const go = async () => {
    if (!navigator.mediaDevices?.getUserMedia) throw new DOMException('', 'NotFoundError');
    stream = await navigator.mediaDevices.getUserMedia(CAMERA);
    if (ended) return end();
    video.srcObject = stream;
    video.dataset.live = '';
    await video.play();
    const decode = await codes();
    const canvas = document.createElement('canvas');
    let before;
    while (!ended) {
      const { videoWidth, videoHeight } = video;
      const texts = videoWidth ? await decode(drawn(video, videoWidth, videoHeight, canvas)) : [];
      // Once may be a misreading, as of lines that are no code.
      if (!ended && texts.length && texts[0] === before) {
        end();
        return found(texts[0]);
      }
      before = texts[0];
      await pause();
    }
  };
  go().catch((error) => {
    const was = ended;
    end();
    if (!was) failed(String(error?.name ?? error));
  });
  return end;
}

window.halfturnScan = { look, read };
