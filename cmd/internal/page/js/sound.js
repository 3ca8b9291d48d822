// Sound that the browser decodes, as the samples that the engine listens to.
const mostSeconds = 60,
  mostChannels = 2,
  usualRate = 48000,
  mostMinutes = 15,
  mostFile = 256 << 20;

// streamed are forms of sound that can be cut anywhere, by the letters they begin with: with the bytes that hold more
// than a minute of any, so that a long one need not be decoded whole.
const streamed = [
  ["ID3", 0, 8 << 20],
  ["\xff", 0, 6 << 20],
  ["OggS", 0, 8 << 20],
  ["fLaC", 0, 64 << 20],
];

class Unheard extends Error {}

// soundOf gives {samples, rate, channels, seconds, cut} of a file: one channel after the other, cut to what is listened
// to.
async function soundOf(file) {
  if (file.size === 0) throw new Unheard("The file is empty.");
  const head = new DataView(await file.slice(0, 65536).arrayBuffer());
  const begins = (text, at = 0) => letters4(head, at, text.length) === text;
  const form = begins("RIFF") && begins("WAVE", 8) ? waveForm(head) : null;
  const most = form
    ? form.from + mostSeconds * form.bytesPerSecond
    : (streamed.find(([text, at]) => begins(text, at)) || [])[2];
  let cut = most !== undefined && file.size > most;
  if (!cut && file.size > mostFile)
    throw new Unheard(
      `The file has ${fixed(file.size / 2 ** 20, 0)} MB; at most ${mostFile >> 20} MB are read. Cut it to the hover.`,
    );
  const minutes = begins("ftyp", 4) ? await minutesOf(file) : 0;
  if (minutes > mostMinutes)
    throw new Unheard(`The file runs for ${fixed(minutes, 0)} minutes; cut it to the hover: 5 to 10 s are enough.`);
  const content = await (cut ? file.slice(0, most) : file).arrayBuffer();
  let buffer;
  try {
    buffer = await offline((form && Math.min(form.rate, usualRate)) || usualRate).decodeAudioData(content);
  } catch {
    throw new Unheard(
      "This browser finds no sound that it can decode in this file. Open a recording or a video of the hover, or " +
        "save the sound as WAV.",
    );
  }
  const channels = same(buffer) ? 1 : Math.min(buffer.numberOfChannels, mostChannels),
    n = Math.min(buffer.length, mostSeconds * buffer.sampleRate);
  const samples = new Float32Array(n * channels);
  for (let c = 0; c < channels; c++) samples.set(buffer.getChannelData(c).subarray(0, n), c * n);
  cut = cut || n < buffer.length;
  return { samples, rate: buffer.sampleRate, channels, seconds: n / buffer.sampleRate, cut };
}

// letters4 are some bytes as letters.
const letters4 = (view, at, n) =>
  at + n <= view.byteLength ? String.fromCharCode(...Array.from({ length: n }, (_, i) => view.getUint8(at + i))) : "";

// offline is a decoder that gives samples at a rate, or at the usual one where the browser does not know that.
function offline(rate) {
  try {
    return new OfflineAudioContext(1, 1, rate);
  } catch {
    return new OfflineAudioContext(1, 1, usualRate);
  }
}

// waveForm is where the samples of a WAV file begin, and their rates; null of one that is cut off before.
function waveForm(head) {
  let rate = 0,
    bytesPerSecond = 0;
  for (let at = 12; at + 16 <= head.byteLength;) {
    const id = letters4(head, at, 4),
      size = head.getUint32(at + 4, true);
    if (id === "fmt ") {
      rate = head.getUint32(at + 12, true);
      bytesPerSecond = head.getUint32(at + 16, true);
    }
    if (id === "data") return bytesPerSecond > 0 ? { rate, bytesPerSecond, from: at + 8 } : null;
    at += 8 + size + (size % 2);
  }
  return null;
}

// minutesOf is how long a file of the MP4 family says that it runs; 0 where it does not say.
async function minutesOf(file) {
  for (let at = 0, n = 0; at + 16 <= file.size && n < 1000; n++) {
    const box = new DataView(await file.slice(at, at + 64).arrayBuffer());
    let size = box.getUint32(0);
    if (size === 1) size = Number(box.getBigUint64(8));
    if (letters4(box, 4, 4) === "moov" && letters4(box, 12, 4) === "mvhd" && box.byteLength >= 48) {
      const long = box.getUint8(16) === 1,
        scale = box.getUint32(long ? 36 : 28);
      return (long ? Number(box.getBigUint64(40)) : box.getUint32(32)) / (scale || 1) / 60;
    }
    if (size < 8) return 0;
    at += size;
  }
  return 0;
}

// same says whether the first two channels hold the same, as of a phone with one microphone.
function same(buffer) {
  if (buffer.numberOfChannels < 2) return true;
  const [a, b] = [0, 1].map((c) => buffer.getChannelData(c));
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}
