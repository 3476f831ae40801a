// The table of a gauge: checked while it is typed, by the rule of the service, and taken over as soon as it is pasted.

const PAUSE = 300;

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

/** The page as it would answer what is typed; null where it cannot be asked: what is wrong is then said when it is saved. */
async function answerTo(form: HTMLFormElement, signal: AbortSignal): Promise<Document | null> {
  const typed = new FormData(form);
  typed.set('Form.Press', 'check');
  const answer = await fetch(form.action, { method: 'POST', body: typed, signal }).catch(() => null);
  const page = answer && (await answer.text().catch(() => null));
  // Where fields cannot be taken the page says so, whatever its status.
  return page === null ? null : new DOMParser().parseFromString(page, 'text/html');
}

for (const form of document.querySelectorAll<HTMLFormElement>('form[data-gauge]')) {
  let asking = new AbortController();
  let pause = 0;
  const check = async (): Promise<void> => {
    const { signal } = asking;
    const said = await answerTo(form, signal);
    // What was typed since is asked about by itself.
    if (!said?.querySelector('form[data-gauge]') || signal.aborted) return;
    for (const field of form.querySelectorAll<HTMLInputElement>('[data-mark] input'))
      say(field, said.getElementById(`${field.id}-wrong`)?.textContent ?? undefined);
  };
  form.addEventListener('input', e => {
    if (!(e.target as Element).closest('[data-mark]')) return;
    asking.abort();
    asking = new AbortController();
    clearTimeout(pause);
    pause = window.setTimeout(() => void check(), PAUSE);
  });
  const pasted = form.querySelector<HTMLTextAreaElement>('[data-pasted]');
  const fill = form.querySelector<HTMLButtonElement>('button[value="fill"]');
  // What was pasted is in the field only after this event.
  pasted?.addEventListener('paste', () => setTimeout(() => form.requestSubmit(fill), 0));
}
