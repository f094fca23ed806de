// Where the parts of a menu or kitchen stand in its text: just enough of RON for forms to change a text in place. What is
// right or wrong with it is not known here; the command says that.

// A node: { start, end, sort: 'record' | 'list' | 'map' | 'text' | 'word', name?, items? }. Items of records and maps are
// { key?, start, value }.
export function outline(text) {
  let at = 0;
  const gap = () => {
    for (;;) {
      const some = /^(?:\s+|\/\/[^\n]*|\/\*[\s\S]*?\*\/)/.exec(text.slice(at));
      if (!some) return;
      at += some[0].length;
    }
  };
  const word = () => {
    const found = /^[^\s,:()[\]{}"]+/.exec(text.slice(at));
    if (!found) throw new SyntaxError(`nothing to read at ${at}`);
    at += found[0].length;
    return found[0];
  };
  const items = (closing, keyed) => {
    const all = [];
    at += 1;
    for (;;) {
      gap();
      if (text[at] === closing) {
        at += 1;
        return all;
      }
      if (at >= text.length) throw new SyntaxError('it ends too soon');
      const start = at;
      let value = node();
      let key;
      gap();
      if (keyed && text[at] === ':') {
        at += 1;
        key = text.slice(value.start, value.end);
        value = node();
        gap();
      }
      all.push({ key, start, value });
      if (text[at] === ',') at += 1;
    }
  };
  const node = () => {
    gap();
    const start = at;
    const done = (rest) => ({ start, end: at, ...rest });
    if (text[at] === '"') {
      const found = /^"(?:[^"\\]|\\[\s\S])*"/.exec(text.slice(at));
      if (!found) throw new SyntaxError('a text does not end');
      at += found[0].length;
      return done({ sort: 'text' });
    }
    if (text[at] === '[') return done({ sort: 'list', items: items(']', false) });
    if (text[at] === '{') return done({ sort: 'map', items: items('}', true) });
    const name = text[at] === '(' ? '' : word();
    gap();
    if (text[at] !== '(') {
      at = start + name.length;
      return done({ sort: 'word' });
    }
    return done({ sort: 'record', name, items: items(')', true) });
  };
  try {
    return node();
  } catch (error) {
    if (error instanceof SyntaxError) return undefined;
    throw error;
  }
}

// Fields that may stand without names, in their order.
const ORDER = {
  Menu: [], Kitchen: [], Dish: ['name', 'steps'], Oven: ['name', 'inside'], Burners: ['name', 'count'],
  Top: ['name', 'size'], Pan: ['name', 'size', 'count'], Course: ['name', 'serve'], Cook: ['name', 'shifts'], Joint: ['do'],
};

// The fields of a record by name.
export function fields(record) {
  const order = ORDER[record.name] ?? ['do', 'takes'];
  return record.items.map((item, index) => ({ name: item.key ?? order[index] ?? `${index + 1}`, ...item }));
}

export const fieldOf = (record, name) => fields(record).find((own) => own.name === name);

// What a value says, without its quotation marks.
export function said(text, value) {
  const raw = text.slice(value.start, value.end);
  return value.sort === 'text' ? raw.slice(1, -1).replace(/\\(["\\])/g, '$1') : raw;
}

export const quoted = (words) => `"${words.replace(/(["\\])/g, '\\$1')}"`;

// The text with a stretch of it replaced.
export const replaced = (text, start, end, by) => text.slice(0, start) + by + text.slice(end);

// The text without an item of a list, and without its comma and line.
export function without(text, item) {
  const tail = /^\s*,?[^\S\n]*(?:\n(?=\s))?/.exec(text.slice(item.value.end))[0];
  const head = /[^\S\n]*$/.exec(text.slice(0, item.start))[0];
  return text.slice(0, item.start - (tail.includes('\n') ? head.length : 0)) + text.slice(item.value.end + tail.length);
}

// The text with one more item at the end of a list.
export function extended(text, list, item) {
  const before = text.slice(list.start + 1, list.end - 1);
  const last = list.items.at(-1);
  const indent = last ? /[^\S\n]*$/.exec(text.slice(0, last.start))[0] : '        ';
  if (!last) return replaced(text, list.start + 1, list.end - 1, `\n${indent}${item},\n    `);
  const comma = /^\s*,/.exec(text.slice(last.value.end)) ? '' : ',';
  const end = last.value.end + (comma ? 0 : /^\s*,/.exec(text.slice(last.value.end))[0].length);
  const line = before.includes('\n') ? `\n${indent}` : ' ';
  return replaced(text, end, end, `${comma}${line}${item},`);
}

// The text with two items of a list in each other's place.
export function swapped(text, first, second) {
  const [a, b] = [text.slice(first.start, first.value.end), text.slice(second.start, second.value.end)];
  const between = text.slice(first.value.end, second.start);
  return text.slice(0, first.start) + b + between + a + text.slice(second.value.end);
}
