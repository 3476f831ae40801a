// The table of a gauge: checked while it is typed, and taken over as soon as it is pasted.

import { faults, type Mark, type Part } from './marks';

const PARTS: readonly Part[] = ['name', 'place', 'value'];

function fieldsOf(row: Element): HTMLInputElement[] {
  return [...row.querySelectorAll('input')];
}

function markOf(row: Element): Mark {
  const [name = '', place = '', value = ''] = fieldsOf(row).map(f => f.value);
  return { name, place, value };
}

function say(field: HTMLInputElement, words: string | undefined): void {
  const id = `${field.id}-wrong`;
  const said = document.getElementById(id);
  if (words === undefined) {
    said?.remove();
    field.removeAttribute('aria-invalid');
    field.removeAttribute('aria-describedby');
    return;
  }
  if (said?.textContent === words) return;
  const small = said ?? document.createElement('small');
  small.id = id;
  small.className = 'wrong';
  small.setAttribute('role', 'alert');
  small.textContent = words;
  field.setAttribute('aria-invalid', 'true');
  field.setAttribute('aria-describedby', id);
  if (!said) field.after(small);
}

function check(form: Element): void {
  const rows = [...form.querySelectorAll('[data-mark]')];
  const found = faults(rows.map(markOf));
  for (const [row, element] of rows.entries())
    for (const [i, field] of fieldsOf(element).entries()) say(field, found.find(f => f.row === row && f.part === PARTS[i])?.says);
}

for (const form of document.querySelectorAll<HTMLFormElement>('form[data-gauge]')) {
  form.addEventListener('input', e => {
    if ((e.target as Element).closest('[data-mark]')) check(form);
  });
  const pasted = form.querySelector<HTMLTextAreaElement>('[data-pasted]');
  const fill = form.querySelector<HTMLButtonElement>('button[value="fill"]');
  // What was pasted is in the field only after this event.
  pasted?.addEventListener('paste', () => setTimeout(() => form.requestSubmit(fill), 0));
}
