// The kitchen in one file, used in Chromium as cooks do. Usage: node one-file.mjs CHROMIUM FOLDER; the folder has the page,
// rangewright.html, and in native/NAME what the command made of each example.
import { mkdtempSync, readFileSync, readdirSync, readlinkSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const [, , executablePath, folder] = process.argv;
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const address = pathToFileURL(resolve(folder, 'rangewright.html')).href;
const args = [
  '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync',
];
const PATIENCE = 180000;
const FORMATS = 'json,html,svg,text,markdown,ical,csv';

let faults = 0;
const fail = (what) => {
  faults += 1;
  console.error(`FAULT: ${what}`);
};
const must = (fact, what) => {
  if (!fact) fail(what);
};

// A browser with a profile of its own, which is never on the network. Whatever the page complains of or asks for is a fault.
async function browse(profile, options = {}) {
  const context = await chromium.launchPersistentContext(profile, { executablePath, args, offline: true, viewport: { width: 1280, height: 900 }, ...options });
  const page = context.pages()[0] ?? (await context.newPage());
  page.setDefaultTimeout(PATIENCE);
  page.on('console', (message) => fail(`console: ${message.text()}`));
  page.on('pageerror', (error) => fail(`error: ${error.message}`));
  page.on('request', (request) => {
    if (!/^(file|blob|data):/.test(request.url())) fail(`it asks for ${request.url()}`);
  });
  await page.goto(address);
  await page.waitForSelector('main *');
  return { context, page };
}
const room = (page, name) => page.click(`nav a[href="#${name}"]`);
const planned = async (page) => {
  await page.waitForFunction(() => /^(Planned|It cannot|There are|No plan)/.test(document.querySelector('.progress').textContent));
  await page.waitForFunction(() => [...document.querySelectorAll('main button')].find((own) => own.textContent.startsWith('Stop and')).hidden);
};

// Everything of the examples is made byte for byte as the command makes it; only the stamp of a calendar says when.
async function same(page) {
  const stampless = (text) => text.replace(/DTSTAMP:.*/g, '');
  const native = (name, file) => readFileSync(join(folder, 'native', name, file), 'utf8');
  let count = 0;
  for (const name of readdirSync(join(folder, 'native'))) {
    const made = await page.evaluate(async ([name, formats]) => {
      const { Engine } = engine_js;
      const files = Object.fromEntries(store_js.examples());
      const args = ['plan', `${name}.menu.ron`, '--work', '20000', '--format', formats, '--out', 'made'];
      return new Engine().run(args, files);
    }, [name, FORMATS]);
    const own = Object.entries(made.files).filter(([path]) => path.startsWith('made/'));
    const theirs = readdirSync(join(folder, 'native', name)).filter((file) => file !== 'said');
    must(own.length === theirs.length, `${name}: ${own.length} files, the command made ${theirs.length}: ${made.err}`);
    if (!theirs.length) must(made.out === native(name, 'said'), `${name}: says something else than the command`);
    for (const [path, text] of own) {
      const file = path.slice('made/'.length);
      must(stampless(text) === stampless(native(name, file)), `${name}: ${file} is not the command's`);
    }
    count += own.length || 1;
  }
  console.log(`${count} files of the examples are the command's, byte for byte`);
}

// Open, take the example, add a dish, mend a fault by a tap, plan, print: each tap counted.
async function newCook(page) {
  let taps = 0;
  const tap = async (what) => {
    taps += 1;
    await what;
  };
  await tap(page.getByLabel('Begin with an example').selectOption('supper.menu.ron'));
  await page.waitForSelector('.sound');
  await tap(page.getByLabel('Add', { exact: true }).selectOption({ label: 'Savoy cabbage' }));
  await tap(page.getByRole('button', { name: 'Add the dish' }).click());
  await page.waitForSelector('#faults .fault');
  for (let mends = 0; mends < 4 && await page.locator('#faults li').count(); mends += 1) {
    const text = await page.locator('#text').inputValue();
    await tap(page.locator('#faults button', { hasText: 'Write "' }).first().click());
    await page.waitForFunction((old) => document.getElementById('text').value !== old, text);
    await page.waitForTimeout(1500);
  }
  await page.waitForSelector('.sound');
  await tap(room(page, 'plan'));
  await tap(page.click('#plan'));
  await planned(page);
  must(await page.frameLocator('iframe').getByText('Savoy cabbage').count() > 0, 'the new dish is not in the plan');
  await page.evaluate(() => {
    const frame = document.querySelector('iframe').contentWindow;
    frame.print = () => {
      globalThis.printed = true;
    };
  });
  await tap(page.getByRole('button', { name: 'Print' }).click());
  must(await page.evaluate(() => globalThis.printed), 'nothing is printed');
  must(taps <= 12, `a new cook needs ${taps} taps`);
  console.log(`a new cook needs ${taps} taps`);
}

// A "no" with a remedy that is made by a tap and planned again.
async function remedy(page) {
  await room(page, 'write');
  await page.getByLabel('Begin with an example').selectOption('one-oven.menu.ron');
  await page.waitForSelector('.sound');
  await room(page, 'plan');
  await page.click('#plan');
  await planned(page);
  await page.getByRole('button', { name: 'Have another oven, and plan again' }).click();
  await page.waitForSelector('iframe');
  await planned(page);
  const kitchen = await page.evaluate(() => store_js.store.kitchen.text);
  must(kitchen.includes('oven 2'), `the second oven is not in the kitchen: ${kitchen}`);
  console.log('a "no" is a "yes" by one tap');
}

// Another evening is opened: what was typed is on the shelf, and comes back.
async function shelf(page) {
  await room(page, 'write');
  await page.locator('#text').fill((await page.locator('#text').inputValue()).replace('guests: 4', 'guests: 5'));
  const typed = await page.locator('#text').inputValue();
  await page.getByLabel('Begin with an example').selectOption('lantern.menu.ron');
  await page.waitForFunction((old) => document.getElementById('text').value !== old, typed);
  await page.getByLabel('Begin with an example').selectOption('0');
  await page.waitForFunction((old) => document.getElementById('text').value === old, typed);
  await page.reload();
  await page.waitForFunction((old) => document.getElementById('text')?.value === old, typed);
  console.log('what was typed comes back');
}

// An evening from the first job to the last serving with six events; the browser is killed in the middle of it.
async function evening(profile) {
  let { context, page } = await browse(profile);
  await page.getByLabel('Begin with an example').selectOption('supper.menu.ron');
  await page.waitForSelector('.sound');
  await room(page, 'plan');
  await page.click('#plan');
  await planned(page);
  await room(page, 'cook');
  await page.getByRole('button', { name: 'Rehearse' }).click();
  await page.getByLabel('How fast').selectOption('10');
  await page.getByRole('button', { name: 'Begin before the first job' }).click();
  const kept = () => page.evaluate(() => structuredClone(store_js.store));
  const settled = () => page.waitForFunction(() => store_js.store.waiting.length === 0);
  const happened = async (event, fill) => {
    const before = (await kept()).log.split('\n').length;
    await page.getByRole('button', { name: 'Something happened' }).click();
    await page.locator(`dialog [data-event="${event}"]`).click();
    await fill(page.locator('dialog'));
    await page.getByRole('button', { name: 'Log it' }).click();
    await page.waitForFunction((lines) => store_js.store.log.split('\n').length > lines, before);
    await page.waitForSelector('.changes');
    const follow = page.getByRole('button', { name: 'Follow the new plan' });
    if (await follow.count()) await follow.click();
    else await page.locator('.changes').getByRole('button', { name: 'Close' }).click();
    await page.waitForSelector('.changes', { state: 'detached' });
  };
  const pad = (box, digits) => digits.split('').reduce((before, digit) => before.then(() => box.locator('.pad').last().getByRole('button', { name: digit, exact: true }).click()), Promise.resolve());
  const choose = (box, index, label) => box.locator('select').nth(index).selectOption(label);
  const events = [
    ['oven-reads', async (box) => pad(box, '178')],
    ['needs', async (box) => {
      await choose(box, 0, { value: 'baked-celeriac/roast' });
      await pad(box, '75');
    }],
    ['guests-late', async (box) => pad(box, '10')],
    ['probe', async (box) => {
      await choose(box, 0, { value: 'baked-celeriac/roast' });
      await pad(box, '61');
    }],
    ['broken', async (box) => {
      await choose(box, 0, { value: 'burner' });
      await box.locator('input').last().fill('1');
    }],
    ['dropped', async (box) => choose(box, 0, { value: 'lentils-with-leeks' })],
  ];
  let reported = 0;
  for (let round = 0; round < 60; round += 1) {
    await page.waitForSelector('.jobs.now');
    // Begun once in a while, then done.
    const job = page.locator('.jobs.now li').first();
    if (await job.count()) {
      const serving = await job.evaluate((own) => own.classList.contains('serve'));
      const begin = job.getByRole('button', { name: 'Begin' });
      if (round % 3 === 0 && await begin.count()) await begin.click();
      else await job.getByRole('button', { name: 'Done' }).click();
      await settled();
      await page.waitForTimeout(400);
      if (serving) break;
      continue;
    }
    const roasting = (await kept()).log.includes('baked-celeriac/roast');
    if (roasting && reported < events.length) {
      await happened(...events[reported]);
      reported += 1;
      if (reported === 3) {
        // A flat battery, a moment after the last tap.
        const before = await kept();
        await page.screenshot({ path: join(folder, 'cook-1280.png'), fullPage: true });
        await page.evaluate(() => store_js.onDisk());
        await killed(context, profile);
        ({ context, page } = await browse(profile));
        const after = await kept();
        for (const name of ['log', 'menu', 'kitchen', 'ticks', 'sheets']) {
          must(JSON.stringify(before[name]) === JSON.stringify(after[name]), `reopened, ${name} is another`);
        }
        await room(page, 'cook');
      }
      continue;
    }
    await page.getByRole('button', { name: 'On to the next job' }).click();
    await page.waitForTimeout(700);
  }
  const { log } = await kept();
  must(reported === events.length, `${reported} events were reported`);
  must(/"event":\s*"served"/.test(log), `nothing is served: ${log}`);
  console.log(`an evening: ${log.trim().split('\n').length} entries in the log, ${reported} events`);
  await context.close();
}

// Ends the browser as a flat battery does.
async function killed(context, profile) {
  // The lock names the host and the process.
  const process_id = Number(readlinkSync(join(profile, 'SingletonLock')).split('-').at(-1));
  process.kill(process_id, 'SIGKILL');
  await context.close().catch(() => {});
  rmSync(join(profile, 'SingletonLock'), { force: true });
}

// Nothing of the page is out of reach of an eye, a finger or a keyboard.
async function reach(page, where) {
  const small = await page.evaluate(() => [...document.querySelectorAll('button, a, select, summary, input, textarea')]
    .filter((own) => own.checkVisibility() && !own.matches('.skip'))
    .map((own) => [own.closest('label') ?? own, own])
    .filter(([box]) => {
      const { width, height } = box.getBoundingClientRect();
      return width < 43.5 || height < 43.5;
    })
    .map(([, own]) => own.outerHTML.slice(0, 100)));
  for (const own of small.slice(0, 5)) fail(`${where}: less than 44 px: ${own}`);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  must(wide <= 0, `${where}: ${wide} px wider than the screen`);
  await page.evaluate(axe);
  const result = await page.evaluate(() => globalThis.axe.run({ exclude: [['iframe']] }, { resultTypes: ['violations'] }));
  for (const { id, help, nodes } of result.violations) fail(`${where}: axe: ${id}: ${help} (${nodes.length}, first ${nodes[0].html.slice(0, 120)})`);
}

async function looks(profile) {
  for (const [width, height] of [[320, 640], [1280, 900], [1920, 1080]]) {
    for (const colorScheme of ['light', 'dark']) {
      const { context, page } = await browse(profile, { viewport: { width, height }, colorScheme });
      for (const name of ['write', 'plan', 'cook']) {
        await room(page, name);
        await page.waitForSelector({ write: '#faults *', plan: 'iframe', cook: '.jobs' }[name]);
        if (name === 'write') await page.locator('.part summary').first().click();
        await page.screenshot({ path: join(folder, `${name}-${width}-${colorScheme}.png`), fullPage: name !== 'plan' });
        await reach(page, `${name}, ${width} px, ${colorScheme}`);
      }
      await page.getByRole('button', { name: 'Something happened' }).click();
      await page.locator('dialog [data-event="probe"]').click();
      await page.screenshot({ path: join(folder, `probe-${width}-${colorScheme}.png`) });
      await reach(page, `probe, ${width} px, ${colorScheme}`);
      await context.close();
    }
  }
}

// From the top of the page to a plan with nothing but keys.
async function keys(page) {
  await page.goto(address);
  await page.reload();
  const to = async (test, key = 'Tab') => {
    for (let steps = 0; steps < 200; steps += 1) {
      await page.keyboard.press(key);
      if (await page.evaluate(test)) return true;
    }
    return false;
  };
  must(await to("document.activeElement.getAttribute('href') === '#plan'"), 'Plan is not reached by the keyboard');
  await page.keyboard.press('Enter');
  await page.waitForSelector('#plan');
  must(await to("document.activeElement.id === 'plan'"), 'the button that plans is not reached by the keyboard');
  await page.keyboard.press('Enter');
  await planned(page);
  await page.keyboard.press('Shift+Tab');
  console.log('planned with nothing but keys');
}

const profiles = [1, 2].map(() => mkdtempSync(join(tmpdir(), 'rangewright-')));
{
  const { context, page } = await browse(profiles[0]);
  const paint = await page.evaluate(() => Math.round(performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN));
  console.log(`first paint after ${paint} ms`);
  await same(page);
  await newCook(page);
  await shelf(page);
  await remedy(page);
  await keys(page);
  await context.close();
}
await evening(profiles[1]);
await looks(profiles[1]);
profiles.forEach((profile) => rmSync(profile, { recursive: true, force: true }));
console.log(faults === 0 ? 'the kitchen in one file is in order' : `${faults} faults`);
process.exit(faults === 0 ? 0 : 1);
