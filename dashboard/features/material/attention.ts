// Sound and buzz when the time of a mix is up, as far as the device has them.

const BEEPS = 3;
const BEEP_S = 0.25;

let context: AudioContext | null = null;

/** Browsers let a page make a sound only after a touch: called when the mix begins. */
export function wakeSound(): void {
  context ??= new AudioContext();
  void context.resume();
}

export function callOut(): void {
  // Not every browser buzzes, and some only after a touch; it is no fault if not.
  (navigator as { vibrate?: (pattern: number[]) => boolean }).vibrate?.([300, 150, 300, 150, 300]);
  if (context === null || context.state !== "running") return;
  for (let beep = 0; beep < BEEPS; beep++) {
    const tone = context.createOscillator();
    const fromS = context.currentTime + beep * BEEP_S * 2;
    tone.frequency.value = 880;
    tone.connect(context.destination);
    tone.start(fromS);
    tone.stop(fromS + BEEP_S);
  }
}
