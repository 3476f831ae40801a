// Sends what waits. A repeat of the same key is the same visit; a horse that changed in the meantime is looked at before anything
// is doubled.
import { isMine, isOnlyToBeRead, waiting, type Photograph, type Waiting } from './store';
import { dayIn } from './zone';

/** Two values of one thing on one day: of a measure, and where it has them of a side and a station. */
export interface Conflict {
  item: Waiting;
  kind: string;
  /** The measure's key, which names the side or the site too. */
  measure: string;
  station: string | null;
  mine: string;
  theirs: string;
  /** Who entered the other value. */
  by: string;
  /** Where the other value stands. */
  other: { visit: string; entry: string };
}

/** What somebody else entered for the same day. */
export interface Doubled {
  clashes: Conflict[];
  /** Entries of the visit that are on record with the same number: they are not entered twice. */
  again: Record<string, unknown>[];
}

interface ServerEntry {
  entryId: string;
  kind: string;
  station: string | null;
  stands: boolean;
  measures: { key: string; value: number | null; unit?: string }[];
}

interface ServerVisit {
  id: string;
  takenAt: string;
  by: string;
  withdrawn: boolean;
  entries: ServerEntry[];
}

const ANOTHER = 'entered-by-another';

const post = (w: Waiting, match: string) =>
  fetch(`/api/horses/${w.horse}/visits`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', 'Idempotency-Key': w.key, 'If-Match': match, 'Entered-By': w.by!.id },
    body: JSON.stringify(w.body),
  });

/** @returns what must be asked, or null when it was sent or has to wait on. */
export async function send(w: Waiting): Promise<Doubled | null> {
  // Somebody else's waits until they sign in here again.
  if (!isMine(w) || isOnlyToBeRead(w)) return null;
  if (w.arrived) return follow(w);
  // Which value stands was asked and answered: what changed meanwhile is known.
  let answer = await post(w, w.overrules ? '*' : `"${w.version}"`);
  if (answer.status === 412) {
    const { clashes, again } = await compare(w);
    if (clashes.length > 0) return { clashes, again };
    if (again.length > 0) {
      await give(
        w,
        w.body.entries.filter(e => !again.includes(e)),
        [],
      );
      return null;
    }
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

/** Why an entry need not be withdrawn any more. */
const GONE = new Set(['no-such-entry', 'no-such-visit', 'visit-withdrawn']);

/** Signed out, too slow or too much at once: nothing is said yet about the command itself. */
const LATER = new Set([401, 408, 429]);

interface Overruled {
  /** What is to be asked for again: the server could not take it now. */
  left: NonNullable<Waiting['overrules']>;
  /** Why another value stays for good. */
  beside?: string;
}

/** What gave way to a value of this visit is withdrawn, so that one of both stands; null where another signed in meanwhile. */
async function overrule(w: Waiting): Promise<Overruled | null> {
  const done: Overruled = { left: [] };
  for (const over of w.overrules ?? []) {
    const answer = await fetch(`/api/horses/${w.horse}/visits/${over.visit}/entries/${over.entry}/withdraw`, {
      method: 'POST',
      headers: {
        'Content-Type': 'application/json',
        'Idempotency-Key': `${w.key}:over:${over.entry}`,
        'If-Match': '*',
        'Entered-By': w.by!.id,
      },
      body: JSON.stringify({ reason: over.reason }),
    });
    if (answer.ok) continue;
    const problem = (await answer.json().catch(() => ({}))) as { code?: string; detail?: string };
    if (problem.code === ANOTHER) return null;
    if (GONE.has(problem.code ?? '')) continue;
    if (LATER.has(answer.status) || answer.status >= 500) done.left.push(over);
    else
      done.beside = `The visit is saved. The other value still stands beside it: ${
        problem.detail ?? 'somebody who fits has to withdraw it.'
      }`;
  }
  return done;
}

/** The photographs of a visit that is on record, one after the other; each that arrived is forgotten here. */
async function follow(w: Waiting): Promise<null> {
  let left: Waiting = { ...w, arrived: true };
  delete left.asks;
  // What was wrong the last time is tried again now.
  delete left.problem;
  await waiting.add(left);
  const overruled = await overrule(left);
  if (overruled === null) return null;
  const beside = overruled.beside ?? left.beside;
  left = { ...left, overrules: overruled.left, ...(beside === undefined ? {} : { beside, problem: beside }) };
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
      if (!LATER.has(answer.status) && answer.status < 500) {
        left = refused(left, photograph, problem.detail);
        await waiting.add(left);
        continue;
      }
      const photographWaits = `The visit is saved. A photograph is not: ${problem.detail ?? 'the server did not take it.'}`;
      await waiting.add({ ...left, problem: [left.beside, photographWaits].filter(Boolean).join(' ') });
      return null;
    }
    left = { ...left, photographs: left.photographs!.filter(p => p.id !== photograph.id) };
    await waiting.add(left);
  }
  // Until the other value has given way, or somebody has seen that it does not.
  if (overruled.left.length === 0 && left.beside === undefined) await waiting.drop(w.key);
  return null;
}

/** A picture that is not taken is not sent again: it stays on the device until somebody has seen why. */
function refused(w: Waiting, photograph: Photograph, why = 'The server did not take it.'): Waiting {
  const words = `The visit is saved. A photograph is not, and is not sent again: ${why}`;
  const beside = w.beside?.includes(words) ? w.beside : [w.beside, words].filter(Boolean).join(' ');
  return {
    ...w,
    photographs: w.photographs!.filter(p => p.id !== photograph.id),
    refused: [...(w.refused ?? []), photograph],
    beside,
    problem: beside,
  };
}

/** What the measure of an entry is called on record; it tells sides and sites apart. */
const measureOf = (e: Record<string, unknown>): string => {
  if (e.kind === 'reading') return String(e.measure);
  if (e.kind === 'muscle') return `muscle@${String(e.site)}`;
  if (e.kind === 'height') return 'height-withers';
  return e.kind === 'girth' ? 'weight' : String(e.kind);
};

const stationOf = (e: Record<string, unknown>): string | null => (e.station as string | undefined) ?? null;

const isTracing = (kind: unknown) => kind === 'cross-section' || kind === 'topline';

const isSame = (e: Record<string, unknown>, o: ServerEntry): boolean =>
  o.stands &&
  o.kind === e.kind &&
  (o.station ?? null) === stationOf(e) &&
  (isTracing(e.kind) || o.measures.some(m => m.key === measureOf(e)));

/** Somebody else entered the same thing for the same day: another value, or the same one again. */
async function compare(w: Waiting): Promise<Doubled> {
  const visits = (await (await fetch(`/api/horses/${w.horse}/visits`)).json()) as ServerVisit[];
  const day = dayIn(w.zone, w.body.takenAt);
  const clashes: Conflict[] = [];
  const again: Record<string, unknown>[] = [];
  for (const other of visits.filter(v => !v.withdrawn && v.id !== w.body.id && dayIn(w.zone, v.takenAt) === day)) {
    // Two notes say two things: both stand.
    for (const e of w.body.entries.filter(x => x.kind !== 'note')) {
      const twin = other.entries.find(o => isSame(e, o));
      if (!twin) continue;
      const measure = twin.measures.find(m => m.key === measureOf(e));
      if (!isTracing(e.kind) && e.kind !== 'girth' && numberIn(e) === measure?.value) {
        // A reading that agrees is a repeat, and worth having; a weight or a score is the same one.
        if (e.kind !== 'reading' && !again.includes(e)) again.push(e);
        continue;
      }
      clashes.push({
        item: w,
        kind: String(e.kind),
        measure: measureOf(e),
        station: stationOf(e),
        mine: words(e),
        theirs: isTracing(e.kind)
          ? 'a tracing'
          : `${measure?.value ?? '?'}${unitOf(String(e.kind))}${e.kind === 'girth' ? ' by tape' : ''}`,
        by: await nameOf(other.by),
        other: { visit: other.id, entry: twin.entryId },
      });
    }
  }
  return { clashes, again };
}

async function nameOf(person: string): Promise<string> {
  const answer = await fetch(`/api/people/${person}`).catch(() => null);
  const found = (answer?.ok ? await answer.json().catch(() => null) : null) as { name?: string } | null;
  return found?.name ?? 'somebody else';
}

const numberIn = (e: Record<string, unknown>): unknown => e.value ?? e.score;

const unitOf = (kind: string): string => ({ reading: '°', weight: ' kg', girth: ' kg', height: ' mm' })[kind] ?? '';

const words = (e: Record<string, unknown>): string => {
  if (isTracing(e.kind)) return 'a tracing';
  if (e.kind === 'girth') return `girth ${String(e.girth)} ${String(e.unit)}, length ${String(e.length)} ${String(e.unit)}`;
  const value = numberIn(e);
  return typeof value === 'number' || typeof value === 'string' ? `${value}${unitOf(String(e.kind))}` : '';
};

/**
 * Takes what was given up out of the waiting visit and sends the rest; what stands on record against what was kept is withdrawn.
 * @param again what is on record with the same number: it is left out too.
 */
export async function settle(w: Waiting, drop: Conflict[], keep: Conflict[] = [], again: Doubled['again'] = []): Promise<void> {
  const entries = w.body.entries.filter(
    e => !again.includes(e) && !drop.some(c => c.kind === e.kind && c.station === stationOf(e) && c.measure === measureOf(e)),
  );
  await give(
    w,
    entries,
    keep.map(c => ({ ...c.other, reason: `Entered twice for one day: ${c.mine} stands instead of ${c.theirs}.` })),
  );
}

async function give(w: Waiting, entries: Record<string, unknown>[], overrules: NonNullable<Waiting['overrules']>): Promise<void> {
  const body = { ...w.body, entries };
  if (entries.length === 0) {
    await follow({ ...w, body });
    return;
  }
  // Other content is another command: it takes a key of its own. One takes the other's place at once, so that a tab that closes now
  // neither loses the visit nor leaves both.
  const next: Waiting = entries.length === w.body.entries.length ? { ...w, overrules } : { ...w, key: `${w.key}:settled`, body, overrules };
  delete next.asks;
  await waiting.replace(w.key, next);
  const answer = await post(next, '*');
  if (answer.ok) await follow(next);
}
