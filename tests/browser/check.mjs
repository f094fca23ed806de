// Opens pages in Chromium as people do: on a desk and on a phone, by day and by night, and on paper.
// Usage: node check.mjs CHROMIUM FOLDER PAGE...; screenshots and PDFs go into the folder.
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { faultsOfLayout, faultsOfPaper } from './layout.mjs';

const [, , executablePath, folder, ...pages] = process.argv;
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const args = [
  '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync',
];
// Paper in CSS pixels, and what its margins leave: 12 mm upright, 10 mm on its side.
const mm = (length) => (length * 96) / 25.4;
const PAPERS = { A4: [210, 297] };
// The most pages that each is to take; what is not named may take as many as it needs.
const MOST = { supper: 3, 'demo-cooks-overview': 8, 'demo-overview': 3, 'demo-shopping': 1 };
const counted = {};

let faults = 0;
const fail = (where, what) => {
  faults += 1;
  console.error(`${where}: ${what}`);
};

const browser = await chromium.launch({ executablePath, args });
for (const file of pages) {
  const name = basename(file, '.html');
  // Every kind of page at two widths; the demo and the banquet at all, in the dark, and in colours that the reader forces.
  const whole = /^(demo|banquet)$/.test(name);
  for (const width of whole ? [320, 360, 768, 1280, 1920] : [360, 1280]) {
    for (const look of whole && (width === 360 || width === 1280) ? ['light', 'dark', 'forced'] : ['light']) {
      const where = `${name}, ${width} px, ${look}`;
      const colorScheme = look === 'dark' ? 'dark' : 'light';
      const forcedColors = look === 'forced' ? 'active' : 'none';
      const context = await browser.newContext({ viewport: { width, height: 900 }, colorScheme, forcedColors });
      const page = await context.newPage();
      page.on('console', (message) => fail(where, `console: ${message.text()}`));
      page.on('pageerror', (error) => fail(where, `error: ${error.message}`));
      page.on('request', (request) => {
        if (!request.url().startsWith('file:')) fail(where, `asks for ${request.url()}`);
      });
      await page.goto(pathToFileURL(resolve(file)).href);
      for (const fault of await page.evaluate(faultsOfLayout)) fail(where, fault);
      await page.screenshot({ path: join(folder, `${name}-${width}-${look}.png`), fullPage: true });
      if (width !== 360 && width !== 1280) { await context.close(); continue; }
      await page.evaluate(axe);
      const result = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ['violations'] }));
      for (const { id, help, nodes } of result.violations) {
        fail(where, `axe: ${id}: ${help} (${nodes.length}, first ${nodes[0].html.slice(0, 120)})`);
      }
      if ((await page.locator('.jobs input').count()) === 0) { await context.close(); continue; }
      // A box can be ticked by its label and by the keyboard.
      const box = page.locator('.jobs input').first();
      await page.locator('.jobs label').first().click();
      if (!(await box.isChecked())) fail(where, 'a click does not tick');
      await box.focus();
      await page.keyboard.press('Space');
      if (await box.isChecked()) fail(where, 'the space bar does not tick');
      // A tick lasts.
      await page.keyboard.press('Space');
      await page.reload();
      if (!(await page.locator('.jobs input').first().isChecked())) fail(where, 'a tick is lost when the page is opened again');
      await context.close();
    }
  }
  for (const [format, [width, height]] of Object.entries(PAPERS)) {
    const where = `${name}, ${format}`;
    const content = { width: Math.floor(mm(width - 24)), height: Math.floor(mm(height - 28)) };
    const side = { width: mm(height - 20), height: mm(width - 24) };
    // Paper is white, whatever the reader prefers.
    const context = await browser.newContext({ viewport: content, colorScheme: 'dark' });
    const page = await context.newPage();
    await page.emulateMedia({ media: 'print' });
    await page.goto(pathToFileURL(resolve(file)).href);
    for (const fault of await page.evaluate(faultsOfPaper, { content, side })) fail(where, fault);
    const pdf = await page.pdf({ path: join(folder, `${name}-${format}.pdf`), format, preferCSSPageSize: true });
    const boxes = [...pdf.toString('latin1').matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)];
    const points = [width, height].map((side) => (side * 72) / 25.4);
    const near = (a, b) => Math.abs(a - b) < 2;
    const right = boxes.every(([, x, y]) =>
      (near(+x, points[0]) && near(+y, points[1])) || (near(+x, points[1]) && near(+y, points[0])));
    if (!right) fail(where, 'not all pages are of that paper');
    counted[name] = boxes.length;
    console.log(`${where}: ${boxes.length} pages`);
    await context.close();
  }
}
counted['demo-cooks-overview'] = counted['demo-cooks'] + counted['demo-overview'];
for (const [name, most] of Object.entries(MOST)) {
  if (counted[name] > most) fail(name, `${counted[name]} pages, not ${most} or fewer`);
}
await browser.close();
console.log(faults === 0 ? `${pages.length} pages are in order` : `${faults} faults`);
process.exit(faults === 0 ? 0 : 1);
