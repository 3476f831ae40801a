// The tracings that were chosen as files or made at the desk for a visit that is still being entered: kept on the device at once, and
// looked at by the server, beside what was read by hand, as long as there is a connection.
import { numberOf } from '../form/values';
import { showProblem } from './check';
import { NotANumber, tracingsOf } from './entries';
import { tracings, type KeptTracing } from './store';

const MOST_BYTES = 4 << 20;

interface Looked {
  refused?: { message: string } | null;
  concerns: string[];
}

const placeOf = (form: HTMLFormElement, { entry }: KeptTracing): HTMLElement | null => {
  const named = entry.kind === 'topline' ? 'topline' : String(entry.station);
  const lists = [...form.querySelectorAll<HTMLElement>('[data-tracings]')];
  return lists.find(l => l.dataset.tracings === named) ?? lists.find(l => l.dataset.tracings === 'any') ?? null;
};

const stationsOf = (form: HTMLFormElement): string[] =>
  [...form.querySelectorAll<HTMLElement>('input[type=file][data-station]')].map(i => i.dataset.station!);

/** Takes the files of a field onto the device: they survive a closed tab, and what cannot be read is said beside the field. */
export async function takeFiles(form: HTMLFormElement, input: HTMLInputElement): Promise<void> {
  const wrong: string[] = [];
  for (const file of input.files ?? []) {
    try {
      if (file.size > MOST_BYTES) throw new NotANumber(`The file is larger than ${MOST_BYTES >> 20} MB.`);
      const read = tracingsOf(file.name, await file.text(), {
        kind: input.dataset.kind ?? null,
        station: input.dataset.station ?? null,
        stations: stationsOf(form),
      });
      for (const [i, entry] of read.entries())
        await tracings.add({
          // In the order in which they were chosen.
          id: `${Date.now()}-${crypto.randomUUID()}`,
          horse: form.dataset.horse!,
          says: read.length > 1 ? `${file.name}, tracing ${i + 1}` : file.name,
          entry,
        });
    } catch (e) {
      if (!(e instanceof NotANumber)) throw e;
      wrong.push(`“${file.name}”: ${e.message}`);
    }
  }
  input.value = '';
  showProblem(input.id, wrong.length === 0 ? null : `${wrong.join(' ')} It was not taken.`);
  await showTracings(form);
}

/** Lists what is kept under the station it belongs to, each with a way to take it out again. */
export async function showTracings(form: HTMLFormElement): Promise<void> {
  const kept = await tracings.of(form.dataset.horse!);
  for (const list of form.querySelectorAll<HTMLElement>('[data-tracings]'))
    list.replaceChildren(...kept.filter(t => placeOf(form, t) === list).map(t => item(form, t)));
  await lookAtAll(form);
}

function item(form: HTMLFormElement, traced: KeptTracing): HTMLLIElement {
  const li = document.createElement('li');
  li.dataset.traced = traced.id;
  const text = document.createElement('div');
  text.append(Object.assign(document.createElement('span'), { textContent: traced.says }));
  const button = Object.assign(document.createElement('button'), { type: 'button', className: 'plain', textContent: 'Take out' });
  button.setAttribute('aria-label', `Take out: ${traced.says}`);
  button.addEventListener('click', () => void tracings.drop(traced.id).then(() => showTracings(form)));
  li.append(text, button);
  return li;
}

/** What was read by hand of the same place, as the server is asked. */
function readingsOf(form: HTMLFormElement, { entry }: KeptTracing): string[] {
  return [...form.querySelectorAll<HTMLInputElement>('input[data-reads]')].flatMap(input => {
    const [measure = '', station = ''] = input.dataset.reads!.split('@');
    const same =
      entry.kind === 'topline' ? measure === 'read-topline-slope' : measure !== 'read-topline-slope' && station === entry.station;
    const value = same ? numberOf(input.value) : null;
    return value === null ? [] : [`${input.dataset.reads}:${value}`];
  });
}

const known = new Map<string, Looked>();

/** Asks what the server thinks of each tracing; without a connection nothing is said, and nothing is lost. */
export async function lookAtAll(form: HTMLFormElement): Promise<void> {
  const method = form.querySelector<HTMLSelectElement>('[name="Form.Method"]')?.value ?? '';
  for (const traced of await tracings.of(form.dataset.horse!)) {
    const asked = new URLSearchParams({ method });
    for (const reading of readingsOf(form, traced)) asked.append('reading', reading);
    const looked = await look(traced, asked.toString());
    const place = form.querySelector<HTMLElement>(`[data-traced="${CSS.escape(traced.id)}"] > div`);
    if (looked && place) tell(place, looked);
  }
}

async function look(traced: KeptTracing, asked: string): Promise<Looked | null> {
  const key = `${traced.id}?${asked}`;
  const before = known.get(key);
  if (before) return before;
  const { calibration: _, id: __, ...tracing } = traced.entry;
  const answer = await fetch(`/api/measure?${asked}`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(tracing),
  }).catch(() => null);
  if (!answer?.ok) return null;
  const looked = (await answer.json()) as Looked;
  known.set(key, looked);
  return looked;
}

function tell(place: HTMLElement, looked: Looked): void {
  for (const said of place.querySelectorAll('small')) said.remove();
  const lines = looked.refused ? [looked.refused.message] : looked.concerns;
  for (const line of lines) place.append(Object.assign(document.createElement('small'), { className: 'ask', textContent: line }));
  if (lines.length === 0)
    place.append(Object.assign(document.createElement('small'), { className: 'soft', textContent: 'Nothing to mend.' }));
}
