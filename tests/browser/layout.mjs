// What is looked for in a page as it is laid out. These functions run in the page and can use nothing from outside.

// Nothing is wider than the page, nothing is cut off, no text lies upon another.
export function faultsOfLayout() {
  const faults = [];
  const say = (what, element) => faults.push(`${what}: ${element.outerHTML.slice(0, 140)}`);
  const root = document.documentElement;
  if (root.scrollWidth > window.innerWidth) faults.push(`the page is ${root.scrollWidth} px wide`);
  const shown = (element) => element.checkVisibility();
  for (const element of document.body.querySelectorAll('*:not(svg, svg *)')) {
    if (!shown(element) || element.matches('.skip')) continue;
    if (element.scrollWidth > element.clientWidth + 1 && element.clientWidth > 0) say('its content is wider than it is', element);
    const box = element.getBoundingClientRect();
    if (box.width > 0 && (box.left < -0.5 || box.right > window.innerWidth + 0.5)) say('it leaves the page', element);
  }
  // Texts of the page, each line by itself.
  const boxes = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const parent = node.parentElement;
    if (!node.data.trim() || !shown(parent) || parent.closest('svg, .skip, title, style')) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) if (box.width > 0) boxes.push([box, parent]);
  }
  // Clock times are never broken.
  for (const time of document.querySelectorAll('time')) {
    if (shown(time) && time.getClientRects().length > 1) say('a clock time is broken', time);
  }
  // Texts of drawings stay within them.
  for (const svg of document.querySelectorAll('svg')) {
    if (!shown(svg) || svg.closest('.legend') || svg.matches('.patterns')) continue;
    const frame = svg.getBoundingClientRect();
    for (const text of svg.querySelectorAll('text')) {
      const box = text.getBoundingClientRect();
      boxes.push([box, text]);
      const size = parseFloat(getComputedStyle(text).fontSize) * (frame.width / svg.viewBox.baseVal.width);
      if (svg.matches('.chart') && size < 11) say(`its letters are ${size.toFixed(1)} px high`, text);
      const outside = box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 2 || box.bottom > frame.bottom + 3;
      if (outside) say('it is cut off', text);
    }
    // A label within a bar stays within it.
    for (const text of svg.querySelectorAll('text.inside, text.busy')) {
      let bar = text.previousElementSibling;
      if (bar?.matches('.plate')) bar = bar.previousElementSibling;
      if (!bar?.matches('.bar, .hands') || !svg.matches('.chart')) continue;
      const [inner, outer] = [text.getBoundingClientRect(), bar.getBoundingClientRect()];
      if (inner.left < outer.left - 1 || inner.right > outer.right + 1) say('it is wider than its bar', text);
    }
  }
  boxes.sort(([a], [b]) => a.top - b.top);
  boxes.forEach(([a, first], index) => {
    for (let next = index + 1; next < boxes.length && boxes[next][0].top < a.bottom; next += 1) {
      const [b, second] = boxes[next];
      const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      // Lines of text may touch: letters have air above and below.
      const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      const least = Math.min(a.height, b.height);
      if (wide > 1 && high > least / 3) say(`"${first.textContent.trim().slice(0, 40)}" lies upon`, second);
    }
  });
  return faults.slice(0, 20);
}

// Each part fits its paper, each cook has paper of their own, and nothing is printed in colour.
export function faultsOfPaper({ content, side }) {
  const faults = [];
  const say = (what, element) => faults.push(`${what}: ${element.outerHTML.slice(0, 140)}`);
  if (document.documentElement.scrollWidth > content.width) faults.push(`it is ${document.documentElement.scrollWidth} px wide`);
  // Each day of a cook has paper of its own, which says whose it is, but for an evening that is short.
  for (const sheet of document.querySelectorAll('.long .sheet, .poster')) {
    if (getComputedStyle(sheet).page === 'auto') say('it has no paper of its own', sheet);
  }
  // Times and titles for the wall: 16 minutes of arc at two metres are 2000 mm x tan(16').
  const least = ((2000 * Math.tan((16 / 60) * (Math.PI / 180))) * 96) / 25.4;
  for (const text of document.querySelectorAll('.poster .title, .poster time')) {
    const rule = text.appendChild(document.createElement('i'));
    rule.style.cssText = 'display: inline-block; width: 1ex; height: 1px';
    const high = rule.getBoundingClientRect().width;
    rule.remove();
    if (high < least - 0.05) say(`its small letters are ${high.toFixed(1)} px high, not ${least.toFixed(1)}`, text);
  }
  for (const part of document.querySelectorAll('.jobs > li, .card, .arrangement, tr')) {
    if (part.getBoundingClientRect().height > content.height) say('it is taller than a page', part);
    if (getComputedStyle(part).breakInside !== 'avoid') say('it may be torn', part);
  }
  for (const svg of document.querySelectorAll('.long .wide svg')) {
    const [, , width, height] = svg.getAttribute('viewBox').split(' ').map(Number);
    // Shrunk to fit paper on its side, below the day's heading; its letters are 13 units high and 7 points on paper or
    // more; 5 where over sixteen dishes share one sheet: that is small, and the lists beside it say the same.
    const shrunk = Math.min(1, side.width / width, (side.height - 40) / height);
    const points = height > 1200 ? 5 : 7;
    if (13 * shrunk < (points * 96) / 72) say('its letters are too small on paper', svg);
  }
  const grey = (colour) => {
    const [red, green, blue] = colour.match(/[\d.]+/g) ?? [0, 0, 0];
    return Math.max(red, green, blue) - Math.min(red, green, blue) <= 30;
  };
  for (const element of document.body.querySelectorAll('*')) {
    const { color, fill, stroke, borderLeftColor } = getComputedStyle(element);
    for (const colour of [color, fill, stroke, borderLeftColor]) {
      if (colour.startsWith('rgb') && !grey(colour)) say(`it is printed in ${colour}`, element);
    }
  }
  const [red] = getComputedStyle(document.querySelector('main')).color.match(/\d+/g);
  if (Number(red) > 60) faults.push('the ink is not dark');
  return faults.slice(0, 20);
}
