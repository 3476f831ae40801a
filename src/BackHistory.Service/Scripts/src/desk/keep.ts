// Where a tracing goes: the draft on this device while it grows, then the visit on record or the one that is being entered, and
// its picture with it.
import { photographs, tracings } from '../visit/store';
import type { Shown } from './picture';
import type { Sheet } from './sheet';

/** What the server takes as a file of a visit. */
export const MOST_KEPT = 25 << 20;

/** The sheet is kept on this device as it grows; the picture is put in again by hand. */
export class Draft {
  private readonly pictureKey: string;

  constructor(private readonly key: string) {
    this.pictureKey = `${key}:picture`;
  }

  keep(sheet: Sheet, shown: Shown | null): void {
    try {
      localStorage.setItem(this.key, JSON.stringify(sheet));
      localStorage.setItem(this.pictureKey, JSON.stringify(shown));
    } catch {
      /* A full store loses the draft, not the work on the screen. */
    }
  }

  restore(): { sheet: Sheet; shown: Shown | null } | null {
    try {
      const kept = localStorage.getItem(this.key);
      return kept
        ? { sheet: JSON.parse(kept) as Sheet, shown: JSON.parse(localStorage.getItem(this.pictureKey) ?? 'null') as Shown | null }
        : null;
    } catch {
      this.drop();
      return null;
    }
  }

  drop(): void {
    for (const key of [this.key, this.pictureKey]) localStorage.removeItem(key);
  }
}

const kindOf = (f: File) => (f.type === 'application/pdf' ? 'document' : 'photograph');

/** With the visit that is being entered; traced again, tracing and picture take the place of those before. */
export async function withVisit(
  horse: string,
  what: string,
  says: string,
  entry: Record<string, unknown>,
  picture: File | null,
): Promise<void> {
  if (picture) await photographs.add({ id: `desk:${horse}:${what}`, horse, bytes: picture, kind: kindOf(picture) });
  await tracings.add({ id: `${horse}:${what}`, horse, says, entry });
}

/** @returns why it was not taken, or null when it is on record. */
export const record = (url: string, key: string, entry: Record<string, unknown>) =>
  post(
    url,
    key,
    'application/json',
    JSON.stringify({ entries: [entry] }),
    'It could not be saved now. What you traced stays here; try again.',
  );

/** The picture goes with its visit, so that the tracing can be laid over it again. */
export const attach = (url: string, key: string, picture: File) =>
  post(`${url}&kind=${kindOf(picture)}`, `${key}:picture`, 'application/octet-stream', picture, 'There is no connection.');

async function post(url: string, key: string, type: string, body: BodyInit, otherwise: string): Promise<string | null> {
  const answer = await fetch(url, {
    method: 'POST',
    headers: { 'Content-Type': type, 'Idempotency-Key': key, 'If-Match': '*' },
    body,
  }).catch(() => null);
  if (answer?.ok) return null;
  const problem = (await answer?.json().catch(() => null)) as { detail?: string } | null;
  return problem?.detail ?? otherwise;
}
