// The rooms of the page, and the two workers: one for what is answered at once, one for what is searched.
import { Cook } from './cook.js';
import { button, h } from './dom.js';
import { Engine } from './engine.js';
import { plan } from './plan.js';
import { keep, restore, store } from './store.js';
import { write } from './write.js';

const ROOMS = { write: 'Write', plan: 'Plan', cook: 'Cook' };
const [quick, search] = [new Engine(), new Engine()];
let cook;

function enter() {
  const name = ROOMS[location.hash.slice(1)] ? location.hash.slice(1) : 'write';
  const room = document.getElementById('room');
  cook?.stop();
  cook = undefined;
  document.getElementById('rooms').replaceChildren(
    ...Object.entries(ROOMS).map(([own, words]) => h('li', {}, h('a', { href: `#${own}`, 'aria-current': own === name && 'page' }, words))),
    h('li', {}, button('For a class', () => {
      keep({ reading: !store.reading });
      enter();
    }, { 'aria-pressed': String(store.reading), title: 'Only to read: nothing can be changed' })),
  );
  document.title = `${ROOMS[name]} – Rangewright`;
  if (name === 'write') write(room, quick);
  else if (name === 'plan') plan(room, search);
  else {
    cook = new Cook(room, quick);
    cook.start();
  }
}

addEventListener('hashchange', () => {
  enter();
  document.getElementById('room').focus();
});
restore().then(enter);
