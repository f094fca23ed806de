// Changes that make a "no" a "yes", as the command found and tried them, made in the text of the menu or kitchen. Only those
// that are one clear stretch of text; the others are said in words.
import { extended, fieldOf, outline, quoted, replaced, said, without } from './ron.js';
import { store } from './store.js';

// What the command calls a name: small letters, and dashes for everything between them.
const id = (name) => name.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '');

// A record of a list by its id, with the text it stands in.
function find(place, list, name) {
  const { text } = store[place];
  const root = outline(text);
  const all = root?.sort === 'record' ? fieldOf(root, list)?.value : undefined;
  const item = all?.items?.find(({ value }) => value.sort === 'record' && id(said(text, fieldOf(value, 'name')?.value ?? value)) === name);
  return item && { place, text, all, item, title: said(text, fieldOf(item.value, 'name').value) };
}

// A number in a field of it, raised; only where the field is written out.
function raised(found, name, by, words) {
  const own = found && fieldOf(found.item.value, name)?.value;
  const number = own && /^(\d+)( min)?$/.exec(said(found.text, own));
  if (!number) return undefined;
  const now = `${Number(number[1]) + by}${number[2] ?? ''}`;
  return { place: found.place, words: words(found.title), text: replaced(found.text, own.start, own.end, own.sort === 'text' ? quoted(now) : now) };
}

const MENDS = {
  'drop-dish'({ dish }) {
    const found = find('menu', 'dishes', dish);
    return found && { place: 'menu', words: `Leave ${found.title} off`, text: without(found.text, found.item) };
  },
  second({ place }) {
    const found = find('kitchen', 'places', place);
    if (!found) return undefined;
    const { start, end } = found.item.value;
    const name = fieldOf(found.item.value, 'name').value;
    const copy = replaced(found.text.slice(start, end), name.start - start, name.end - start, quoted(`${found.title} 2`));
    return { place: 'kitchen', words: `Have another ${found.title}`, text: extended(found.text, found.all, copy) };
  },
  'more-burners': ({ place, count }) => raised(find('kitchen', 'places', place), 'count', count, (name) => `${count} more: ${name}`),
  'more-racks': ({ place, count }) => raised(find('kitchen', 'places', place), 'racks', count, (name) => `${count} more racks: ${name}`),
  'spread-out': ({ course, minutes }) => raised(find('menu', 'courses', course), 'together', minutes, (name) => `Let ${name} come ${minutes} min further apart`),
  'serve-later': ({ course, minutes }) => raised(find('menu', 'courses', course), 'slip', minutes, (name) => `Serve ${name} up to ${minutes} min later`),
};

// The changes of an answer that can be made by a tap: { place, text, words }.
export function mends(remedies) {
  return (remedies ?? []).filter((changes) => changes.length === 1)
    .map(([change]) => Object.entries(change)[0] ?? [])
    .map(([name, about]) => MENDS[name]?.(about))
    .filter(Boolean);
}
