/** Two sounds for somebody whose eyes are on the crate: one that it was counted, another that it was not. */

let audio: AudioContext | null = null;

export function sound(good: boolean) {
  navigator.vibrate?.(good ? 60 : [120, 80, 120]);
  try {
    audio ??= new AudioContext();
    const tone = audio.createOscillator();
    const volume = audio.createGain();
    tone.frequency.value = good ? 880 : 220;
    volume.gain.value = 0.15;
    tone.connect(volume).connect(audio.destination);
    tone.start();
    tone.stop(audio.currentTime + (good ? 0.09 : 0.35));
  } catch {
    // a device without sound has its vibration, and the screen says it in words
  }
}
