// Sends what waits. A repeat of the same key is the same visit; a horse that changed in the meantime is looked at before anything
// is doubled.
import { isMine, waiting, type Waiting } from './store';

export interface Conflict {
  item: Waiting;
  kind: string;
  station: string | null;
  mine: string;
  theirs: string;
  by: string;
}

interface ServerVisit {
  id: string;
  takenAt: string;
  withdrawn: boolean;
  entries: { kind: string; station: string | null; stands: boolean; measures: { key: string; value: number | null }[] }[];
}

const ANOTHER = 'entered-by-another';

const post = (w: Waiting, match: string) =>
  fetch(`/api/horses/${w.horse}/visits`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', 'Idempotency-Key': w.key, 'If-Match': match, 'Entered-By': w.by!.id },
    body: JSON.stringify(w.body),
  });

/** @returns what must be asked, or null when it was sent or has to wait on. */
export async function send(w: Waiting): Promise<Conflict[] | null> {
  // Somebody else's waits until they sign in here again.
  if (!isMine(w)) return null;
  if (w.arrived) return follow(w);
  let answer = await post(w, `"${w.version}"`);
  if (answer.status === 412) {
    const clashes = await conflicts(w);
    if (clashes.length > 0) return clashes;
    answer = await post(w, '*');
  }
  if (answer.ok) return follow(w);
  if (answer.status >= 400 && answer.status < 500 && answer.status !== 401) {
    const problem = (await answer.json().catch(() => ({}))) as { code?: string; detail?: string; place?: string };
    // Another signed in meanwhile, in another window: nothing is wrong with the visit.
    if (problem.code === ANOTHER) return null;
    await waiting.add({ ...w, problem: `${problem.detail ?? 'The server did not take it.'}${problem.place ? ` (${problem.place})` : ''}` });
  }
  return null;
}

/** The photographs of a visit that is on record, one after the other; each that arrived is forgotten here. */
async function follow(w: Waiting): Promise<null> {
  let left: Waiting = { ...w, arrived: true };
  await waiting.add(left);
  const of = w.body.entries.length > 0 ? `&visitId=${w.body.id}` : '';
  for (const photograph of w.photographs ?? []) {
    const answer = await fetch(
      `/api/horses/${w.horse}/files?kind=${photograph.kind ?? 'photograph'}${of}&takenAt=${encodeURIComponent(w.body.takenAt)}`,
      {
        method: 'POST',
        headers: {
          'Content-Type': 'application/octet-stream',
          'Idempotency-Key': `${w.key}:${photograph.id.split('/').at(-1)}`,
          'If-Match': '*',
          'Entered-By': w.by!.id,
        },
        body: photograph.bytes,
      },
    );
    if (!answer.ok) {
      const problem = (await answer.json().catch(() => ({}))) as { code?: string; detail?: string };
      if (problem.code === ANOTHER) return null;
      await waiting.add({
        ...left,
        problem: `The visit is saved. A photograph is not: ${problem.detail ?? 'the server did not take it.'}`,
      });
      return null;
    }
    left = { ...left, photographs: left.photographs!.filter(p => p.id !== photograph.id) };
    await waiting.add(left);
  }
  await waiting.drop(w.key);
  return null;
}

/** Somebody else entered the same thing for the same day. */
async function conflicts(w: Waiting): Promise<Conflict[]> {
  const visits = (await (await fetch(`/api/horses/${w.horse}/visits`)).json()) as ServerVisit[];
  const day = w.body.takenAt.slice(0, 10);
  const clashes: Conflict[] = [];
  for (const other of visits.filter(v => !v.withdrawn && v.id !== w.body.id && v.takenAt.slice(0, 10) === day)) {
    // Two notes say two things: both stand.
    for (const e of w.body.entries.filter(x => x.kind !== 'note')) {
      const twin = other.entries.find(
        o =>
          o.stands &&
          o.kind === e.kind &&
          (o.station ?? null) === ((e.station as string | undefined) ?? null) &&
          same(o.measures[0]?.key, e),
      );
      if (!twin) continue;
      const [mine, theirs] = [words(e), twin.measures[0]?.value ?? null];
      if (mine !== String(theirs))
        clashes.push({
          item: w,
          kind: String(e.kind),
          station: (e.station as string | undefined) ?? null,
          mine,
          theirs: theirs === null ? 'a tracing' : String(theirs),
          by: other.takenAt,
        });
    }
  }
  return clashes;
}

const same = (key: string | undefined, e: Record<string, unknown>) => e.kind !== 'reading' || key === e.measure;

const words = (e: Record<string, unknown>): string => {
  const value = e.value ?? e.score;
  if (typeof value === 'number' || typeof value === 'string') return String(value);
  return e.points ? 'a tracing' : '';
};

/** Takes what was chosen out of the waiting visit and sends the rest. */
export async function settle(w: Waiting, drop: Conflict[]): Promise<void> {
  const entries = w.body.entries.filter(
    e => !drop.some(c => c.kind === e.kind && c.station === ((e.station as string | undefined) ?? null) && c.mine === words(e)),
  );
  if (entries.length === 0) {
    await follow({ ...w, body: { ...w.body, entries } });
    return;
  }
  // Other content is another command: it takes a key of its own.
  const next = { ...w, key: `${w.key}:settled`, body: { ...w.body, entries } };
  await waiting.drop(w.key);
  await waiting.add(next);
  const answer = await post(next, '*');
  if (answer.ok) await follow(next);
}
