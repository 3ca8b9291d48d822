// The microphone: time to walk back, ten seconds of sound with its level shown, and then it is let go.
const recordSeconds = 10,
  walkBack = [10, 20, 30, 60];
// Levels over full scale, in dB: under the first nothing is there to listen to, over the second it clips.
const quietDB = -60,
  loudDB = -1;

let recording = null; // {stop} while the microphone is in use

// unrecordable says why this browser does not record, "" if it may.
const ownRecorder = "Record with the phone's own recorder or camera, and open that file above.";
function unrecordable() {
  return globalThis.MediaRecorder && navigator.mediaDevices && navigator.mediaDevices.getUserMedia
    ? ""
    : `This browser gives a page that is opened from a file no microphone. ${ownRecorder}`;
}

const refusals = {
  NotAllowedError:
    "The browser did not allow the microphone. Allow it for this page (by the sign beside the address), and start " +
    "again. Or: ",
  NotFoundError: "This device has no microphone that the browser finds. ",
  NotReadableError: "Another app holds the microphone. Close it and start again. Or: ",
};

// takes records a hover after some seconds and gives {file, said}: the sound and what is wrong with it; null where it
// was stopped. shown(text, level) is told what happens: level is in dB over full scale, null while nothing is recorded.
async function takes(wait, shown) {
  let stream, context, lock;
  const stop = new AbortController();
  recording = { stop: () => stop.abort() };
  try {
    shown("The browser asks for the microphone: allow it.", null);
    stream = await navigator.mediaDevices.getUserMedia({
      audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false },
    });
    const set = stream.getAudioTracks()[0].getSettings();
    context = new AudioContext();
    const meter = context.createAnalyser();
    meter.fftSize = 8192;
    context.createMediaStreamSource(stream).connect(meter);
    // A phone that goes to sleep would end it.
    lock = navigator.wakeLock && (await navigator.wakeLock.request("screen").catch(() => null));
    await counts(wait, stop.signal, (left) => shown(`Put the phone down, walk back, take off: ${left} s`, null));
    beep(context, 880);
    await counts(0.4, stop.signal, () => {});
    const kind = ["audio/webm;codecs=pcm", "audio/webm;codecs=opus", "audio/mp4"].find((type) =>
      MediaRecorder.isTypeSupported(type),
    );
    const recorder = new MediaRecorder(stream, { mimeType: kind, audioBitsPerSecond: 256000 }),
      parts = [];
    recorder.ondataavailable = (event) => parts.push(event.data);
    const ended = new Promise((done) => (recorder.onstop = done));
    recorder.start();
    const wave = new Float32Array(meter.fftSize);
    let peak = -Infinity,
      mean = -Infinity;
    try {
      await counts(recordSeconds, stop.signal, (left) => {
        meter.getFloatTimeDomainData(wave);
        const dB = (x) => (x > 0 ? 20 * Math.log10(x) : -Infinity),
          level = dB(Math.sqrt(wave.reduce((sum, x) => sum + x * x, 0) / wave.length));
        peak = Math.max(peak, dB(wave.reduce((most, x) => Math.max(most, Math.abs(x)), 0)));
        mean = Math.max(mean, level);
        shown(`Recording: hover still, ${left} s left`, level);
      });
    } finally {
      recorder.stop();
      await ended;
      beep(context, 660);
    }
    const said = [
      mean < quietDB && "Hardly any sound came in: is the microphone covered?",
      peak > loudDB && "The sound is clipped: put the phone further away.",
      (set.noiseSuppression || set.echoCancellation || set.autoGainControl) &&
        "This browser filters what the microphone hears; the phone's own recorder may do better.",
    ];
    return { file: new Blob(parts, { type: recorder.mimeType }), said: said.filter(Boolean) };
  } catch (fault) {
    if (fault.name === "AbortError") return null;
    throw new Unheard((refusals[fault.name] || `The microphone gives nothing (${fault.message}). `) + ownRecorder);
  } finally {
    recording = null;
    if (stream) stream.getTracks().forEach((track) => track.stop());
    if (lock) lock.release();
    if (context) setTimeout(() => context.close(), 400);
  }
}

// counts waits for some seconds and says how many are left, ten times a second.
function counts(seconds, signal, says) {
  return new Promise((done, failed) => {
    const end = performance.now() + 1000 * seconds;
    const tick = setInterval(() => {
      const left = (end - performance.now()) / 1000;
      if (signal.aborted || left <= 0) clearInterval(tick);
      if (signal.aborted) failed(new DOMException("stopped", "AbortError"));
      else if (left <= 0) done();
      else says(Math.ceil(left));
    }, 100);
  });
}

// beep is a short tone for whoever stands away from the screen.
function beep(context, hz) {
  const tone = context.createOscillator(),
    gain = context.createGain(),
    from = context.currentTime;
  tone.frequency.value = hz;
  gain.gain.setValueAtTime(0.3, from);
  gain.gain.linearRampToValueAtTime(0, from + 0.2);
  tone.connect(gain).connect(context.destination);
  tone.start(from);
  tone.stop(from + 0.2);
}
