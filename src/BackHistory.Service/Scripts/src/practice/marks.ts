// What is wrong with the table of a gauge, row by row, while it is typed; the service says the same when it is sent.

import { numberOf } from '../form/values';

export interface Mark {
  name: string;
  place: string;
  value: string;
}

export type Part = keyof Mark;

export interface Fault {
  row: number;
  part: Part;
  says: string;
}

const isEmpty = (m: Mark): boolean => [m.name, m.place, m.value].every(t => t.trim() === '');

/** A row that nobody has begun, or whose value is still missing, is no fault yet. */
export function faults(table: readonly Mark[]): Fault[] {
  const found: Fault[] = [];
  const rows = [...table.entries()].filter(([, m]) => !isEmpty(m));
  const numbered = rows.every(([, m]) => numberOf(m.name) !== null);
  const read: { row: number; name: string; place: number; value: number }[] = [];
  for (const [count, [row, m]] of rows.entries()) {
    const typed = numberOf(m.place);
    const value = numberOf(m.value);
    if (m.place.trim() !== '' && typed === null) found.push({ row, part: 'place', says: `“${m.place}” is no number.` });
    if (m.value.trim() !== '' && value === null) found.push({ row, part: 'value', says: `“${m.value}” is no number.` });
    else if (value !== null && m.name.trim() === '') found.push({ row, part: 'name', says: 'Say what is engraved there.' });
    const place = typed ?? (numbered ? numberOf(m.name) : null) ?? count;
    if (value !== null) read.push({ row, name: m.name.trim(), place, value });
  }
  if (found.length > 0) return found;
  read.sort((a, b) => a.place - b.place);
  const [first, last] = [read[0], read.at(-1)];
  if (!first || !last) return found;
  const rising = last.value > first.value;
  for (const [i, mark] of read.entries()) {
    const before = read[i - 1];
    if (!before) continue;
    if (mark.place === before.place) found.push({ row: mark.row, part: 'place', says: `On the same place as “${before.name}”.` });
    else if (mark.value === before.value || mark.value > before.value !== rising)
      found.push({ row: mark.row, part: 'value', says: `It turns round after “${before.name}”: a gauge only rises or only falls.` });
  }
  return found;
}
