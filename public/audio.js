// The sound input and output of the device:
//
//   window.halfturnAudio.inputs()     the sound inputs, as [{ id, name }]
//   window.halfturnAudio.open(id, begun, failed)   listens to an input ('' for the usual one); gives
//                                     { latest(array), end() }. begun is called with { id, name,
//                                     rate, unsaid }, failed with why it can't go on
//   window.halfturnAudio.send(tones, noise, peak)  sends tones, [[hertz, peak], …], or a second of
//                                     noise over and over; gives what ends that
//   window.halfturnAudio.sweep(low, high, seconds, peak)  sends a tone that goes up in so many
//                                     seconds and down again, over and over; gives what ends that
//   window.halfturnAudio.play(bytes, ended)   plays the bytes of a sound file once; gives what ends
//                                     that. ended is called with whether it was played to its end
//
// Nothing of it leaves the device. The input is let go by end(). A browser may work on sound for
// calls: each of these is asked to be off, and what was granted is looked at, not what was asked.

const PROCESSING = ['echoCancellation', 'noiseSuppression', 'autoGainControl'];
const KEPT_SECONDS = 6;
const here = (path) => new URL(path, document.baseURI).href;

async function inputs() {
  const devices = (await navigator.mediaDevices?.enumerateDevices?.()) ?? [];
  const found = devices.filter(({ kind }) => kind === 'audioinput');
  return found.map(({ deviceId, label }) => ({ id: deviceId, name: label }));
}

const asked = (id) => ({
  audio: {
    ...Object.fromEntries(PROCESSING.map((name) => [name, false])),
    ...(id && { deviceId: { exact: id } }),
  },
});

// The last seconds, one channel.
function ring(rate) {
  const samples = new Float32Array(Math.round(rate * KEPT_SECONDS));
  let end = 0;
  let count = 0;
  return {
    push(block) {
      const first = Math.min(block.length, samples.length - end);
      samples.set(block.subarray(0, first), end);
      samples.set(block.subarray(first), 0);
      end = (end + block.length) % samples.length;
      count += block.length;
    },
    clear() {
      count = 0;
    },
    // Fills an array with the newest samples and says how many there are without a gap.
    latest(into) {
      if (count < into.length) return count;
      const from = (end - into.length + samples.length) % samples.length;
      const first = Math.min(into.length, samples.length - from);
      into.set(samples.subarray(from, from + first), 0);
      into.set(samples.subarray(0, into.length - first), first);
      return count;
    },
  };
}

// At the rate of the hardware where the browser tells it, so that nothing is resampled.
function contextFor(settings) {
  try {
    return new AudioContext(settings.sampleRate ? { sampleRate: settings.sampleRate } : {});
  } catch {
    return new AudioContext();
  }
}

// A browser that has nothing to play sound on never begins.
const inTime = (promise) => Promise.race([
  promise,
  new Promise((_, late) => {
    setTimeout(() => late(new DOMException('', 'AbortError')), 10_000);
  }),
]);

function open(id, begun, failed) {
  let stream;
  let context;
  let kept;
  let ended = false;
  const end = () => {
    ended = true;
    stream?.getTracks().forEach((track) => track.stop());
    if (context && context.state !== 'closed') context.close();
  };
  const fail = (why) => {
    const was = ended;
    end();
    if (!was) failed(why);
  };
  const go = async () => {
    if (!navigator.mediaDevices?.getUserMedia || !window.AudioWorkletNode) throw new DOMException('', 'NotSupportedError');
    stream = await navigator.mediaDevices.getUserMedia(asked(id));
    if (ended) return end();
    const [track] = stream.getAudioTracks();
    const settings = track.getSettings();
    // A mode such as 'all' is on as well.
    const working = PROCESSING.find((name) => settings[name] !== undefined && settings[name] !== false);
    if (working) return fail(`processed:${working}`);
    track.onended = () => fail('lost');
    context = contextFor(settings);
    await context.audioWorklet.addModule(here('audio-worklet.js'));
    if (ended) return end();
    // Channels as they come: mixed into one, a tone on one side alone would lose 6 dB.
    const capture = new AudioWorkletNode(context, 'halfturn-capture', {
      numberOfOutputs: 0, channelCount: 2, channelCountMode: 'explicit', channelInterpretation: 'discrete',
    });
    kept = ring(context.sampleRate);
    capture.port.onmessage = ({ data }) => {
      if (data === 'gap') return kept.clear();
      kept.push(data);
      capture.port.postMessage(data, [data.buffer]);
    };
    capture.onprocessorerror = () => fail('broken');
    context.createMediaStreamSource(stream).connect(capture);
    await inTime(context.resume());
    if (ended) return end();
    const unsaid = PROCESSING.filter((name) => settings[name] === undefined);
    begun({ id: settings.deviceId ?? '', name: track.label, rate: context.sampleRate, unsaid: unsaid.length > 0 });
  };
  go().catch((error) => fail(String(error?.name ?? error)));
  return { end, latest: (into) => kept?.latest(into) ?? 0 };
}

// Where sound goes out, and what ends it.
function output() {
  const context = new AudioContext();
  const volume = context.createGain();
  // A tone that begins within a hundredth of a second makes no click.
  volume.gain.setValueAtTime(0, context.currentTime);
  volume.gain.linearRampToValueAtTime(1, context.currentTime + 0.01);
  volume.connect(context.destination);
  const through = (source, gain) => {
    const level = context.createGain();
    level.gain.value = gain;
    source.connect(level).connect(volume);
    source.start();
  };
  const begin = () => {
    context.resume();
    return () => {
      if (context.state !== 'closed') context.close();
    };
  };
  return { context, through, begin };
}

function send(tones, noise, peak) {
  const { context, through, begin } = output();
  for (const [hertz, gain] of tones) {
    const tone = context.createOscillator();
    tone.frequency.value = hertz;
    through(tone, gain);
  }
  if (noise?.length) {
    const buffer = context.createBuffer(1, noise.length, noise.length);
    buffer.copyToChannel(noise, 0);
    const source = context.createBufferSource();
    source.buffer = buffer;
    source.loop = true;
    through(source, peak);
  }
  return begin();
}

// As often as anybody listens to it: each way is planned ahead, on the clock of the sound itself.
const WAYS = 200;

function sweep(low, high, seconds, peak) {
  const { context, through, begin } = output();
  const tone = context.createOscillator();
  tone.frequency.setValueAtTime(low, context.currentTime);
  for (let way = 1; way <= WAYS; way += 1) {
    tone.frequency.exponentialRampToValueAtTime(way % 2 ? high : low, context.currentTime + way * seconds);
  }
  through(tone, peak);
  tone.stop(context.currentTime + WAYS * seconds);
  return begin();
}

function play(bytes, ended) {
  const context = new AudioContext();
  const end = () => {
    if (context.state !== 'closed') context.close();
  };
  const over = (whole) => {
    const was = context.state === 'closed';
    end();
    if (!was) ended(whole);
  };
  context.decodeAudioData(bytes.slice().buffer).then((buffer) => {
    if (context.state === 'closed') return;
    const source = context.createBufferSource();
    source.buffer = buffer;
    source.connect(context.destination);
    source.onended = () => over(true);
    source.start();
    context.resume();
  }).catch(() => over(false));
  return end;
}

window.halfturnAudio = { inputs, open, send, sweep, play };
