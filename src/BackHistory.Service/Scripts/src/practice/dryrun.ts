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
}

const form = document.querySelector<HTMLFormElement>('form[data-dry]')!;
const shown = document.querySelector<HTMLElement>('[data-tried]')!;
const says = shown.querySelector<HTMLElement>('[data-says]')!;
const words = new Map(
  [...form.querySelectorAll<HTMLInputElement>('input[type=checkbox]')].map(i => [
    i.name.split('.')[1]!,
    i.parentElement!.textContent.trim(),
  ]),
);
const camel = (kebab: string) => kebab.replaceAll(/-(.)/g, (_, c: string) => c.toUpperCase());

async function run(): Promise<void> {
  shown.hidden = false;
  says.textContent = 'Trying…';
  const asked = await fetch(form.dataset.dry!, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', 'Idempotency-Key': crypto.randomUUID() },
    body: JSON.stringify({ rules: body(form).rules }),
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
        item.textContent = `${n}: ${words.get(camel(rule)) ?? rule}`;
        return item;
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
