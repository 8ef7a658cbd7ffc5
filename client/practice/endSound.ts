/** Two tones, one above the other by a fourth: hertz, and the seconds at which each begins. */
const tones = [
  { frequency: 523.25, at: 0 },
  { frequency: 698.46, at: 0.28 },
] as const;
/** Seconds that a tone lasts. */
const toneSeconds = 0.5;
/** How loud a tone is at its loudest, of 1: below the sound of a game, not above it. */
const loudness = 0.2;

/**
 * The sound at the end of a block. It is made by the browser itself, without a file. A browser lets a page sound only
 * after a key or a click in it, so the sound is made ready at the first one.
 */
export class EndSound {
  private readonly wanted: () => boolean;
  private context: AudioContext | undefined;

  /** @param wanted whether the person has switched the sound on */
  constructor(wanted: () => boolean) {
    this.wanted = wanted;
    for (const type of ['keydown', 'pointerdown'] as const)
      document.addEventListener(type, () => this.prepare(), { capture: true });
  }

  play(): void {
    const context = (this.context ??= new AudioContext());
    void context.resume().then(() => sound(context));
  }

  private prepare(): void {
    if (!this.wanted()) return;
    this.context ??= new AudioContext();
    if (this.context.state === 'suspended') void this.context.resume();
  }
}

function sound(context: AudioContext): void {
  for (const { frequency, at } of tones) {
    const start = context.currentTime + at;
    const tone = new OscillatorNode(context, { frequency });
    const volume = new GainNode(context, { gain: 0 });
    // It swells and fades, since a tone that is cut off clicks.
    volume.gain.setValueAtTime(0, start);
    volume.gain.linearRampToValueAtTime(loudness, start + 0.03);
    volume.gain.linearRampToValueAtTime(0, start + toneSeconds);
    tone.connect(volume).connect(context.destination);
    tone.start(start);
    tone.stop(start + toneSeconds);
  }
}
