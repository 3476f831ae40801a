// A visit that somebody else entered too, while this device had no connection.
import { settle, type Conflict } from './send';
import type { Waiting } from './store';

/** Two values for the same thing on the same day: the person chooses. */
export function askWhichStands(w: Waiting, conflicts: Conflict[]): Promise<void> {
  return new Promise(resolve => {
    const dialog = document.createElement('dialog');
    const head = Object.assign(document.createElement('h2'), { textContent: `${w.horseName}: entered twice` });
    const why = Object.assign(document.createElement('p'), {
      textContent: 'While you were without a connection somebody entered this for the same day. Which value stands?',
    });
    const choice = document.createElement('form');
    choice.method = 'dialog';
    conflicts.forEach((c, i) => {
      const set = document.createElement('fieldset');
      set.append(Object.assign(document.createElement('legend'), { textContent: `${c.kind}${c.station ? ` at ${c.station}` : ''}` }));
      for (const [value, text] of [
        ['mine', `${c.mine} (yours)`],
        ['theirs', `${c.theirs} (on record)`],
      ] as const) {
        const label = Object.assign(document.createElement('label'), { className: 'check' });
        label.append(
          Object.assign(document.createElement('input'), { type: 'radio', name: `c${i}`, value, checked: value === 'theirs' }),
          ` ${text}`,
        );
        set.append(label);
      }
      choice.append(set);
    });
    choice.append(Object.assign(document.createElement('button'), { className: 'act', textContent: 'Keep these' }));
    dialog.append(head, why, choice);
    document.body.append(dialog);
    dialog.addEventListener('close', () => {
      const chosen = new FormData(choice);
      void settle(
        w,
        conflicts.filter((_, i) => chosen.get(`c${i}`) !== 'mine'),
      ).then(() => {
        dialog.remove();
        resolve();
      });
    });
    dialog.showModal();
  });
}
