// Papers as PDF. The reader of PDFs is large, so it is fetched only when one is opened, from this
// app's own folder, where the service worker keeps it. It runs in a worker that can ask no network
// (pdf-worker.js), without the scripts that a PDF may hold; links are drawn and lead nowhere.
//
// The app finds one function on window:
//
//   halfturnPapers.open(bytes)          a Paper, or a refusal: an Error whose message is one of
//                                       'reader', 'locked', 'pages', 'slow', 'heavy', 'broken'
//   paper.pages                         how many pages it has
//   paper.draw(page)                    { blob, width, height } of the whole page
//   paper.sharpen(canvas, page, x, y, width, height, across, down)
//                                       draws a part of a page, in ten-thousandths of it, onto a
//                                       canvas of so many pixels; false where a later wish came
//   paper.close()                       ends the worker

// Has the version in its name, so that it is never anything else; tools/pdf.sh makes it.
const FOLDER = 'pdf-5.6.205';

const MAX_PAGES = 1000;
// A whole page is drawn with at most so many pixels on its longer side, and so many in all.
const LONGEST = 2000;
const MOST = 4_000_000;
// One scanned image in a PDF; what is larger is left blank.
const MAX_IMAGE = 64_000_000;
// So many drawing steps a page, and so many figures of the lines in all and in one line: a canvas
// draws one line in one go, and nothing can stop it meanwhile.
const STEPS = 1_000_000;
const FIGURES = 6_000_000;
const IN_ONE = 300_000;
// What is not through by then is given up. A slow tablet with a large scan takes seconds.
const PATIENCE = 30_000;

const here = (name) => new URL(`./${FOLDER}/${name}`, document.baseURI).href;
const refusal = (why) => new Error(why);

// What takes too long is refused; whoever waits ends it then.
function within(time, work) {
  let clock;
  const late = new Promise((_, refuse) => {
    clock = setTimeout(() => refuse(refusal('slow')), time);
  });
  return Promise.race([work, late]).finally(() => clearTimeout(clock));
}

// A worker whose file can't be had says so by an event alone.
function begin() {
  const worker = new Worker(here('start.js'), { type: 'module' });
  const failed = new Promise((_, refuse) => {
    worker.addEventListener('error', () => refuse(refusal('reader')), { once: true });
  });
  failed.catch(() => {});
  return { worker, failed };
}

function why(error) {
  if (error.name === 'PasswordException') return refusal('locked');
  if (['reader', 'locked', 'pages', 'slow', 'heavy'].includes(error.message)) return error;
  return refusal('broken');
}

async function open(bytes) {
  const reader = await import(here('pdf.js')).catch(() => {
    throw refusal('reader');
  });
  const { worker, failed } = begin();
  const port = new reader.PDFWorker({ port: worker });
  const loading = reader.getDocument({
    data: bytes,
    worker: port,
    isEvalSupported: false,
    enableXfa: false,
    useWorkerFetch: false,
    useSystemFonts: false,
    maxImageSize: MAX_IMAGE,
    standardFontDataUrl: here('fonts/'),
    wasmUrl: here('wasm/'),
    verbosity: 0,
  });
  const end = () => {
    worker.terminate();
    port.destroy();
    loading.destroy().catch(() => {});
  };
  try {
    const opened = await within(PATIENCE, Promise.race([loading.promise, failed]));
    if (opened.numPages > MAX_PAGES) throw refusal('pages');
    return new Paper(opened, end);
  } catch (error) {
    end();
    throw why(error);
  }
}

class Paper {
  #opened;
  #end;
  #task = null;

  constructor(opened, end) {
    this.#opened = opened;
    this.#end = end;
    this.pages = opened.numPages;
  }

  close() {
    this.#end();
  }

  async draw(number) {
    const page = await this.#page(number);
    await this.#weigh(page);
    const whole = page.getViewport({ scale: 1 });
    const longer = Math.max(whole.width, whole.height);
    const scale = Math.min(LONGEST / longer, Math.sqrt(MOST / (whole.width * whole.height)));
    const canvas = sized(whole.width * scale, whole.height * scale);
    await this.#paint(task(page, page.getViewport({ scale }), canvas));
    const blob = await new Promise((done) => canvas.toBlob(done, 'image/jpeg', 0.9));
    if (!blob) throw refusal('broken');
    return { blob, width: canvas.width, height: canvas.height };
  }

  async sharpen(canvas, number, x, y, width, height, across, down) {
    this.#task?.cancel();
    const page = await this.#page(number);
    const whole = page.getViewport({ scale: 1 });
    const part = (share) => share / 10_000;
    const scale = across / (part(width) * whole.width);
    const [offsetX, offsetY] = [-part(x) * whole.width * scale, -part(y) * whole.height * scale];
    const behind = sized(across, down);
    try {
      this.#task = task(page, page.getViewport({ scale, offsetX, offsetY }), behind);
      await this.#paint(this.#task);
    } catch (error) {
      if (error.name === 'RenderingCancelledException') return false;
      throw error;
    }
    Object.assign(canvas, { width: behind.width, height: behind.height });
    canvas.getContext('2d').drawImage(behind, 0, 0);
    return true;
  }

  // Looks at what is to be drawn before anything is.
  async #weigh(page) {
    let list;
    try {
      list = await within(PATIENCE, page.getOperatorList());
    } catch (error) {
      throw why(error);
    }
    const sizes = list.argsArray.map(figures);
    const all = sizes.reduce((sum, size) => sum + size, 0);
    const isHeavy = list.fnArray.length > STEPS || all > FIGURES || sizes.some((size) => size > IN_ONE);
    if (isHeavy) throw refusal('heavy');
  }

  async #page(number) {
    try {
      return await within(PATIENCE, this.#opened.getPage(number));
    } catch (error) {
      throw why(error);
    }
  }

  async #paint(task) {
    try {
      await within(PATIENCE, task.promise);
    } catch (error) {
      task.cancel();
      if (error.name === 'RenderingCancelledException') throw error;
      throw why(error);
    }
  }
}

// How many figures stand in the lists of numbers that a drawing step is given.
function figures(given) {
  if (ArrayBuffer.isView(given)) return given.length ?? 0;
  if (!Array.isArray(given)) return 0;
  return given.reduce((sum, part) => sum + figures(part), 0);
}

const task = (page, viewport, canvas) => page.render({ canvas, viewport, background: '#ffffff' });

function sized(width, height) {
  const canvas = document.createElement('canvas');
  const whole = (side) => Math.max(1, Math.round(side));
  return Object.assign(canvas, { width: whole(width), height: whole(height) });
}

window.halfturnPapers = { open };
