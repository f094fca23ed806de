// Plan: round after round of search, each longer; whatever was found last stays, and can be kept at any time.
import { button, field, h, hand, save, say, select } from './dom.js';
import { Stopped } from './engine.js';
import { mends } from './mend.js';
import { changed, evening, files, keep, menuName, store } from './store.js';

// Units of work of each round. The last is what `rangewright plan --work` takes for the same plan, byte for byte.
export const ROUNDS = [500, 5000, 50000];
const LONG = [...ROUNDS, 500000, 5000000];
const FORMATS = 'json,html,svg,text,markdown,ical,csv';
const TYPES = { html: 'text/html', svg: 'image/svg+xml', ics: 'text/calendar', csv: 'text/csv', json: 'application/json' };

let said = '';
let running = false;
// What would make a "no" a "yes", as data.
let remedies = [];

export function plan(room, search) {
  const progress = h('p', { role: 'status', 'aria-live': 'polite', class: 'progress' }, said);
  const stop = button('Stop and keep what there is', () => search.stop(), { hidden: !running });
  const result = h('div', { class: 'result' });
  const tell = (words) => {
    said = words;
    progress.textContent = words;
  };
  const show = () => result.replaceChildren(...shown(search, () => go(ROUNDS)));
  const go = async (rounds) => {
    running = true;
    stop.hidden = false;
    try {
      await rounds.reduce((before, work) => before.then((over) => over || round(work, search, tell, show)), Promise.resolve(false));
      if (rounds === LONG) tell(`${said} That was the longest search.`);
    } catch (error) {
      if (!(error instanceof Stopped)) throw error;
      tell(store.sheets['plan.json'] && !changed() ? 'Stopped: the plan below is the best so far.' : 'Stopped before there was a plan.');
    } finally {
      running = false;
      stop.hidden = true;
    }
  };
  room.replaceChildren(
    h('h1', {}, 'Plan'),
    store.reading ? '' : h('div', { class: 'bar' },
      button('Plan the evening', () => go(ROUNDS), { class: 'main', id: 'plan' }),
      button('Search for longer', () => go(LONG)),
      stop),
    progress,
    result,
  );
  show();
}

// One round; true if there is nothing more to look for.
async function round(work, search, tell, show) {
  tell(`${store.sheets['plan.json'] && !changed() ? 'There is a plan; looking for a better one or a proof' : 'Looking for a plan'} …`);
  const made = store.menu.text + store.kitchen.text;
  const answer = await search.run(
    ['plan', menuName(), '--work', String(work), '--format', FORMATS, '--out', 'made'],
    { ...files(), 'plan.json': '' },
  );
  const sheets = Object.fromEntries(Object.entries(answer.files)
    .filter(([name]) => name.startsWith('made/'))
    .map(([name, text]) => [name.slice(5), text]));
  if (answer.exit === 0 && sheets['plan.json']) {
    // Another plan is another evening: what was logged belongs to the plan before.
    keep({ sheets, refused: '', planned: made, log: '', before: [], ticks: [], waiting: [] });
    const best = JSON.parse(sheets['plan.json']).plan.status === 'optimal';
    tell(`Planned. ${proof(sheets['run-sheets.md'])}`);
    show();
    return best;
  }
  keep({ sheets: {}, planned: made, refused: (answer.out || answer.err).replace(/\u001b\[[\d;]*m/g, '') });
  const certain = answer.exit !== 3;
  remedies = [];
  if (answer.exit === 1) {
    const data = await search.run(['plan', menuName(), '--work', String(work), '--format', 'json'], files());
    remedies = JSON.parse(data.out).remedies;
  }
  tell({ 1: 'It cannot be done as it stands; below is why, and what would help.', 2: 'There are faults in the menu or the kitchen.', 3: 'No plan was found so far.' }[answer.exit] ?? 'The command failed.');
  show();
  return certain;
}

function shown(search, again) {
  const html = store.sheets['run-sheets.html'];
  if (!html) return refused(again);
  // Within this page the sheets are only looked at: no script of theirs runs here, and what is saved keeps its own.
  const still = html.replace(/<script>[\s\S]*?<\/script>/g, '');
  const frame = h('iframe', { title: 'The evening: chart, run sheets, racks, shopping, cautions', srcdoc: still, sandbox: 'allow-same-origin allow-modals allow-popups' });
  // As long as it is: the page scrolls, not a window in it.
  frame.addEventListener('load', () => {
    const fit = () => {
      frame.style.height = `${frame.contentDocument.documentElement.scrollHeight + 2}px`;
    };
    fit();
    new ResizeObserver(fit).observe(frame.contentDocument.body);
  });
  const names = Object.keys(store.sheets);
  return [
    changed() && h('p', { class: 'fault' }, 'The menu or the kitchen has been changed since this was planned.'),
    h('div', { class: 'bar' },
      button('Print', () => frame.contentWindow.print()),
      field('Save', select([['', 'Choose'], ...names.map((name) => [name, WORDS[name] ?? name]), ['evening', 'Everything, for another phone']], '', (name) => {
        if (name === 'evening') hand(`${store.menu.name.replace(/\.menu\.ron$/, '')}.evening.json`, evening(), TYPES.json);
        else if (name) save(name, store.sheets[name], TYPES[name.split('.').at(-1)]);
      }))),
    questions(search),
    frame,
  ].filter(Boolean);
}

// How good a plan is, in the words of its sheets.
function proof(sheet) {
  return sheet.split('## How good this plan is')[1]?.split('## ')[0].replace(/\s+/g, ' ').trim() ?? '';
}

// Why there is no plan, and what can be changed by a tap so that there is one.
function refused(again) {
  if (!store.refused) return [h('p', {}, 'There is no plan yet.')];
  const taps = store.reading ? [] : mends(remedies).map(({ place, text, words }) => button(`${words}, and plan again`, () => {
    keep({ [place]: { ...store[place], text }, refused: '' });
    say(`${words}: written into the ${place}.`);
    again();
  }, { class: 'mend' }));
  return [h('div', { class: 'bar' }, taps), h('pre', { class: 'answer', tabindex: '0' }, store.refused)];
}

const WORDS = {
  'plan.json': 'The plan, for the command', 'run-sheets.html': 'Run sheets, a page', 'chart.svg': 'The chart, a drawing',
  'run-sheets.txt': 'Run sheets, text', 'run-sheets.md': 'Run sheets, Markdown', 'jobs.ics': 'Jobs, for a calendar', 'steps.csv': 'Steps, a table',
};

// The questions that the command answers of a plan: what is asked, and what has to be chosen for it.
function questions(search) {
  const { titles = {}, plan: made } = JSON.parse(store.sheets['plan.json']);
  const steps = Object.keys(made.steps).map((id) => [id, titles[id] ?? id]);
  const dishes = [...new Set(steps.map(([id]) => id.split('/')[0]))].map((id) => [id, id.replaceAll('-', ' ')]);
  const answer = h('pre', { class: 'answer', tabindex: '0', 'aria-live': 'polite', hidden: true });
  const width = () => String(Math.max(40, Math.min(100, Math.floor(answer.parentElement.clientWidth / 10.4))));
  const ask = async (args) => {
    answer.hidden = false;
    answer.textContent = 'Thinking …';
    try {
      const told = await search.run([...args, '--work', '3000', '--width', width()], files());
      answer.textContent = told.out || told.err;
    } catch (error) {
      if (!(error instanceof Stopped)) throw error;
      answer.textContent = 'Stopped.';
    }
  };
  const menu = menuName();
  const step = select(steps, steps[0]?.[0]);
  const [one, other] = [select(dishes, dishes[0]?.[0]), select(dishes, (dishes[1] ?? dishes[0])?.[0])];
  return h('details', { class: 'part' }, h('summary', {}, 'Ask'),
    h('div', { class: 'bar' },
      button('How sure is it?', () => ask(['odds', menu, '--plan', 'plan.json'])),
      button('How soon can we eat?', () => ask(['soonest', menu])),
      button('What would help?', () => ask(['worth', menu]))),
    h('div', { class: 'bar' }, field('Step', step), button('Why so?', () => ask(['why', menu, step.value, '--plan', 'plan.json']))),
    h('div', { class: 'bar' }, field('Dish', one), field('and', other), button('Can they share an oven?', () => {
      if (one.value === other.value) say('Choose two dishes.');
      else ask(['share', menu, one.value, other.value]);
    })),
    button('Stop', () => search.stop()),
    answer);
}
