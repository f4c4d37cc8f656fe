// Cues for the ear, told apart by rhythm; the program names the notes, this page plays them.

const HARMONICS = [1, 0.56, 0.36, 0.22]; // within 15 dB of each other, so that a small speaker is heard
const ATTACK_S = 0.006;
const GLIDE_FROM_G = 30;
const REFERENCE_HZ = 440;

export function createSound(settings) {
  let context = null;
  let out = null;
  let wave = null;
  let signals = {};
  let glide = null;

  const ready = fetch("/api/v1/sounds")
    .then((answer) => answer.json())
    .then((told) => {
      signals = Object.fromEntries(told.signals.map((signal) => [signal.kind, signal]));
    })
    .catch(() => {});

  // Browsers let a page sound only after it was touched once.
  function wake() {
    if (context === null) {
      context = new AudioContext({ latencyHint: "interactive" });
      out = context.createGain();
      out.connect(context.destination);
      const real = new Float32Array(HARMONICS.length + 1);
      const imaginary = new Float32Array([0, ...HARMONICS]);
      wave = context.createPeriodicWave(real, imaginary);
    }
    if (context.state === "suspended") context.resume();
    apply();
  }

  function apply() {
    if (out) out.gain.value = settings.get("muted") ? 0 : (settings.get("volume") / 100) ** 2;
  }

  function note(at, { at_ms: offset, for_ms: length, hz }) {
    const start = at + offset / 1000;
    const end = start + length / 1000;
    const tone = context.createOscillator();
    const envelope = context.createGain();
    tone.setPeriodicWave(wave);
    tone.frequency.value = hz;
    envelope.gain.setValueAtTime(0, start);
    envelope.gain.linearRampToValueAtTime(0.5, start + ATTACK_S);
    envelope.gain.setTargetAtTime(0, start + (length / 1000) * 0.55, length / 1000 / 5);
    tone.connect(envelope).connect(out);
    tone.start(start);
    tone.stop(end + 0.15);
  }

  function speak(text) {
    if (!settings.get("speech") || settings.get("muted") || !("speechSynthesis" in window)) return;
    const words = new SpeechSynthesisUtterance(text);
    words.lang = "en";
    words.volume = settings.get("volume") / 100;
    words.rate = 1.15;
    speechSynthesis.cancel();
    speechSynthesis.speak(words);
  }

  return {
    ready,
    wake,
    apply,
    isAwake: () => context !== null && context.state === "running",
    kinds: () => Object.values(signals),
    play(kind, say) {
      const signal = signals[kind];
      if (context && context.state === "running" && signal) {
        for (const one of signal.notes) note(context.currentTime, one);
      }
      if (say) speak(say);
    },
    // A steady tone, and one that meets it from below just when the pour is full.
    pour(toGo) {
      const isOn = settings.get("glide") && context && context.state === "running" && toGo !== null;
      if (!isOn || toGo > GLIDE_FROM_G) {
        if (glide) {
          glide.level.gain.setTargetAtTime(0, context.currentTime, 0.05);
          glide.tones.forEach((tone) => tone.stop(context.currentTime + 0.4));
          glide = null;
        }
        return;
      }
      if (!glide) {
        const level = context.createGain();
        level.gain.setValueAtTime(0, context.currentTime);
        level.gain.linearRampToValueAtTime(0.12, context.currentTime + 0.2);
        level.connect(out);
        const tones = [0, 1].map(() => {
          const tone = context.createOscillator();
          tone.setPeriodicWave(wave);
          tone.frequency.value = REFERENCE_HZ;
          tone.connect(level);
          tone.start();
          return tone;
        });
        glide = { level, tones };
      }
      // An octave below at the start, beside it at the end: the last grams are heard as beats.
      const pitch = REFERENCE_HZ * 2 ** (-toGo / GLIDE_FROM_G);
      glide.tones[1].frequency.setTargetAtTime(pitch, context.currentTime, 0.04);
    },
  };
}
