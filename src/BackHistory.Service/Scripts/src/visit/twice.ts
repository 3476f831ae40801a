// A visit that somebody else entered too, while this device had no connection.
import { settle, type Conflict, type Doubled } from './send';
import { waiting, type Waiting } from './store';

const FIELDS: Record<string, string> = {
  'read-slope-left': 'Inclinometer, left side',
  'read-slope-right': 'Inclinometer, right side',
  'read-topline-slope': 'Inclinometer along the topline',
  weight: 'Weight',
  condition: 'Condition score',
  'height-withers': 'Height at the withers',
  'cross-section': 'Cross-section',
  topline: 'Topline',
};

/** The field, its side or site, and the station. */
export const fieldOf = ({ kind, measure, station }: Pick<Conflict, 'kind' | 'measure' | 'station'>): string => {
  const site = /^muscle@(.+)$/.exec(measure)?.[1];
  const field = kind === 'girth' ? 'Girth and length by tape' : site ? `Muscle score, ${site}` : (FIELDS[measure] ?? measure);
  return station ? `${field}, at ${station.replaceAll('-', ' ')}` : field;
};

/**
 * Two values for the same thing on the same day: the person chooses. Whoever closes the question, with Escape too, has discarded
 * nothing: it waits, and is asked again when they want.
 */
export function askWhichStands(w: Waiting, { clashes: conflicts, again }: Doubled): Promise<void> {
  return new Promise((resolve, reject) => {
    const dialog = document.createElement('dialog');
    dialog.setAttribute('aria-labelledby', 'entered-twice');
    const head = Object.assign(document.createElement('h2'), { id: 'entered-twice', textContent: `${w.horseName}: entered twice` });
    const why = Object.assign(document.createElement('p'), {
      textContent:
        'While you were without a connection somebody entered this for the same day. Which value stands? ' +
        'The other is withdrawn, with the reason.',
    });
    const choice = document.createElement('form');
    choice.method = 'dialog';
    conflicts.forEach((c, i) => {
      const set = document.createElement('fieldset');
      set.append(Object.assign(document.createElement('legend'), { textContent: fieldOf(c) }));
      for (const [value, text] of [
        ['mine', `${c.mine}, yours`],
        ['theirs', `${c.theirs}, entered by ${c.by}`],
      ] as const) {
        const label = Object.assign(document.createElement('label'), { className: 'check' });
        label.append(Object.assign(document.createElement('input'), { type: 'radio', name: `c${i}`, value, required: true }), ` ${text}`);
        set.append(label);
      }
      choice.append(set);
    });
    const row = Object.assign(document.createElement('p'), { className: 'row' });
    const later = Object.assign(document.createElement('button'), { type: 'button', className: 'plain', textContent: 'Decide later' });
    later.addEventListener('click', () => dialog.close());
    row.append(Object.assign(document.createElement('button'), { className: 'act', value: 'keep', textContent: 'Keep these' }), later);
    choice.append(row);
    dialog.append(head, why, choice);
    document.body.append(dialog);
    dialog.addEventListener('close', () => {
      const chosen = new FormData(choice);
      const answered = dialog.returnValue === 'keep';
      dialog.remove();
      const done = answered
        ? settle(
            w,
            conflicts.filter((_, i) => chosen.get(`c${i}`) === 'theirs'),
            conflicts.filter((_, i) => chosen.get(`c${i}`) === 'mine'),
            again,
          )
        : waiting.add({ ...w, asks: true }).then(() => undefined);
      done.then(resolve, reject);
    });
    dialog.showModal();
  });
}
