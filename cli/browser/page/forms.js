// Forms for a menu or a kitchen: each field changes its stretch of the text, and nothing else.
import { button, field, h, say, select } from './dom.js';
import { extended, fieldOf, fields, outline, quoted, replaced, said, swapped, without } from './ron.js';
import { examples, store } from './store.js';

const SAID = {
  menu: {
    parts: 'dishes', one: 'dish', inner: 'steps', item: 'step',
    fresh: 'Dish("New dish", [\n            Prep("Prepare it", "10 min"),\n        ])', freshInner: 'Prep("Prepare it", "10 min")',
    extra: 'courses', extraFresh: 'Course(name: "main", serve: "19:00")',
  },
  kitchen: {
    parts: 'places', one: 'appliance', fresh: 'Oven(name: "oven", inside: "44 x 38 x 32 cm")',
    extra: 'cooks', extraFresh: 'Cook(name: "Cook", shifts: ["12:00 to 21:00"])',
  },
};
const LABELS = {
  do: 'What is done', takes: 'How long', at: 'How hot', name: 'Name', pan: 'Pan', serve: 'At the table', inside: 'Inside, width x depth x height',
  guests: 'Guests', date: 'Date', zone: 'Time zone', kitchen: 'Kitchen file', course: 'Course', look: 'Look for', count: 'How many', range: 'Temperatures',
};
const label = (name) => LABELS[name] ?? name.charAt(0).toUpperCase() + name.slice(1).replaceAll('_', ' ');

// The words of the language page: the kinds of step, and the fields of a step with what they mean.
const language = () => document.getElementById('language')?.textContent ?? '';
const kinds = () => [...language().matchAll(/^\| `([A-Z][A-Za-z]+)` \| [^|`]+ \| [^|]+ \| [^|]+ \|$/gm)].map(([, kind]) => kind);

export function forms(place, text, change) {
  const root = outline(text);
  if (!root || root.sort !== 'record') return [h('p', {}, 'The text cannot be read as it stands; the forms come back when it can.')];
  const words = SAID[place];
  const list = fieldOf(root, words.parts)?.value;
  const extra = fieldOf(root, words.extra)?.value;
  const form = new Form(text, change);
  const simple = fields(root).filter((own) => ['text', 'word'].includes(own.value.sort));
  const adding = store.reading ? [] : [form.adding(list, words, place)];
  return [
    h('h2', {}, place === 'menu' ? 'The evening' : 'The kitchen'),
    h('div', { class: 'grid' }, simple.map((own) => form.control(own, root.name))),
    extra?.sort === 'list' && h('h2', {}, label(words.extra)),
    extra?.sort === 'list' && extra.items.map((item, index) => form.record(extra, item, index, words.extra, undefined)),
    h('h2', {}, label(words.parts)),
    list?.sort === 'list' && list.items.map((item, index) => form.record(list, item, index, words.parts, words)),
    ...adding,
  ].flat().filter(Boolean);
}

class Form {
  constructor(text, change) {
    this.text = text;
    this.change = change;
  }

  // A field of a record; what is no single value is written as in the text.
  control(own, path) {
    const { value } = own;
    const key = `${path}/${own.name}`;
    const input = h('input', { type: 'text', value: said(this.text, value), 'data-key': key, readonly: store.reading, autocomplete: 'off' });
    input.addEventListener('change', () => {
      const words = value.sort === 'text' ? quoted(input.value) : input.value;
      this.change(replaced(this.text, value.start, value.end, words));
    });
    if (own.name === 'takes' || own.name === 'at') input.classList.add('short');
    return field(label(own.name), input);
  }

  // An item of a list: a dish with its steps, an appliance, a course, a cook.
  record(list, item, index, path, words) {
    const { value } = item;
    const key = `${path}/${index}`;
    if (value.sort !== 'record') return h('p', {}, h('code', {}, this.text.slice(value.start, value.end)));
    const own = fields(value);
    const name = own.find((one) => one.name === 'name' || one.name === 'do');
    const title = name ? said(this.text, name.value) : value.name;
    const inner = words?.inner && own.find((one) => one.name === words.inner)?.value;
    const box = h('details', { class: 'part', 'data-part': key }, h('summary', { 'data-key': `${key}/open` }, `${title}`, h('small', {}, value.name)));
    box.open = opened.has(key);
    box.addEventListener('toggle', () => (box.open ? opened.add(key) : opened.delete(key)));
    const plain = own.filter((one) => one.value !== inner);
    box.append(
      h('div', { class: 'grid' }, words?.inner ? undefined : this.kind(value, key), plain.map((one) => this.control(one, key))),
      value.name === 'Oven' ? oven(this.text, own) : '',
      ...(inner?.sort === 'list' ? this.steps(inner, key, words) : []),
      store.reading ? '' : h('div', { class: 'bar' }, ...this.moving(list, index, key, title)),
    );
    return box;
  }

  steps(list, key, words) {
    return [
      h('ol', { class: 'steps' }, list.items.map((item, index) => h('li', {}, this.step(list, item, index, `${key}/${index}`)))),
      store.reading ? '' : button(`Add a ${words.item}`, () => this.change(extended(this.text, list, words.freshInner)), { 'data-key': `${key}/add` }),
    ];
  }

  step(list, item, index, key) {
    const { value } = item;
    if (value.sort !== 'record') return h('code', {}, this.text.slice(value.start, value.end));
    const own = fields(value);
    const name = own.find((one) => one.name === 'do');
    return [
      h('div', { class: 'grid' }, this.kind(value, key), own.map((one) => this.control(one, key))),
      store.reading ? '' : h('div', { class: 'bar' }, ...this.moving(list, index, key, name ? said(this.text, name.value) : value.name)),
    ];
  }

  kind(value, key) {
    const known = kinds();
    if (!known.includes(value.name)) return undefined;
    const list = select(known.map((kind) => [kind, kind]), value.name, (kind) =>
      this.change(replaced(this.text, value.start, value.start + value.name.length, kind)));
    list.dataset.key = `${key}/kind`;
    list.disabled = store.reading;
    return field('Kind', list);
  }

  moving(list, index, key, title) {
    const { items } = list;
    const { value } = items[index];
    const known = new Set(fields(value).map((own) => own.name));
    const more = stepFields().filter((name) => !known.has(name));
    const add = value.name && kinds().includes(value.name)
      ? [field('Say more', select([['', 'Choose'], ...more.map((name) => [name, label(name)])], '', (name) => {
        if (name) this.change(replaced(this.text, value.end - 1, value.end - 1, `${value.items.length ? ', ' : ''}${name}: ""`).replace(/,\s*, /, ', '));
      }))]
      : [];
    return [
      index > 0 && button('Up', () => this.change(swapped(this.text, items[index - 1], items[index])), { 'data-key': `${key}/up`, 'aria-label': `${title}: up` }),
      index + 1 < items.length && button('Down', () => this.change(swapped(this.text, items[index], items[index + 1])), { 'data-key': `${key}/down`, 'aria-label': `${title}: down` }),
      button('Take out', () => {
        this.change(without(this.text, items[index]));
        say(`${title} is taken out.`);
      }, { 'aria-label': `${title}: take out` }),
      ...add,
    ].filter(Boolean);
  }

  // A new part: an empty one, or one of those in the examples.
  adding(list, words, place) {
    if (list?.sort !== 'list') return '';
    const book = place === 'menu' ? dishBook() : [];
    const choose = select([['', `A new ${words.one}`], ...book.map(([name], index) => [String(index), name])], '');
    return h('div', { class: 'bar' }, field('Add', choose), button(`Add the ${words.one}`, () => {
      const text = choose.value === '' ? words.fresh : book[Number(choose.value)][1];
      opened.add(`${words.parts}/${list.items.length}`);
      this.change(extended(this.text, list, text));
      say(`The ${words.one} stands at the end of the list.`);
    }, { 'data-key': 'add' }));
  }
}

// Which parts are folded out.
const opened = new Set();

const stepFields = () => [...language().split('## Steps')[1]?.matchAll(/^\| (`[a-z]+`(?:, `[a-z]+`)*) \|/gm) ?? []]
  .flatMap(([, names]) => names.replaceAll('`', '').split(', '));

// Every dish of every example, by its name.
function dishBook() {
  const all = new Map();
  for (const [, text] of examples()) {
    const root = outline(text);
    const dishes = root && fieldOf(root, 'dishes')?.value.items;
    for (const { value } of dishes ?? []) {
      const name = fieldOf(value, 'name');
      if (name) all.set(said(text, name.value), text.slice(value.start, value.end));
    }
  }
  return [...all].sort(([a], [b]) => a.localeCompare(b));
}

// The inside of an oven from the front, to scale, with its racks as far as they are said.
function oven(text, own) {
  const inside = own.find((one) => one.name === 'inside');
  const sides = inside && /([\d.]+)\s*x\s*([\d.]+)\s*x\s*([\d.]+)/.exec(said(text, inside.value));
  if (!sides) return '';
  const [width, height] = [Number(sides[1]) * 4, Number(sides[3]) * 4];
  const racks = own.find((one) => one.name === 'racks');
  const count = racks ? Math.min(12, Number(said(text, racks.value)) || 0) : 0;
  const line = (index) => `<path d="M2 ${(height * (index + 1)) / (count + 1)}H${width - 2}"/>`;
  const box = h('div', { class: 'oven' });
  box.innerHTML = `<svg viewBox="-2 -2 ${width + 4} ${height + 4}" width="${Math.min(width, 240)}" role="img" aria-label="The oven from the front, ${count || 'as many racks as fit'}${count ? ' racks' : ''}"><rect width="${width}" height="${height}" rx="6"/>${Array.from({ length: count }, (_, index) => line(index)).join('')}</svg>`;
  return box;
}
