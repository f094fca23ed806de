// The time, or the time that a rehearsal plays.
import { keep, store } from './store.js';

export function now() {
  const play = store.rehearsal;
  return play ? play.from + (Date.now() - play.began) * play.speed : Date.now();
}

// Plays from a moment on, so many times as fast as life; without a moment it is today again.
export function rehearse(from, speed = 1) {
  keep({ rehearsal: from === undefined ? null : { began: Date.now(), from, speed } });
}
