// Tries the rules as they stand in the form on the practice's own last year; nothing is saved.
import { body } from '../form/form';

interface Run {
  wanted: number;
  done: number;
  finishedAt?: string;
  failed?: string;
  raised: Record<string, number>;
  refitsDone: number;
  refitsPreceded: number;
  changes: { horseId: string; horse: string; now: Outcome; then: Outcome }[];
  changed: number;
}

interface Outcome {
  state: string;
  because: string;
  reminders: { rule: string; saddleId?: string; sentence: string }[];
}

const form = document.querySelector<HTMLFormElement>('form[data-dry]')!;
const shown = document.querySelector<HTMLElement>('[data-tried]')!;
const says = shown.querySelector<HTMLElement>('[data-says]')!;
const words = new Map(Object.entries(JSON.parse(shown.dataset.words ?? '{}') as Record<string, string>));
const MOST_SHOWN = 200;

async function run(): Promise<void> {
  shown.hidden = false;
  says.textContent = 'Trying…';
  const asked = await fetch(form.dataset.dry!, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', 'Idempotency-Key': crypto.randomUUID() },
    body: JSON.stringify({ [form.dataset.tries!]: body(form).rules }),
  });
  const made = (await asked.json()) as { id: string; detail?: string };
  if (!asked.ok) {
    says.textContent = made.detail ?? 'These rules cannot be tried.';
    return;
  }
  for (;;) {
    const one = (await (await fetch(`${form.dataset.dry!}/${made.id}`)).json()) as Run;
    if (one.failed) {
      says.textContent = one.failed;
      return;
    }
    says.textContent = `${one.done} of ${one.wanted} horses.`;
    if (one.finishedAt) {
      tell(one);
      return;
    }
    await new Promise(r => setTimeout(r, 700));
  }
}

function tell(one: Run): void {
  const all = Object.values(one.raised).reduce((a, b) => a + b, 0);
  says.textContent =
    `In the last year they would have raised ${all} reminders about ${one.wanted} horses, ` +
    `and one would have stood before ${one.refitsPreceded} of ${one.refitsDone} pieces of saddle work.`;
  shown.querySelector('[data-raised]')!.replaceChildren(
    ...Object.entries(one.raised)
      .toSorted((a, b) => b[1] - a[1])
      .map(([rule, n]) => {
        const item = document.createElement('li');
        item.textContent = `${n}: ${words.get(rule) ?? rule}`;
        return item;
      }),
  );
  tellChanges(one);
}

/** What is heard only under one of the two is said with its evidence; what is the same under both is not repeated. */
function cell({ state, because, reminders }: Outcome, other: Outcome): HTMLTableCellElement {
  const td = document.createElement('td');
  const name = document.createElement('strong');
  name.textContent = words.get(state) ?? state;
  td.append(name, ` ${because}`);
  const same = new Set(other.reminders.map(r => `${r.rule} ${r.saddleId ?? ''}`));
  for (const r of reminders.filter(one => !same.has(`${one.rule} ${one.saddleId ?? ''}`))) {
    const said = document.createElement('p');
    said.className = 'small';
    said.textContent = `Reminder: ${r.sentence}`;
    td.append(said);
  }
  return td;
}

function tellChanges({ changes, changed, wanted }: Run): void {
  shown.querySelector<HTMLElement>('[data-otherwise]')!.hidden = changed === 0;
  says.textContent +=
    changed === 0
      ? ' No horse would stand otherwise today than by the rules that stand now.'
      : ` ${changed} of ${wanted} horses would stand otherwise today${changed > MOST_SHOWN ? `; the first ${MOST_SHOWN} are named` : ''}.`;
  shown.querySelector('[data-changes]')!.replaceChildren(
    ...changes.slice(0, MOST_SHOWN).map(c => {
      const row = document.createElement('tr');
      const horse = document.createElement('th');
      horse.scope = 'row';
      const link = document.createElement('a');
      link.href = `/horses/${c.horseId}`;
      link.textContent = c.horse;
      horse.append(link);
      row.append(horse, cell(c.now, c.then), cell(c.then, c.now));
      return row;
    }),
  );
}

form.querySelector('[data-try]')!.addEventListener(
  'click',
  () =>
    void run().catch(() => {
      says.textContent = 'There is no connection. Try again.';
    }),
);
