// Cook: now, next and later; begun and done by one tap. What is what is said by the command's `pass`; every tap is an entry
// of its `log`.
import { now, rehearse } from './clock.js';
import { button, dialogue, field, h, hand, save, say, select } from './dom.js';
import { report } from './events.js';
import { chime, stayAwake } from './senses.js';
import { evening, files, keep, menuName, onDisk, store } from './store.js';

const HEADS = { now: 'Now', next: 'Next', later: 'Later', done: 'Done' };
const REPLAN_WORK = '20000';

export class Cook {
  constructor(room, quick) {
    Object.assign(this, { room, quick, pass: undefined, asking: undefined, due: new Set(), news: '' });
    this.lists = h('div', { class: 'lists' });
  }

  start() {
    if (!store.sheets['plan.json']) {
      this.room.replaceChildren(h('h1', {}, 'Cook'), h('p', {}, 'There is no plan yet: write a menu and plan it.'));
      return;
    }
    stayAwake(true);
    this.clock = h('p', { class: 'clock' });
    this.bar = h('div', { class: 'bar' });
    this.room.replaceChildren(h('h1', { class: 'quiet' }, 'Cook'), h('div', { class: 'top' }, this.clock, this.bar), this.lists, this.foot());
    this.flush().then(() => this.ask());
    this.tick();
    this.beat = setInterval(() => this.tick(), 1000);
  }

  stop() {
    clearInterval(this.beat);
    stayAwake(false);
  }

  // Once a second: the clock, countdowns, and once a minute the command.
  tick() {
    this.clock.textContent = new Date(now()).toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit', timeZone: this.zone });
    for (const own of this.lists.querySelectorAll('[data-until]')) own.textContent = this.left(Number(own.dataset.until));
    if (this.pass && Math.floor(this.minute()) !== this.pass.now) this.ask();
  }

  // Minutes of the plan since its first midnight.
  minute(moment = now()) {
    return (moment - this.zero) / 60000;
  }

  left(until) {
    const seconds = Math.round((until - this.minute()) * 60);
    const [sign, size] = [seconds < 0 ? 'over by ' : '', Math.abs(seconds)];
    if (size >= 3600) return `${sign}${Math.floor(size / 3600)} h ${String(Math.floor((size % 3600) / 60)).padStart(2, '0')}`;
    return `${sign}${Math.floor(size / 60)}:${String(size % 60).padStart(2, '0')}`;
  }

  // Asks the command where the evening stands; one question at a time, the last answer counts.
  async ask() {
    if (this.asking) {
      this.again = true;
      return this.asking;
    }
    this.asking = (async () => {
      do {
        this.again = false;
        const args = ['pass', menuName(), '--plan', 'plan.json', '--format', 'json', ...(store.log ? ['--log', 'day.log'] : [])];
        const answer = await this.quick.run(args, files(), now());
        if (answer.exit === 0) this.take(JSON.parse(answer.out));
        else this.lists.replaceChildren(h('pre', { class: 'answer' }, answer.err));
      } while (this.again);
    })().finally(() => {
      this.asking = undefined;
    });
    return this.asking;
  }

  take(pass) {
    this.pass = pass;
    const [zero, zone] = (pass.day_zero ?? '').split('[');
    this.zero = Date.parse(zero);
    this.zone = zone?.slice(0, -1);
    const own = (job) => !store.cook || job.cooks.some((cook) => pass.cooks[cook] === store.cook);
    const jobs = pass.jobs.map((job) => (job.done || job.ticked || !store.ticks.includes(key(job)) ? job : { ...job, when: 'done', ticked: true })).filter(own);
    const focus = document.activeElement?.dataset?.key;
    const open = new Set([...this.lists.querySelectorAll('details[open]')].map((box) => box.dataset.when));
    this.lists.replaceChildren(
      ...(pass.look_out.length ? [h('section', { class: 'look-out', role: 'alert' }, pass.look_out.map((words) => h('p', {}, words)))] : []),
      ...(this.news ? [this.changes()] : []),
      this.otherDay(pass),
      ...['now', 'next'].map((when) => this.list(when, jobs.filter((job) => job.when === when))),
      this.running(pass),
      ...['later', 'done'].map((when) => h('details', { 'data-when': when, open: open.has(when) }, h('summary', {}, `${HEADS[when]} (${jobs.filter((job) => job.when === when).length})`), this.list(when, jobs.filter((job) => job.when === when), true))),
    );
    this.bar.replaceChildren(...this.tools(pass));
    if (focus) this.room.querySelector(`[data-key="${CSS.escape(focus)}"]`)?.focus();
    this.call(jobs);
  }

  // A plan for another day is no plan for now; a rehearsal has its own day.
  otherDay({ now: minute, jobs }) {
    const far = jobs.length && (minute < jobs[0].at - 18 * 60 || minute > jobs.at(-1).until + 6 * 60);
    if (!far) return '';
    const day = new Date(this.zero + jobs.at(-1).at * 60000).toLocaleDateString('en-GB', { dateStyle: 'full', timeZone: this.zone });
    return h('p', { class: 'look-out' }, `This plan is for ${day}. To try it now, rehearse it; to cook it on another day, change the date and plan again.`);
  }

  // A chime and a word for every job whose turn has come since the last time.
  call(jobs) {
    const due = new Set(jobs.filter((job) => job.when === 'now' && !job.begun).map(key));
    const fresh = jobs.filter((job) => due.has(key(job)) && !this.due.has(key(job)));
    if (fresh.length && this.called) {
      chime();
      say(`Now: ${fresh.map((job) => job.head).join('. ')}`);
    }
    [this.due, this.called] = [due, true];
  }

  list(when, jobs, bare = false) {
    const empty = { now: 'Nothing to do now.', next: 'Nothing more.', later: '', done: '' }[when];
    return h('section', { class: `jobs ${when}`, 'aria-label': HEADS[when] },
      !bare && h('h2', {}, HEADS[when]),
      jobs.length ? h('ol', {}, jobs.map((job) => this.job(job, when))) : h('p', {}, empty));
  }

  job(job, when) {
    const names = job.cooks.map((cook) => this.pass.cooks[cook]).join(' and ');
    const tap = (args, words, sort) => button(words, () => this.log(args), { class: sort, 'data-key': `${key(job)} ${sort}` });
    const taps = when === 'done' || store.reading ? [] : [
      job.begin && tap(job.begin, 'Begin', 'begin'),
      job.done ? tap(job.done, 'Done', 'main') : !job.ticked && button('Done', () => this.check(job), { class: 'main', 'data-key': `${key(job)} main` }),
    ];
    const wrong = job.wrong && !store.reading && (when === 'done' || job.begun) ? tap(job.wrong, 'Not begun', 'plain') : undefined;
    const state = job.begun && job.done && when === 'now' ? 'begun' : when === 'done' && !job.ticked ? 'taken as done, nobody ticked it' : undefined;
    return h('li', { class: job.do },
      h('div', { class: 'what' },
        h('p', { class: 'head' }, h('time', {}, job.clock), ' ', job.head),
        h('p', { class: 'more' }, [names && this.pass.cooks.length > 1 && !store.cook ? names : '', state, ...job.more].filter(Boolean).join(' · ')),
        job.care.map((words) => h('p', { class: 'care' }, words)),
        when === 'next' && job.at > this.pass.now && h('p', { class: 'count' }, 'in ', h('span', { 'data-until': job.at }, this.left(job.at)))),
      h('div', { class: 'taps' }, ...taps.filter(Boolean), wrong));
  }

  running(pass) {
    if (!pass.running.length) return '';
    const about = (event, words, own) => pass.events.some((known) => known.event === event) && !store.reading
      && button(words, () => report(pass, event, { step: own.step }, (args) => this.log(args, true)), { 'aria-label': `${words}: ${own.title}` });
    return h('section', { class: 'running', 'aria-label': 'Running' }, h('h2', {}, 'Running'), h('ul', {}, pass.running.map((own) => h('li', {},
      h('div', { class: 'what' },
        h('p', { class: 'head' }, own.title), h('p', { class: 'more' }, [own.place, `until ${own.clock}`].filter(Boolean).join(' · '))),
      h('p', { class: 'count', 'data-until': own.until }, this.left(own.until)),
      h('div', { class: 'taps' }, own.probe && about('probe', 'Probe', own), about('needs', 'Needs longer', own))))));
  }

  tools(pass) {
    const cooks = [['', 'Everybody'], ...pass.cooks.map((name) => [name, name])];
    return [
      pass.cooks.length > 1 && field('For', select(cooks, store.cook, (cook) => {
        keep({ cook });
        this.take(this.pass);
      })),
      !store.reading && button('Something happened', () => report(pass, '', {}, (args) => this.log(args, true)), { 'data-key': 'report' }),
      store.rehearsal && button('On to the next job', () => this.skip(), { 'data-key': 'skip' }),
      !store.reading && store.before.length > 0 && button('Undo', () => this.undo(), { 'data-key': 'undo' }),
    ].filter(Boolean);
  }

  // A tick of something that no log knows.
  check(job) {
    keep({ ticks: [...store.ticks, key(job)], before: [...store.before, { ticks: store.ticks }].slice(-20) });
    this.take(this.pass);
  }

  // A tap: kept before anything else happens, then logged by the command.
  async log(args, unusual = false) {
    keep({ waiting: [...store.waiting, [args, now()]] });
    const words = await this.flush();
    const [safe] = await Promise.all([onDisk(), this.ask()]);
    if (words) say(safe ? words : `${words} (not on the disk yet)`);
    if (unusual && words) await this.replan();
  }

  // Logs what was tapped, in its order; also what was tapped just before a battery gave up.
  flush() {
    this.flushing = (this.flushing ?? Promise.resolve()).then(async () => {
      let words = '';
      while (store.waiting.length) {
        const [args, moment] = store.waiting[0];
        const answer = await this.quick.run(['log', 'day.log', '--menu', menuName(), ...args], files(), moment);
        const rest = store.waiting.slice(1);
        if (answer.exit === 0) {
          keep({ waiting: rest, log: answer.files['day.log'], before: [...store.before, { log: store.log }].slice(-20) });
          words = answer.out.trim();
        } else {
          keep({ waiting: rest });
          say(answer.err.replace(/^error: /, ''));
        }
      }
      return words;
    });
    return this.flushing;
  }

  undo() {
    const before = store.before.at(-1);
    keep({ ...before, before: store.before.slice(0, -1) });
    say('Undone.');
    this.ask();
  }

  // Asks for a new plan of the rest, and shows what is new if there is anything.
  async replan() {
    say('Planning the rest again …');
    const args = ['replan', menuName(), '--plan', 'plan.json', '--work', REPLAN_WORK, ...(store.log ? ['--log', 'day.log'] : [])];
    const moment = now();
    const words = await this.quick.run([...args, '--brief', '--width', '60'], files(), moment);
    const data = await this.quick.run([...args, '--format', 'json'], files(), moment);
    const answer = data.out ? JSON.parse(data.out) : {};
    const better = answer.outcome === 'replanned' && answer.moved.length > 0;
    this.news = { words: words.out || words.err, plan: better ? data.out : undefined, args, moment };
    this.take(this.pass);
  }

  changes() {
    const close = () => {
      this.news = '';
      this.take(this.pass);
    };
    const follow = async () => {
      const { args, moment, plan } = this.news;
      this.news = '';
      const [page, calendar] = await Promise.all(['html', 'ical'].map((format) => this.quick.run([...args, '--format', format], files(), moment)));
      keep({ sheets: { 'plan.json': plan, 'run-sheets.html': page.out, 'jobs.ics': calendar.out } });
      await this.ask();
      say('Everybody follows the new plan now. Other phones need it by file.');
    };
    return h('section', { class: 'changes', role: 'alert' }, h('h2', {}, 'The rest, planned again'),
      h('pre', { tabindex: '0' }, this.news.words),
      h('div', { class: 'bar' }, this.news.plan && button('Follow the new plan', follow, { class: 'main', 'data-key': 'follow' }),
        button(this.news.plan ? 'Keep the old one' : 'Close', close, { class: 'plain' })));
  }

  foot() {
    const sound = h('input', { type: 'checkbox', id: 'sound', onchange: ({ target }) => keep({ sound: target.checked }) });
    sound.checked = store.sound;
    return h('footer', { class: 'bar' },
      h('label', { class: 'check', for: 'sound' }, sound, 'Sound'),
      button('Plan the rest again', () => this.replan()),
      button('Save the log', () => save('day.log', store.log)),
      button('Hand over by file', () => hand('evening.json', evening(), 'application/json')),
      button(store.rehearsal ? 'End the rehearsal' : 'Rehearse', () => (store.rehearsal ? this.play() : this.choose())),
      h('p', {}, 'Phones do not talk to each other: what is ticked on one is not known on another. Hand the evening over by file, each phone for its cook.'));
  }

  // A rehearsal begins shortly before the first job.
  choose() {
    if (!this.pass) return;
    const first = this.pass.jobs[0]?.at ?? 0;
    const speed = select([['1', 'as fast as life'], ['10', 'ten times as fast'], ['60', 'a minute each second']], '10');
    const close = dialogue('Rehearse the evening', field('How fast', speed), button('Begin before the first job', () => {
      close();
      this.play(this.zero + (first - 1) * 60000, Number(speed.value));
    }, { class: 'main' }));
  }

  // A rehearsal need not wait through a night.
  skip() {
    const next = this.pass.jobs.find((job) => job.at > this.minute());
    if (next) this.play(this.zero + next.at * 60000, store.rehearsal.speed);
  }

  play(from, speed) {
    rehearse(from, speed);
    this.stop();
    this.start();
  }
}

const key = (job) => [job.do, job.step ?? job.place ?? job.course, job.at, job.index ?? ''].join(' ');
