// Bringing in a table, step by step: send it in, say what its columns mean, see what would become of each line, enter it, take it back.
import { Asked, chosenColumns, showColumns, showRead } from './bringColumns';
import { follow, showEarlier } from './bringEarlier';
import { showLines } from './bringLines';
import { ask, at, MAY_HAVE_BEGUN, NOTHING_SAVED, reach, root, taken, tell, type Field, type Sheet, type Trial } from './bringWire';

let sheet: Sheet | null = null;
let fields: Record<string, Field[]> = {};
const kind = at<HTMLSelectElement>('#kind');

const step = (name: string) => at(`[data-step=${name}]`);

/** What was tried is entered, and nothing else: whoever changes the plan tries again. */
const untried = () => {
  step('trial').hidden = true;
};

const asked = new Asked(untried);

const plan = () => JSON.stringify({ kind: kind.value, columns: chosenColumns(), ...asked.answers() });

function goTo(place: HTMLElement): void {
  place.focus({ preventScroll: true });
  place.scrollIntoView({ block: 'start' });
}

async function send(): Promise<void> {
  const file = at<HTMLInputElement>('#file').files?.[0];
  if (!file) {
    tell('Choose a file first.');
    return;
  }
  tell('Reading…');
  const named = at<HTMLInputElement>('#sheet').value.trim();
  const address = `/api/imports?name=${encodeURIComponent(file.name.slice(0, 120))}${named ? `&sheet=${encodeURIComponent(named)}` : ''}`;
  const read = await ask<Sheet>('POST', address, {
    body: file,
    type: 'application/octet-stream',
    lost: 'There is no connection. If the table does not stand among the earlier ones when there is one, send it in again.',
  });
  if (!read) return;
  sheet = read;
  fields = (await ask<{ fields: Record<string, Field[]> }>('GET', '/api/imports/fields'))?.fields ?? {};
  showRead(sheet);
  columns();
  step('columns').hidden = false;
  tell('Say what the columns are. Nothing is saved yet.');
  goTo(step('columns').querySelector('h2')!);
  await showEarlier();
}

function columns(): void {
  untried();
  asked.forget();
  if (sheet) showColumns(sheet, fields[kind.value] ?? [], untried);
}

async function tryIt(): Promise<void> {
  tell('Trying…');
  const given = plan();
  const lines = (verdict: string, after: number) =>
    ask<Trial>('POST', `/api/imports/${sheet!.id}/try?verdict=${verdict}&after=${after}`, { body: given, lost: NOTHING_SAVED });
  const result = await lines('Refused', 0);
  if (!result) return;
  if (result.questions.length > 0) {
    asked.add(result.questions);
    untried();
    tell('Something has to be answered first. Then try again.');
    goTo(at('[data-asked] h3'));
    return;
  }
  const { counts } = result;
  at('[data-counts]').textContent =
    `${sheet!.lines} lines: ${counts.entered} would be entered, ${counts.already} are here already, ${counts.refused} are refused.`;
  const enters = at<HTMLButtonElement>('[data-do=enter]');
  enters.disabled = counts.entered === 0;
  // A button that cannot be pressed offers nothing: what is left to do is said in its place.
  enters.hidden = counts.entered === 0;
  enters.textContent = counts.entered === 1 ? 'Enter 1 line' : `Enter ${counts.entered} lines`;
  at('[data-nothing]').hidden = counts.entered > 0;
  await showLines(at('[data-lines]'), counts, lines, result);
  step('trial').hidden = false;
  tell('Nothing is saved yet.');
  goTo(step('trial').querySelector('h2')!);
}

async function enter(): Promise<void> {
  const enters = at<HTMLButtonElement>('[data-do=enter]');
  enters.disabled = true;
  const answer = await reach('POST', `/api/imports/${sheet!.id}/enter`, { body: plan() });
  if (answer && (await taken(answer)) === null) {
    enters.disabled = false;
    return;
  }
  const became = await follow(sheet!.id, answer ? undefined : MAY_HAVE_BEGUN);
  if (became?.state !== 'entered') {
    // It had not begun: entered again it is entered once.
    enters.disabled = became?.state !== 'sent-in';
    return;
  }
  sheet = null;
  at<HTMLInputElement>('#file').value = '';
  for (const name of ['columns', 'trial']) step(name).hidden = true;
  at('[data-told]').scrollIntoView({ block: 'center' });
}

for (const [name, act] of Object.entries({ send, try: tryIt, enter })) at(`[data-do=${name}]`).addEventListener('click', () => void act());
kind.addEventListener('change', columns);
root.querySelector('#file')!.addEventListener('change', () => tell(''));
void showEarlier();
