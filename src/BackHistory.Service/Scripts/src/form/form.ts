// Forms that give a command to the interface: fields become its JSON, and what it refuses is said beside the field. Nothing typed is lost.

import { numberOf, put, type Json } from './values';

type Field = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;

class Unreadable extends Error {
  constructor(
    readonly field: Field,
    message: string,
  ) {
    super(message);
  }
}

function valueOf(field: Field): Json | undefined {
  if (field instanceof HTMLInputElement && field.type === 'checkbox')
    return field.dataset.as === 'word' ? (field.checked ? field.value : undefined) : field.checked;
  if (field instanceof HTMLInputElement && field.type === 'radio' && !field.checked) return undefined;
  const text = field.value.trim();
  if (field.dataset.as === 'now' && text === '') return new Date().toISOString();
  if (text === '') return undefined;
  switch (field.dataset.as) {
    case 'number': {
      const value = numberOf(text);
      if (value === null) throw new Unreadable(field, `“${text}” is no number.`);
      return value;
    }
    case 'boolean':
      return text === 'true';
    case 'json':
      try {
        return JSON.parse(text) as Json;
      } catch {
        throw new Unreadable(field, 'This is not readable as JSON.');
      }
    default:
      return text;
  }
}

/** The fields of an element, but not those of a list's items inside it. */
const own = (of: Element): Field[] =>
  [...of.querySelectorAll<Field>('input[name],select[name],textarea[name]')].filter(
    f =>
      !f.disabled &&
      !f.hasAttribute('data-aside') &&
      f.name !== '__RequestVerificationToken' &&
      f.closest('[data-item]') === (of.matches('[data-item]') ? of : null),
  );

function object(of: Element, out: Record<string, Json> = {}): Record<string, Json> {
  for (const field of own(of)) {
    const value = valueOf(field);
    if (value === undefined) continue;
    // One choice may stand for several members.
    if (field.dataset.as === 'json' && field.name === 'pair') Object.assign(out, value);
    else put(out, field.name, value);
  }
  return out;
}

export function body(form: HTMLFormElement): Record<string, Json> {
  const base = JSON.parse(form.dataset.base ?? '{}') as Record<string, Json>;
  const out = object(form, base);
  for (const item of form.querySelectorAll<HTMLElement>('[data-item]')) {
    const name = item.dataset.item!;
    const needed = item.querySelector<Field>('[data-needed]');
    const list = (out[name] ??= []) as Json[];
    if (!needed || needed.value.trim() !== '') list.push(object(item));
  }
  return out;
}

function tell(form: HTMLFormElement, text: string, bad: boolean): void {
  let box = form.querySelector<HTMLElement>('[data-told]');
  if (!box) {
    box = document.createElement('div');
    box.dataset.told = '';
    form.append(box);
  }
  box.className = bad ? 'wrong' : 'soft';
  box.setAttribute('role', bad ? 'alert' : 'status');
  box.textContent = text;
}

const SAVED = 'saved-form';

/** A page that is loaded anew begins folded; what was said must outlive it. */
function keepSaid(form: HTMLFormElement): void {
  sessionStorage.setItem(SAVED, JSON.stringify([location.pathname, form.dataset.send]));
}

function sayKept(): void {
  const kept = sessionStorage.getItem(SAVED);
  sessionStorage.removeItem(SAVED);
  if (!kept) return;
  const [page, address] = JSON.parse(kept) as [string, string];
  if (page !== location.pathname) return;
  const form = [...document.querySelectorAll<HTMLFormElement>('form[data-send]')].find(f => f.dataset.send === address);
  if (!form) return;
  for (let fold = form.closest('details'); fold; fold = fold.parentElement?.closest('details') ?? null) fold.open = true;
  tell(form, 'Saved.', false);
  form.scrollIntoView({ block: 'nearest' });
}

async function send(form: HTMLFormElement): Promise<void> {
  const [method, address] = form.dataset.send!.split(' ') as [string, string];
  let content: string;
  try {
    content = JSON.stringify(body(form));
  } catch (e) {
    if (!(e instanceof Unreadable)) throw e;
    tell(form, e.message, true);
    e.field.focus();
    return;
  }
  // A repeat of the same content is the same command; other content is another.
  if (form.dataset.sent !== content) [form.dataset.sent, form.dataset.key] = [content, crypto.randomUUID()];
  const buttons = [...form.querySelectorAll<HTMLButtonElement>('button')];
  for (const b of buttons) b.disabled = true;
  tell(form, 'Saving…', false);
  try {
    const answer = await fetch(address, {
      method,
      body: content,
      headers: { 'Content-Type': 'application/json', 'Idempotency-Key': form.dataset.key!, 'If-Match': form.dataset.match ?? '*' },
    });
    if (answer.ok) {
      const made = (await answer.json().catch(() => ({}))) as { id?: string; made?: string };
      const then = (form.dataset.then ?? '').replace('{id}', made.id ?? '').replace('{made}', made.made ?? '');
      // The pages are read models: they follow the command within a moment.
      tell(form, 'Saved.', false);
      if (!then) keepSaid(form);
      setTimeout(
        () => {
          if (then) location.assign(then);
          else location.reload();
        },
        Number(form.dataset.wait ?? 400),
      );
      return;
    }
    const problem = (await answer.json().catch(() => ({}))) as { detail?: string; title?: string };
    tell(
      form,
      answer.status === 412
        ? 'Somebody changed this in the meantime. What you typed is still here; load the page anew and look before you save.'
        : (problem.detail ?? problem.title ?? `It was not saved (${answer.status}). What you typed is still here.`),
      true,
    );
  } catch {
    tell(form, 'There is no connection. Nothing was saved; what you typed is still here. Try again.', true);
  }
  for (const b of buttons) b.disabled = false;
}

/** Asks why where something else is set than was proposed. */
function differs(field: HTMLInputElement): void {
  const why = field.closest('[data-item]')?.querySelector<HTMLElement>('[data-why]');
  const input = why?.querySelector<HTMLInputElement>('input');
  if (!why || !input) return;
  const other = field.value.trim() !== '' && field.value.trim() !== field.dataset.proposed;
  why.hidden = !other;
  input.required = other;
  input.disabled = !other;
}

for (const form of document.querySelectorAll<HTMLFormElement>('form[data-send]')) {
  form.addEventListener('submit', e => {
    // A button may want the browser's own way, into a frame beside the form.
    if (e.submitter?.hasAttribute('data-native')) return;
    e.preventDefault();
    void send(form);
  });
  for (const field of form.querySelectorAll<HTMLInputElement>('input[data-proposed]')) {
    differs(field);
    field.addEventListener('input', () => differs(field));
  }
  // Lists grow by a copy of their last item.
  for (const more of form.querySelectorAll<HTMLButtonElement>('button[data-more]')) {
    more.addEventListener('click', () => {
      const items = form.querySelectorAll<HTMLElement>(`[data-item="${more.dataset.more!}"]`);
      const last = items[items.length - 1]!;
      const copy = last.cloneNode(true) as HTMLElement;
      for (const f of copy.querySelectorAll<Field>('input,select,textarea')) {
        f.value = '';
        f.id = `${f.id}-${items.length}`;
      }
      for (const l of copy.querySelectorAll('label')) l.htmlFor = `${l.htmlFor}-${items.length}`;
      last.after(copy);
      copy.querySelector<Field>('input,select,textarea')?.focus();
    });
  }
}

sayKept();
