// The words of a letter: what can be put in is pressed into them, and the letter is shown anew as soon as the hand rests.

const form = document.querySelector<HTMLFormElement>('form[data-letter]')!;
const look = form.querySelector<HTMLButtonElement>('[data-look]')!;
const RESTED_MS = 900;
let last = form.querySelector<HTMLInputElement | HTMLTextAreaElement>('textarea')!;
let resting = 0;

/** A frame of its own for each look: one that is led on by a form would put every look between the reader and the page before. */
function show(): void {
  const frame = document.querySelector<HTMLIFrameElement>('iframe[name=look]')!;
  frame.replaceWith(frame.cloneNode(false));
  form.requestSubmit(look);
}

function put(text: string): void {
  last.setRangeText(text, last.selectionStart ?? last.value.length, last.selectionEnd ?? last.value.length, 'end');
  last.focus();
  last.dispatchEvent(new Event('input', { bubbles: true }));
}

for (const offered of form.querySelectorAll<HTMLElement>('[data-insert]')) {
  const text = offered.textContent;
  const button = Object.assign(document.createElement('button'), { type: 'button', className: 'plain', textContent: text });
  button.addEventListener('click', () => put(text));
  offered.replaceWith(button);
}
form.addEventListener('focusin', e => {
  const at = e.target;
  if (at instanceof HTMLTextAreaElement || (at instanceof HTMLInputElement && at.name === 'Form.Subject')) last = at;
});
form.addEventListener('input', () => {
  clearTimeout(resting);
  resting = window.setTimeout(show, RESTED_MS);
});
