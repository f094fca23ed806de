// Elements in one line each, and words to everybody.

export function h(tag, properties = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(properties)) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else if (name === 'value') element.value = value;
    else element.setAttribute(name, value === true ? '' : value);
  }
  element.append(...children.flat(3).filter((child) => child !== undefined && child !== null && child !== false));
  return element;
}

export function button(text, onclick, properties = {}) {
  return h('button', { type: 'button', onclick, ...properties }, text);
}

let labels = 0;

// A label above its field.
export function field(text, control, more) {
  labels += 1;
  control.id ||= `field-${labels}`;
  return h('div', { class: 'field' }, h('label', { for: control.id }, text), control, more);
}

export function select(options, chosen, onchange) {
  const list = h('select', { onchange: ({ target }) => onchange?.(target.value) });
  for (const [value, text] of options) list.append(h('option', { value, selected: value === chosen }, text));
  return list;
}

// Said aloud by screen readers, and shown at the foot of the page for a while.
let quiet;
export function say(text) {
  const news = document.getElementById('news');
  news.textContent = text;
  clearTimeout(quiet);
  quiet = setTimeout(() => {
    news.textContent = '';
  }, 8000);
}

// Gives a text to the browser as a file to keep.
export function save(name, text, type = 'text/plain') {
  const address = URL.createObjectURL(new Blob([text], { type }));
  h('a', { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

// Hands a file over the way the device does that, or else saves it.
export async function hand(name, text, type) {
  const files = [new File([text], name, { type })];
  try {
    if (navigator.canShare?.({ files })) return await navigator.share({ files });
  } catch (error) {
    if (error.name === 'AbortError') return undefined;
  }
  return save(name, text, type);
}

// A dialogue about one thing; Escape and "Leave it" close it.
export function dialogue(title, ...content) {
  const box = document.getElementById('ask');
  const close = () => box.close();
  box.replaceChildren(h('h2', { id: 'ask-head' }, title), ...content, button('Leave it', close, { class: 'plain' }));
  box.showModal();
  return close;
}
