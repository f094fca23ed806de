// Something happened: a dialogue made from what the command says it can log, with a number pad for what is measured.
import { button, dialogue, field, h, say, select } from './dom.js';

// Asks for what an event needs and gives the arguments of `log`; without an event, first which it is.
export function report(pass, event, known, done) {
  const chosen = pass.events.find((own) => own.event === event);
  if (!chosen) {
    const ticks = new Set(pass.jobs.flatMap((job) => [job.begin, job.done, job.wrong]).filter(Boolean).map(([word]) => word));
    const [usual, others] = [pass.events.filter((own) => !ticks.has(own.event)), pass.events.filter((own) => ticks.has(own.event))];
    let close;
    const list = (events) => h('div', { class: 'choices' }, events.map((own) => button(own.about, () => {
      close();
      report(pass, own.event, {}, done);
    }, { 'data-event': own.event })));
    close = dialogue('What happened?', list(usual), h('details', {}, h('summary', {}, 'Begun, done or served'), list(others)));
    return;
  }
  const controls = chosen.fields.map((own) => [own, control(pass, own, known[own.name])]);
  const close = dialogue(chosen.about, ...controls.map(([own, control]) => field(own.about, control.shown, control.more)), button('Log it', () => {
    const missing = controls.find(([own, control]) => own.needed && !control.value());
    if (missing) {
      say(`Say it: ${missing[0].about}`);
      return;
    }
    close();
    const given = controls.filter(([, control]) => control.value());
    done([chosen.event, ...given.flatMap(([own, control]) => (own.option ? [own.option, control.value()] : [control.value()]))]);
  }, { class: 'main' }));
}

function control(pass, own, known) {
  if (pass.names[own.name]) {
    // What runs comes first.
    const first = new Set(pass.running.map((one) => one[own.name]));
    const names = [...pass.names[own.name]].sort((a, b) => first.has(b.id) - first.has(a.id));
    const list = select([...(own.needed ? [] : [['', 'as planned, or all']]), ...names.map(({ id, name }) => [id, name])], known);
    return { shown: list, value: () => list.value };
  }
  // The unit is that of the example in the command's own words.
  const unit = /(?:such as "|default: )[\d.]+ ?([a-zA-Z]*)/.exec(own.about)?.[1] ?? (own.name === 'to' ? 'C' : '');
  const input = h('input', { type: 'text', inputmode: 'decimal', autocomplete: 'off', class: 'short' });
  const units = unit === 'C' ? select([['C', '°C'], ['F', '°F']], 'C') : undefined;
  units?.setAttribute('aria-label', 'Degrees');
  const pad = h('div', { class: 'pad' }, [...'123456789', '.', '0', '←'].map((sign) => button(sign, () => {
    input.value = sign === '←' ? input.value.slice(0, -1) : input.value + sign;
  }, { 'aria-label': sign === '←' ? 'Take back one sign' : sign })));
  const value = () => {
    const number = input.value.trim();
    return number && (/[a-z]/i.test(number) || !unit ? number : `${number} ${units?.value ?? unit}`);
  };
  return { shown: input, more: [units ?? (unit && h('span', {}, unit)), own.needed && pad].filter(Boolean), value };
}
