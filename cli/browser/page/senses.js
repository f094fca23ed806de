// A sound, and a screen that stays on: what a kitchen needs of a phone.
import { store } from './store.js';

let audio;
let lock;
let wanted = false;

// Browsers let a page sound only after somebody has touched it.
document.addEventListener('pointerdown', () => {
  audio ??= globalThis.AudioContext && new AudioContext();
  audio?.resume();
}, { passive: true });

export function chime() {
  if (!store.sound || audio?.state !== 'running') return;
  [0, 0.25, 0.5].forEach((after, index) => {
    const [tone, volume] = [audio.createOscillator(), audio.createGain()];
    const at = audio.currentTime + after;
    tone.frequency.value = [660, 660, 880][index];
    volume.gain.setValueAtTime(0.4, at);
    volume.gain.exponentialRampToValueAtTime(0.001, at + 0.22);
    tone.connect(volume).connect(audio.destination);
    tone.start(at);
    tone.stop(at + 0.25);
  });
}

export async function stayAwake(wish) {
  wanted = wish;
  try {
    if (!wish) await lock?.release();
    else if (document.visibilityState === 'visible') lock = await navigator.wakeLock?.request('screen');
  } catch {
    // A browser or a low battery may refuse; the screen's own time counts then.
  }
}

// A page that was away has lost it.
document.addEventListener('visibilitychange', () => wanted && stayAwake(true));
