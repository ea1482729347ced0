// Takes the first channel of the sound input as it comes, on the browser's own thread for audio.
// Arrays are made once and go round: a full one is handed to the page, which hands it back.

const SIZE = 2048;
const ROUND = 16;

class Capture extends AudioWorkletProcessor {
  constructor() {
    super();
    this.spare = new Array(ROUND);
    this.handed = new Array(ROUND);
    for (let at = 0; at < ROUND; at += 1) this.keep(at, new Float32Array(SIZE));
    this.spares = ROUND - 1;
    this.filled = 0;
    this.due = -1;
    this.port.onmessage = ({ data }) => {
      // Above the one that is being filled.
      this.spares += 1;
      this.spare[this.spares] = this.spare[this.spares - 1];
      this.handed[this.spares] = this.handed[this.spares - 1];
      this.keep(this.spares - 1, data);
    };
  }

  keep(at, samples) {
    this.spare[at] = samples;
    this.handed[at] = [samples.buffer];
  }

  process(inputs) {
    const channel = inputs[0][0];
    if (channel === undefined) return true;
    // Time that was left out, or arrays that the page did not hand back in time.
    if (this.due !== -1 && this.due !== currentFrame) this.port.postMessage('gap');
    this.due = currentFrame + channel.length;
    for (let at = 0; at < channel.length; at += 1) {
      this.spare[this.spares][this.filled] = channel[at];
      this.filled += 1;
      if (this.filled === SIZE) this.hand();
    }
    return true;
  }

  hand() {
    this.filled = 0;
    if (this.spares === 0) {
      this.port.postMessage('gap');
      return;
    }
    this.port.postMessage(this.spare[this.spares], this.handed[this.spares]);
    this.spares -= 1;
  }
}

registerProcessor('halfturn-capture', Capture);
