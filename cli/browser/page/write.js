// Write: the menu and the kitchen as text, forms beside it that change the same text, and what is wrong with them.
import { button, field, h, save, say, select } from './dom.js';
import { examples, files, keep, menuName, open, openEvening, store } from './store.js';
import { forms } from './forms.js';
import { outline, quoted } from './ron.js';

// Checked once nobody has typed for so many milliseconds.
const PAUSE = 350;
const FIRST = 'supper.menu.ron';

let shown = 'menu';
let timer;
let round = 0;

export function write(room, quick) {
  if (!store.menu.text) fromExample(FIRST);
  const text = h('textarea', {
    id: 'text', spellcheck: 'false', autocapitalize: 'off', autocomplete: 'off', rows: '24', readonly: store.reading,
    value: store[shown].text,
  });
  const faults = h('section', { id: 'faults', 'aria-label': 'Faults' });
  const form = h('section', { class: 'forms', 'aria-label': 'Forms' });
  const draw = () => {
    const key = document.activeElement?.dataset?.key;
    form.replaceChildren(...forms(shown, store[shown].text, change));
    if (key) form.querySelector(`[data-key="${CSS.escape(key)}"]`)?.focus();
  };
  const check = async () => {
    const mine = (round += 1);
    const answer = await quick.run(['check', menuName(), '--format', 'json'], files());
    if (mine === round && faults.isConnected) faults.replaceChildren(...told(answer, text, change, show));
  };
  const later = () => {
    clearTimeout(timer);
    timer = setTimeout(check, PAUSE);
  };
  // Every change goes through here, wherever it was made.
  function change(words, place = shown) {
    if (!keep({ [place]: { ...store[place], text: words } })) say('This browser has no room left: save the files.');
    if (place === shown && text.value !== words) text.value = words;
    draw();
    later();
  }
  function show(place) {
    shown = place;
    write(room, quick);
  }
  text.addEventListener('input', () => change(text.value));
  const tab = (place, words) => button(words, () => show(place), { 'aria-pressed': String(shown === place) });
  room.replaceChildren(
    h('h1', {}, 'Write'),
    h('div', { class: 'bar' }, beginning(room, quick), ...filing(room, quick)),
    h('div', { class: 'bar', role: 'group', 'aria-label': 'What is shown' }, tab('menu', 'Menu'), tab('kitchen', 'Kitchen')),
    faults,
    h('div', { class: 'two' },
      h('section', { 'aria-label': 'Text' },
        h('label', { for: 'text' }, `${shown === 'menu' ? 'Menu' : 'Kitchen'}, as text (${store[shown].name})`), text,
        language()),
      form),
  );
  draw();
  check();
}

// What the command has found, each fault with its line, its remedy, and what may be written instead as one tap.
function told(answer, text, change, show) {
  let said;
  try {
    said = JSON.parse(answer.out);
  } catch {
    return [h('p', { class: 'fault' }, answer.err || 'The check said nothing.')];
  }
  if (said.outcome === 'sound') {
    const counts = [['courses', 'course', 'courses'], ['dishes', 'dish', 'dishes'], ['steps', 'step', 'steps']]
      .map(([name, one, many]) => `${said[name]} ${said[name] === 1 ? one : many}`).join(', ');
    return [h('p', { class: 'sound' }, `No faults: ${counts}.`), ...said.limits.map((own) => h('p', { class: 'fault' }, own))];
  }
  const all = said.faults;
  return [
    h('p', {}, h('strong', {}, all.length === 1 ? 'One fault' : `${all.length} faults`)),
    h('ol', {}, all.map((fault) => h('li', { class: 'fault' }, one(fault, text, change, show)))),
  ];
}

function one(fault, text, change, show) {
  const place = fault.at && fault.at.file === store.kitchen.name ? 'kitchen' : 'menu';
  const parts = [h('p', {}, `${fault.cause}.`), h('p', { class: 'remedy' }, capital(fault.remedy))];
  if (!fault.at) return parts;
  const source = store[place].text;
  const [start, end] = [fault.at.start, fault.at.end].map((byte) => units(source, byte));
  const begin = source.lastIndexOf('\n', start - 1) + 1;
  const line = source.slice(begin, (source.indexOf('\n', start) + source.length + 1) % (source.length + 1) || undefined);
  const stop = Math.min(end - begin, line.length);
  parts.splice(1, 0, h('pre', {}, line.slice(0, start - begin).trimStart(), h('mark', {}, line.slice(start - begin, stop) || ' '), line.slice(stop)));
  const go = () => {
    if (text.dataset.place !== place) show(place);
    const area = document.getElementById('text');
    area.focus();
    area.setSelectionRange(start, end);
  };
  text.dataset.place ||= shown;
  const mend = (words) => () => {
    const old = source.slice(start, end);
    change(source.slice(0, start) + (old.startsWith('"') ? quoted(words) : words) + source.slice(end), place);
    say(`"${words}" is written there now.`);
  };
  const may = store.reading ? [] : alternatives(fault.remedy, source.slice(start, end));
  return [...parts, h('div', { class: 'bar' }, button(`Go to line ${fault.at.line}`, go), may.map((words) => button(`Write "${words}"`, mend(words))))];
}

// The words that a remedy quotes are those that may be written. A sentence about something else quotes none, or what is there.
function alternatives(remedy, old) {
  const words = [...remedy.matchAll(/"([^"]+)"/g)].map(([, words]) => words);
  const there = old.replace(/^"|"$/g, '');
  return [...new Set(words)].filter((words) => words !== there).slice(0, 8);
}

const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);

// The place in a JavaScript text of a byte in UTF-8.
function units(text, byte) {
  return new TextDecoder().decode(new TextEncoder().encode(text).subarray(0, byte)).length;
}

function beginning(room, quick) {
  const menus = examples().filter(([name]) => name.includes('.menu.'));
  const list = menus.map(([name, text]) => [name, /name: "([^"]*)"/.exec(text)?.[1] ?? name]);
  const before = store.shelf.map((own, index) => [`${index}`, `Before: ${/name: "([^"]*)"/.exec(JSON.parse(own).menu.text)?.[1] ?? 'a menu'}`]);
  return field('Begin with an example', select([['', 'Choose'], ...list, ...before], '', (name) => {
    if (!name) return;
    if (/^\d+$/.test(name)) openEvening(store.shelf[Number(name)]);
    else fromExample(name);
    write(room, quick);
    say('It is open. What was here before is in the same list.');
  }));
}

function fromExample(name) {
  const all = new Map(examples());
  const text = all.get(name);
  const kitchen = /kitchen: "([^"]*)"/.exec(text)?.[1];
  open({ name, text }, { name: kitchen, text: all.get(kitchen) ?? '' });
}

function filing(room, quick) {
  const input = h('input', { type: 'file', multiple: true, class: 'file', 'aria-label': 'Open menu, kitchen, dish or evening files' });
  input.addEventListener('change', async () => {
    try {
      for (const file of input.files) take(file.name, await file.text());
      write(room, quick);
    } catch (error) {
      say(`That was not opened: ${error.message}`);
    }
  });
  return [
    h('div', { class: 'field' }, h('label', { for: (input.id = 'files') }, 'Open files'), input),
    button('Save menu', () => save(store.menu.name, store.menu.text)),
    button('Save kitchen', () => save(store.kitchen.name, store.kitchen.text)),
  ];
}

function take(name, text) {
  if (text.trimStart().startsWith('{"rangewright"')) return openEvening(text);
  if (/"?Dish"?\s*[({:]/.test(text.slice(0, 2000)) && /\.dish\.(ron|json)$/.test(name)) return keep({ book: { ...store.book, [name]: text } });
  const sort = outline(text)?.name === 'Kitchen' || /"?Kitchen"?\s*[({:]/.test(text.slice(0, 2000)) && !/Menu/.test(text.slice(0, 2000)) ? 'kitchen' : 'menu';
  keep({ [sort]: { name, text } });
  return undefined;
}

function language() {
  const words = document.getElementById('language').textContent;
  return h('details', {}, h('summary', {}, 'How menus and kitchens are written'), h('pre', { class: 'language', tabindex: '0' }, words.trim()));
}
