// What was read at visits that wait on this device: a record does not have them yet, and the next visit is compared with them all the same.
import type { Waiting } from './store';

export interface Earlier {
  value: number;
  /** When it was read, ISO 8601. */
  takenAt: string;
}

const SIDES: Record<string, string> = { 'read-slope-left': 'Left', 'read-slope-right': 'Right', 'read-topline-slope': 'Along' };

/** The field of a form in which an entry was typed; null for what is compared with nothing. */
function fieldOf(e: Record<string, unknown>): string | null {
  const side = SIDES[String(e.measure)];
  if (e.kind === 'reading') return side && typeof e.station === 'string' ? `Form.${side}[${e.station}]` : null;
  if (e.kind === 'condition') return 'Form.Condition';
  if (e.kind === 'weight') return e.unit === 'kg' ? 'Form.Weight' : null;
  const site = typeof e.site === 'string' ? e.site : '';
  return e.kind === 'muscle' && site ? `Form.Muscle${site[0]!.toUpperCase()}${site.slice(1)}` : null;
}

/** The last value of each field of one horse among the visits that wait, by the field's name. */
export function lastWaiting(waiting: Waiting[], horse: string): Map<string, Earlier> {
  const last = new Map<string, Earlier>();
  for (const w of waiting) {
    if (w.horse !== horse || w.arrived) continue;
    for (const e of w.body.entries) {
      const [field, value] = [fieldOf(e), e.value ?? e.score];
      if (field === null || typeof value !== 'number') continue;
      const before = last.get(field);
      if (!before || Date.parse(before.takenAt) <= Date.parse(w.body.takenAt)) last.set(field, { value, takenAt: w.body.takenAt });
    }
  }
  return last;
}
