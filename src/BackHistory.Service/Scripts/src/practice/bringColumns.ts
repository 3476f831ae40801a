// What the columns of a table mean, and what has to be answered before its cells can be read.
import { at, el, root, type Field, type Question, type Sheet } from './bringWire';
import { proposed } from './propose';

const quoted = (texts: string[]) => texts.map(t => `“${t}”`).join(', ');

/** How the file was read: its letters, and what stands above the header. */
export function showRead(sheet: Sheet): void {
  const said: HTMLElement[] = [el('p', `${sheet.lines} ${sheet.lines === 1 ? 'line was' : 'lines were'} read.`)];
  if (sheet.letters === 'windows1252') {
    const odd = sheet.odd.length > 0 ? ` In this table: ${quoted(sheet.odd)}.` : '';
    said.push(
      el(
        'p',
        'The file does not say in which letters it was written. It was read as Windows letters: check ä, é, ß.' +
          `${odd} Are they wrong, save it as CSV UTF-8 and send it in again.`,
        { className: 'caution' },
      ),
    );
  }
  if (sheet.passedOver.length > 0)
    said.push(el('p', `Passed over above the header: ${sheet.passedOver.map(t => `line ${t.line}, “${t.text}”`).join('; ')}.`));
  at('[data-read]').replaceChildren(...said);
}

export function showColumns(sheet: Sheet, fields: Field[], changed: () => void): void {
  at('[data-columns]').replaceChildren(
    ...sheet.headers.flatMap((header, i) => {
      if (header === '') return [];
      const choice = el('select');
      choice.dataset.column = header;
      choice.setAttribute('aria-label', `Column ${header} is`);
      choice.append(new Option('not read', ''));
      for (const f of fields) choice.append(new Option(f.says + (f.needed ? ' (needed)' : ''), f.key));
      const same = proposed(header, fields);
      if (same) choice.value = same.key;
      choice.addEventListener('change', changed);
      const begins = sheet.examples.map(e => e[i] ?? '').filter(t => t !== '');
      const row = el('li');
      row.append(
        el('strong', header),
        el('span', begins.length > 0 ? begins.slice(0, 3).join(', ') : 'empty at first', { className: 'soft' }),
        choice,
      );
      return [row];
    }),
  );
}

/** Several answers lie under one field, each by what it is of. */
export const keyOf = (q: Question): string => (typeof q.of !== 'string' ? q.about : `${q.about} ${q.of}`);

export class Asked {
  private readonly questions = new Map<string, Question>();
  private readonly given = new Map<string, string[]>();

  constructor(private readonly changed: () => void) {}

  forget(): void {
    this.questions.clear();
    this.given.clear();
    this.show();
  }

  /** What was asked before stays to be seen and changed. */
  add(questions: Question[]): void {
    for (const q of questions) this.questions.set(keyOf(q), q);
    this.show();
  }

  /** As the plan holds them. */
  answers(): Record<string, unknown> {
    const plan: Record<string, unknown> = {};
    const values: Record<string, string> = {};
    for (const [key, q] of this.questions) {
      const [first, ...more] = this.given.get(key) ?? [];
      if (first === undefined) continue;
      if (typeof q.of === 'string') values[q.of] = first;
      else if (q.several) plan[`${q.about}s`] = [first, ...more];
      else plan[q.about] = first;
    }
    return Object.keys(values).length > 0 ? { ...plan, answers: values } : plan;
  }

  private show(): void {
    at('[data-asked]').hidden = this.questions.size === 0;
    at('[data-questions]').replaceChildren(
      ...[...this.questions].map(([key, q], i) => (q.several ? this.ticks(key, q) : this.choice(key, q, i))),
    );
  }

  private give(key: string, values: string[]): void {
    this.given.set(key, values);
    this.changed();
  }

  private choice(key: string, q: Question, i: number): HTMLElement {
    const field = el('div', '', { className: 'field' });
    const choice = el('select', '', { id: `question-${i}` });
    choice.append(new Option('choose', ''), ...q.answers.map((a, n) => new Option(q.labels?.[n] ?? a, a)));
    choice.value = this.given.get(key)?.[0] ?? '';
    choice.addEventListener('change', () => this.give(key, choice.value === '' ? [] : [choice.value]));
    field.append(el('label', q.question, { htmlFor: choice.id }), choice, el('small', `Column ${q.columns.join(', ')}`));
    return field;
  }

  private ticks(key: string, q: Question): HTMLElement {
    const set = el('fieldset');
    set.append(el('legend', q.question));
    const used = (q.reads ?? []).some(n => n > 0);
    for (const [n, answer] of q.answers.entries()) {
      // A way in which nothing is written is no choice, unless none is.
      if (used && q.reads?.[n] === 0) continue;
      const tick = el('input', '', { type: 'checkbox', value: answer, checked: this.given.get(key)?.includes(answer) ?? false });
      tick.addEventListener('change', () =>
        this.give(
          key,
          [...set.querySelectorAll('input')].filter(t => t.checked).map(t => t.value),
        ),
      );
      const label = el('label', '', { className: 'check' });
      label.append(tick, q.labels?.[n] ?? answer);
      set.append(label);
    }
    set.append(el('small', `Column ${q.columns.join(', ')}`));
    return set;
  }
}

/** Header to field, as it was chosen. */
export function chosenColumns(): Record<string, string> {
  const columns: Record<string, string> = {};
  for (const s of root.querySelectorAll<HTMLSelectElement>('select[data-column]')) if (s.value) columns[s.dataset.column!] = s.value;
  return columns;
}
