// What waits on this device, said on every page.
import { isMine, isOnlyToBeRead, waiting, whoIsHere, type Photograph, type Waiting } from './store';

const NO_CONNECTION = 'No connection: pages are shown as this device kept them, and what you save waits here.';

const dayOf = (w: Waiting) => new Date(w.body.takenAt).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });

function stateOf(w: Waiting): string {
  if (!w.by) return 'kept on this device by an earlier release, which did not write down who entered it';
  if (!isMine(w)) return `entered by ${w.by.name}; kept on this device until they sign in here again`;
  // Where the entry stands in what was sent is for programs.
  if (w.problem) return w.problem.replace(/ \(entries\[\d+\]\)$/, '');
  if (w.asks) return 'saved on this device; somebody else entered the same, and you have not said yet which stands';
  if (!w.arrived) return 'saved on this device, waiting for a connection';
  return w.photographs?.length ? 'saved; its photographs wait for a connection' : 'saved; the other value has not given way yet';
}

/** @param deliver sends what waits; with a key, asks again what was asked about that one. */
export async function showWaiting(deliver: (answering?: string) => Promise<void>): Promise<void> {
  const tray = document.getElementById('waiting');
  if (!tray) return;
  const all = await waiting.all().catch(() => []);
  const copy = navigator.onLine ? [] : [Object.assign(document.createElement('p'), { textContent: NO_CONNECTION })];
  tray.hidden = all.length + copy.length === 0;
  tray.replaceChildren(
    ...copy,
    ...all.map(w => {
      const line = Object.assign(document.createElement('p'), { textContent: `${w.horseName}, ${dayOf(w)}: ${stateOf(w)}` });
      if (!w.by) line.append(' ', mineAfterAll(w, deliver));
      if (w.asks && isMine(w)) line.append(' ', answer(w, deliver));
      if (isOnlyToBeRead(w) && isMine(w)) line.append(' ', ...(w.refused ?? []).flatMap(p => [copyOf(p), ' ']), seen(w, deliver));
      return line;
    }),
  );
}

function answer(w: Waiting, deliver: (answering: string) => Promise<void>): HTMLButtonElement {
  const button = Object.assign(document.createElement('button'), { type: 'button', className: 'plain', textContent: 'Say which stands' });
  button.addEventListener('click', () => void deliver(w.key));
  return button;
}

/** Whoever took the picture may want it all the same. */
const copyOf = (p: Photograph): HTMLAnchorElement =>
  Object.assign(document.createElement('a'), {
    href: URL.createObjectURL(p.bytes),
    download: 'photograph',
    textContent: 'Keep a copy of the photograph',
  });

function seen(w: Waiting, deliver: () => Promise<void>): HTMLButtonElement {
  const button = Object.assign(document.createElement('button'), { type: 'button', className: 'plain', textContent: 'I have seen it' });
  button.addEventListener('click', () => void waiting.drop(w.key).then(() => showWaiting(deliver)));
  return button;
}

/** Whoever entered it says so: nobody else can. */
function mineAfterAll(w: Waiting, deliver: () => Promise<void>): HTMLButtonElement {
  const button = Object.assign(document.createElement('button'), {
    type: 'button',
    className: 'plain',
    textContent: 'I entered it: send it',
  });
  button.addEventListener('click', () => void waiting.add({ ...w, by: whoIsHere() }).then(() => deliver()));
  return button;
}
