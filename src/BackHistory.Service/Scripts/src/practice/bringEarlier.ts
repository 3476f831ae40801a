// Imports that were sent in before, and the way to take them back.
import { ask, at, button, el, MAY_HAVE_BEGUN, reach, root, taken, tell, type Forecast, type Import, type Lines } from './bringWire';
import { showLines } from './bringLines';

const THINGS: Record<string, [string, string]> = {
  person: ['person', 'people'],
  yard: ['yard', 'yards'],
  horse: ['horse', 'horses'],
  saddle: ['saddle', 'saddles'],
  visit: ['visit', 'visits'],
  entry: ['entry', 'entries'],
  work: ['piece of work on a saddle', 'pieces of work on saddles'],
  gauge: ['table of a gauge', 'tables of gauges'],
};

const several = (n: number, [one, many]: [string, string]) => `${n} ${n === 1 ? one : many}`;

const STATES: Record<string, string> = {
  'sent-in': 'read, not entered',
  entering: 'being entered',
  entered: 'entered',
  'import-rollback': 'being taken back',
  'taken-back': 'taken back',
};

export const stateOf = (i: Import): string => STATES[i.state] ?? i.state;

const isRunning = (i: Import) => i.state === 'entering' || i.state === 'import-rollback';

/** By the practice's clock. */
const when = (text: string) =>
  new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short', timeZone: root.dataset.zone! }).format(new Date(text));

export function heldWords(i: Import): string {
  if (!i.heldUntil) return '';
  return `Letters that the calendar owes about these horses wait until ${when(i.heldUntil)}, so that the rest can be brought in first.`;
}

function became(i: Import): string {
  const c = i.counts;
  if (i.state === 'entered') return `${c.entered} of ${i.lines} lines entered, ${c.already} here already, ${c.refused} refused`;
  if (i.state === 'taken-back') return `${i.takenBack.entered} lines taken back, ${i.takenBack.already} stay`;
  return several(i.lines, ['line', 'lines']);
}

/**
 * Goes on until it is entered or taken back, and says how far it is.
 * @param lost what is said while there is no connection.
 */
export async function follow(id: string, lost = 'There is no connection; it goes on by itself.'): Promise<Import | null> {
  for (;;) {
    const answer = await reach('GET', `/api/imports/${id}`);
    const one = answer && (await taken<Import>(answer));
    if (answer && !one) return null;
    tell(one ? [`${one.name}: ${stateOf(one)}, ${became(one)}.`, heldWords(one)].filter(Boolean).join(' ') : lost);
    if (one && !isRunning(one)) {
      await showEarlier();
      return one;
    }
    await new Promise(r => setTimeout(r, 1000));
  }
}

export async function showEarlier(): Promise<void> {
  const all = await ask<Import[]>('GET', '/api/imports');
  if (!all) return;
  at('[data-earlier]').replaceChildren(...(all.length === 0 ? [el('li', 'None yet.')] : all.map(item)));
}

const DISCARD_LOST = 'There is no connection. If the table stands here still when there is one, discard it again.';

function item(i: Import): HTMLLIElement {
  const li = el('li', '', { className: 'stack' });
  const said = el('div');
  said.append(el('strong', i.name), ` ${stateOf(i)}, ${became(i)}. Sent in ${when(i.at)}. ${heldWords(i)}`);
  const acts = el('p', '', { className: 'row' });
  const below = el('div');
  if (i.counts.refused > 0 && i.state === 'entered')
    acts.append(
      button('What became of its lines', 'plain', () =>
        showLines(below, i.counts, (verdict, after) => ask<Lines>('GET', `/api/imports/${i.id}/lines?verdict=${verdict}&after=${after}`)),
      ),
    );
  if (i.state === 'entered') acts.append(button('Take it back…', 'plain', () => askFirst(i, below)));
  if (i.state === 'sent-in')
    acts.append(
      button('Discard it', 'plain', async () => {
        if ((await ask('POST', `/api/imports/${i.id}/take-back`, { lost: DISCARD_LOST })) !== null)
          tell(`${i.name} was discarded. Nothing of it had been entered.`);
        await showEarlier();
      }),
    );
  for (const b of acts.querySelectorAll('button')) b.append(el('span', ` (${i.name})`, { className: 'hidden' }));
  li.append(said);
  if (acts.childElementCount > 0) li.append(acts);
  li.append(below);
  return li;
}

/** What goes and what stays is said before anything is taken back. */
async function askFirst(i: Import, below: HTMLElement): Promise<void> {
  tell('Looking at what it made…');
  const forecast = await ask<Forecast>('GET', `/api/imports/${i.id}/take-back`);
  if (!forecast) return;
  tell('');
  const box = el('div', '', { className: 'bring-back', tabIndex: -1 });
  const goes = Object.entries(forecast.goes).map(([what, n]) => several(n, THINGS[what] ?? [what, what]));
  box.append(el('strong', `Take “${i.name}” back?`));
  box.append(el('p', goes.length > 0 ? `Withdrawn, with this import as the reason: ${goes.join(', ')}.` : 'Nothing of it would go.'));
  if (forecast.stays.length > 0) {
    box.append(el('p', 'What something else rests on stays:'));
    const list = el('ul');
    for (const s of forecast.stays.slice(0, 20)) list.append(el('li', `Line ${s.line}${s.who ? `, ${s.who}` : ''}: ${s.why}`));
    if (forecast.stays.length > 20) list.append(el('li', `and ${forecast.stays.length - 20} more`));
    box.append(list);
  }
  if (forecast.looked < forecast.lines)
    box.append(
      el('p', `These are the last ${forecast.looked} of ${forecast.lines} lines; the others are looked at when it is taken back.`),
    );
  box.append(el('p', 'What was here before the import stays as it is, and the table can be brought in again.'));
  const acts = el('p', '', { className: 'row' });
  const back = button('Take it back', 'act', async () => {
    back.disabled = true;
    const answer = await reach('POST', `/api/imports/${i.id}/take-back`);
    if (answer && (await taken(answer)) === null) {
      back.disabled = false;
      return;
    }
    // It had not begun: asked for again it is taken back once.
    if ((await follow(i.id, answer ? undefined : MAY_HAVE_BEGUN))?.state === 'entered') back.disabled = false;
  });
  acts.append(
    back,
    button('Leave it', 'plain', () => below.replaceChildren()),
  );
  box.append(acts);
  below.replaceChildren(box);
  box.focus();
}
