// Visit entry in the yard: kept as it is typed, questioned where it jumps, sent when there is a connection.
import { draft, forget, isMine, isOnlyToBeRead, photographs, tracings, waiting, whoIsHere, type VisitBody, type Waiting } from './store';
import { placed, refuseUnlessTaken } from './check';
import { lastWaiting } from './earlier';
import { earlierFields, entriesOf, NotANumber } from './entries';
import { fieldsOf } from './fields';
import { questionOf } from './jump';
import { pagesOfTheDay } from './day';
import { deliver } from './deliver';
import { lookAtAll, showTracings, takeFiles } from './traced';
import { showWaiting } from './tray';
import { inZone } from './zone';

const form = document.querySelector<HTMLFormElement>('form[data-visit]');

async function restore(f: HTMLFormElement): Promise<void> {
  const found = await draft.load(f.dataset.horse!);
  if (!found) {
    // A copy that was kept for the yard can be opened for several visits: each has a key of its own.
    for (const key of f.querySelectorAll<HTMLInputElement>('input[name="Form.Key"]')) key.value = crypto.randomUUID();
    return;
  }
  const kept = earlierFields(found);
  for (const el of f.elements) {
    if (!(el instanceof HTMLInputElement || el instanceof HTMLSelectElement || el instanceof HTMLTextAreaElement) || el.type === 'file')
      continue;
    const value = kept[el.name];
    if (value === undefined || el.type === 'hidden') continue;
    if (el instanceof HTMLInputElement && el.type === 'checkbox') el.checked = value === 'true';
    else if (el instanceof HTMLInputElement && el.type === 'radio') el.checked = el.value === value;
    else el.value = value;
  }
  for (const key of f.querySelectorAll<HTMLInputElement>('input[name="Form.Key"]')) key.value = kept['Form.Key'] ?? key.value;
  note('What you had typed for this horse is still here.', f);
}

function note(text: string, f: HTMLFormElement): void {
  f.querySelector<HTMLElement>('[data-note]')!.textContent = text;
}

/** A jump larger than two visits differ by themselves is questioned at once, while the horse is still there. */
function question(input: HTMLInputElement): void {
  const place = document.getElementById(`${input.id}-ask`);
  if (!place) return;
  const { last, mdc } = input.dataset;
  const asked = last === undefined ? null : questionOf(input.value, Number(last), Number(mdc));
  place.hidden = asked === null;
  if (asked !== null) place.textContent = asked;
}

/** What was read at a visit that still waits on this device is the last value here, whatever the page knew when it was fetched. */
async function compareWithWaiting(f: HTMLFormElement): Promise<void> {
  const last = lastWaiting((await waiting.all().catch(() => [])).filter(isMine), f.dataset.horse!);
  for (const input of f.querySelectorAll<HTMLInputElement>('input[data-mdc]')) {
    const earlier = last.get(input.name);
    if (!earlier) continue;
    input.dataset.last = String(earlier.value);
    const day = new Date(earlier.takenAt).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });
    const says = document.getElementById(`${input.id}-last`);
    if (says) says.textContent = `last ${earlier.value}, ${day}, waiting on this device`;
  }
}

/** @param origins filled with the name of the field of each entry. */
async function bodyOf(f: HTMLFormElement, origins: string[]): Promise<VisitBody> {
  refuseUnlessTaken(f);
  const fields = fieldsOf(f);
  const entries = entriesOf(fields, origins);
  for (const t of await tracings.of(f.dataset.horse!)) {
    entries.push(t.entry);
    origins.push(t.says);
  }
  if (entries.length === 0) throw new NotANumber('There is nothing to enter yet.');
  return {
    id: crypto.randomUUID(),
    takenAt: inZone(fields['Form.Day']!, fields['Form.Time']!, f.dataset.zone!),
    method: (fields['Form.OtherMethod'] ?? '').trim() || fields['Form.Method']!,
    entries,
    conditions: {
      levelGround: fields['Form.LevelGround'] === 'true',
      stoodSquare: fields['Form.StoodSquare'] === 'true',
      riddenInLastTwoHours: fields['Form.Ridden'] === 'true',
      bodyWorkInLastDay: fields['Form.BodyWork'] === 'true',
      head: fields['Form.Head'],
      holder: fields['Form.Holder'] || null,
      source: fields['Form.Source'],
    },
  };
}

/** @param then where to go on to when the visit is on record; to its page when null. */
async function submit(f: HTMLFormElement, then: string | null): Promise<void> {
  const buttons = f.querySelectorAll<HTMLButtonElement>('button:not([type])');
  for (const button of buttons) button.disabled = true;
  const origins: string[] = [];
  try {
    const item: Waiting = {
      key: `yard:${fieldsOf(f)['Form.Key']}`,
      horse: f.dataset.horse!,
      horseName: f.dataset.name!,
      version: Number(f.dataset.version),
      body: await bodyOf(f, origins),
      zone: f.dataset.zone!,
      at: new Date().toISOString(),
      by: whoIsHere(),
      photographs: await photographs.of(f.dataset.horse!),
    };
    // Kept on the device first: whatever happens to the connection now, nothing is lost.
    await waiting.add(item);
    await draft.drop(item.horse);
    const own = await tracings.of(item.horse);
    for (const t of own) await tracings.drop(t.id);
    for (const p of item.photographs ?? []) await photographs.drop(p.id);
    f.dataset.sent = '1';
    await deliver();
    const left = (await waiting.all()).find(w => w.key === item.key);
    // What there is still to be read about it stands at the head of every page.
    if (!left || isOnlyToBeRead(left)) {
      location.assign(then ?? `/horses/${item.horse}/visits/${item.body.id}?saved=visit`);
      return;
    }
    if (left.problem && left.arrived) {
      note(left.problem, f);
      return;
    }
    if (left.problem) {
      for (const t of own) await tracings.add(t);
      for (const p of item.photographs ?? []) await photographs.add(p);
      await draft.keep(item.horse, fieldsOf(f));
      await waiting.drop(item.key);
      delete f.dataset.sent;
      note(`${placed(f, left.problem, origins)} Nothing was saved; what you typed is still here.`, f);
      return;
    }
    note('Saved on this device. It is sent as soon as there is a connection; you can go on to the next horse.', f);
  } catch (e) {
    if (!(e instanceof NotANumber)) throw e;
    note(`${e.message} Nothing was saved; what you typed is still here.`, f);
  } finally {
    for (const button of buttons) button.disabled = false;
  }
}

/** Signing out waits until this device has forgotten what was not handed in. */
function forgetAtSignOut(): void {
  const out = document.querySelector<HTMLFormElement>('form[action="/sign-out"]');
  out?.addEventListener('submit', e => {
    if (out.dataset.forgotten) return;
    e.preventDefault();
    out.dataset.forgotten = '1';
    void forget()
      .catch(() => undefined)
      .then(() => out.submit());
  });
}

const MOST_BYTES = 25 << 20;

/** The tracings and photographs that go with this visit, each with a way to take it out again. */
async function showKept(f: HTMLFormElement): Promise<void> {
  const taken = f.querySelector<HTMLElement>('[data-photographs]');
  const item = (text: string, picture: Blob | null, drop: () => Promise<unknown>) => {
    const li = document.createElement('li');
    if (picture) li.append(Object.assign(document.createElement('img'), { src: URL.createObjectURL(picture), alt: text, width: 96 }));
    const button = Object.assign(document.createElement('button'), { type: 'button', className: 'plain', textContent: 'Take out' });
    button.setAttribute('aria-label', `Take out: ${text}`);
    button.addEventListener('click', () => void drop().then(() => showKept(f)));
    li.append(Object.assign(document.createElement('span'), { textContent: text }), button);
    return li;
  };
  await showTracings(f);
  taken?.replaceChildren(
    ...(await photographs.of(f.dataset.horse!)).map((p, i) => item(`Photograph ${i + 1}`, p.bytes, () => photographs.drop(p.id))),
  );
}

async function take(f: HTMLFormElement, files: FileList): Promise<void> {
  for (const file of files) {
    if (file.size > MOST_BYTES) {
      note(`“${file.name}” is larger than ${MOST_BYTES >> 20} MB and was not taken. Save it smaller.`, f);
      continue;
    }
    await photographs.add({ id: crypto.randomUUID(), horse: f.dataset.horse!, bytes: file });
  }
  await showKept(f);
}

/** The worker keeps what the yard needs, also when this page came before the worker did. */
async function keepForTheYard(f: HTMLFormElement): Promise<void> {
  const ready = await navigator.serviceWorker.ready;
  const here = [...document.querySelectorAll<HTMLScriptElement | HTMLLinkElement>('script[src],link[rel=stylesheet],link[rel=icon]')].map(
    e => ('src' in e ? e.src : e.href),
  );
  ready.active?.postMessage({ who: whoIsHere().id, keep: [location.pathname, ...here, ...f.dataset.keep!.split(' ')] });
}

if (form) {
  const chosen = form.querySelector<HTMLInputElement>('#photographs');
  chosen?.closest<HTMLElement>('fieldset')!.removeAttribute('hidden');
  chosen?.addEventListener(
    'change',
    () =>
      void take(form, chosen.files!).then(() => {
        chosen.value = '';
      }),
  );
  form.querySelector<HTMLElement>('[data-desk]')?.removeAttribute('hidden');
  void showKept(form);
  if ('serviceWorker' in navigator) void keepForTheYard(form);
  void restore(form)
    .then(() => compareWithWaiting(form))
    .then(() => form.querySelectorAll<HTMLInputElement>('input[data-last]').forEach(question));
  let asked = 0;
  form.addEventListener('change', e => {
    if (e.target instanceof HTMLInputElement && e.target.dataset.kind !== undefined) return;
    clearTimeout(asked);
    asked = window.setTimeout(() => void lookAtAll(form), 300);
  });
  for (const files of form.querySelectorAll<HTMLInputElement>('input[type=file][name^="file-"]'))
    files.addEventListener('change', () => void takeFiles(form, files));
  form.addEventListener('input', e => {
    if (e.target instanceof HTMLInputElement) question(e.target);
    if (!form.dataset.sent && !(e.target instanceof HTMLInputElement && e.target.type === 'file'))
      void draft.keep(form.dataset.horse!, fieldsOf(form));
  });
  form.addEventListener('submit', e => {
    e.preventDefault();
    void submit(form, (e.submitter as HTMLButtonElement | null)?.value || null);
  });
}
// What is added to a visit later is asked about by the same rule.
for (const input of form ? [] : document.querySelectorAll<HTMLInputElement>('main input[data-last]')) {
  question(input);
  input.addEventListener('input', () => question(input));
}
forgetAtSignOut();
addEventListener('online', () => void deliver());
addEventListener('offline', () => void showWaiting(deliver));
void deliver();
if ('serviceWorker' in navigator) void navigator.serviceWorker.register('/js/worker.js', { scope: '/' }).catch(() => undefined);
if ('serviceWorker' in navigator && !form)
  void navigator.serviceWorker.ready.then(r =>
    r.active?.postMessage({
      who: whoIsHere().id,
      ...pagesOfTheDay({ path: location.pathname, search: location.search }, document.querySelectorAll<HTMLAnchorElement>('main a[href]')),
    }),
  );
