// What this browser keeps: the menu, the kitchen, the plan, the log, ticks and habits. Each change is kept at once.

const KEY = 'rangewright';
// So many evenings stay on the shelf.
const SHELF = 6;
const FRESH = {
  // Counts changes.
  changes: 0,
  menu: { name: '', text: '' },
  kitchen: { name: '', text: '' },
  // Dishes in files of their own: texts by name.
  book: {},
  // The files made from the last plan by name; `plan.json` is the plan itself.
  sheets: {},
  // The menu and kitchen that it was made from.
  planned: '',
  // Why there is none.
  refused: '',
  log: '',
  // What was tapped and is not in the log yet: [arguments, moment].
  waiting: [],
  // Evenings that were here before, the last first.
  shelf: [],
  // Earlier states of the log, for undoing.
  before: [],
  // Ticks of what no log knows: a dial that is turned, a roast that is basted.
  ticks: [],
  cook: '',
  sound: true,
  // A rehearsal: the moment it was begun, the moment it plays, how fast.
  rehearsal: null,
  reading: false,
};

function load() {
  try {
    return { ...structuredClone(FRESH), ...JSON.parse(localStorage.getItem(KEY) ?? '{}') };
  } catch {
    return structuredClone(FRESH);
  }
}

export const store = load();

// A second place, which is on the disk when it says so: the first is there at once, but browsers write it down when they like,
// and a battery does not wait. The one that was changed last counts.
const disk = new Promise((resolve) => {
  try {
    const request = indexedDB.open(KEY, 1);
    request.onupgradeneeded = () => request.result.createObjectStore('kept');
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => resolve(undefined);
  } catch {
    resolve(undefined);
  }
});
let writing = Promise.resolve(true);

async function toDisk(text) {
  const base = await disk;
  if (!base) return false;
  return new Promise((resolve) => {
    const change = base.transaction('kept', 'readwrite', { durability: 'strict' });
    change.objectStore('kept').put(text, KEY);
    change.oncomplete = () => resolve(true);
    change.onerror = change.onabort = () => resolve(false);
  });
}

// Once, before anything is shown: what the disk knows, if that is newer.
export async function restore() {
  const base = await disk;
  if (!base) return;
  const text = await new Promise((resolve) => {
    const request = base.transaction('kept').objectStore('kept').get(KEY);
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => resolve(undefined);
  });
  const kept = text && JSON.parse(text);
  if (kept && kept.changes > store.changes) Object.assign(store, kept);
}

// Keeps changes. Pages and pictures can be made again from the plan: where there is no room they are let go.
export function keep(changes = {}) {
  Object.assign(store, changes, { changes: store.changes + 1 });
  const text = JSON.stringify(store);
  writing = toDisk(text);
  try {
    localStorage.setItem(KEY, text);
    return true;
  } catch {
    try {
      const { 'plan.json': plan } = store.sheets;
      localStorage.setItem(KEY, JSON.stringify({ ...store, sheets: plan ? { 'plan.json': plan } : {} }));
      return true;
    } catch {
      return false;
    }
  }
}

// Whether the last change is on the disk, once that is known.
export const onDisk = () => writing;

// The files as the command sees them.
export function files() {
  // Dishes in files of their own: those of the examples, and those that were opened here.
  const all = { ...Object.fromEntries(examples().filter(([name]) => name.includes('.dish.'))), ...store.book };
  if (store.kitchen.name) all[store.kitchen.name] = store.kitchen.text;
  all[store.menu.name || 'menu.ron'] = store.menu.text;
  if (store.sheets['plan.json']) all['plan.json'] = store.sheets['plan.json'];
  if (store.log) all['day.log'] = store.log;
  return all;
}

export const menuName = () => store.menu.name || 'menu.ron';

// Whether the menu has been changed since it was planned.
export const changed = () => store.planned !== store.menu.text + store.kitchen.text;

// The examples in the page: texts by name.
export function examples() {
  return [...document.querySelectorAll('script[data-file]')].map((own) => [own.dataset.file, own.textContent.slice(1)]);
}

// Opens another evening. The one that was here goes on the shelf, with its plan and log: nothing typed is lost by it.
export function open(menu, kitchen) {
  const example = examples().some(([, text]) => text === store.menu.text);
  if (store.menu.text && (!example || store.log)) keep({ shelf: [evening(), ...store.shelf].slice(0, SHELF) });
  keep({ menu, kitchen, sheets: {}, planned: '', refused: '', log: '', before: [], ticks: [], waiting: [], rehearsal: null });
}

// The whole evening as one file, for another phone.
export function evening() {
  const { menu, kitchen, planned, log, ticks } = store;
  const { 'plan.json': plan, 'run-sheets.html': page } = store.sheets;
  const sheets = plan ? { 'plan.json': plan, ...(page && { 'run-sheets.html': page }) } : {};
  return JSON.stringify({ rangewright: 1, menu, kitchen, sheets, planned, log, ticks });
}

export function openEvening(text) {
  const told = JSON.parse(text);
  if (told.rangewright !== 1 || typeof told.menu?.text !== 'string') throw new Error('it is no evening of Rangewright');
  open(told.menu, told.kitchen);
  keep({ sheets: told.sheets ?? {}, planned: told.planned ?? '', log: told.log ?? '', ticks: told.ticks ?? [] });
}
