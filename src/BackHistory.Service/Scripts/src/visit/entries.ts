// From what is typed to the entries of a visit, in the form the server takes.
import { numberOf } from '../form/values';

/** A field or a file that holds nothing that can be taken, in a person's words. */
export class NotANumber extends Error {}

const READ = /^Form\.(Left|Right|Along)\[(.+)\]$/;
const MEASURES = { Left: 'read-slope-left', Right: 'read-slope-right', Along: 'read-topline-slope' } as const;
const SAID = { Left: 'Left slope', Right: 'Right slope', Along: 'Topline' } as const;

/** @param origins filled with the name of the field of each entry, in the order of the entries. */
export function entriesOf(fields: Record<string, string>, origins: string[] = []): Record<string, unknown>[] {
  const out: Record<string, unknown>[] = [];
  const add = (name: string, entry: Record<string, unknown>) => {
    out.push(entry);
    origins.push(name);
  };
  const take = (name: string, label: string, make: (v: number) => Record<string, unknown>) => {
    const text = fields[name] ?? '';
    if (text.trim() === '') return;
    const value = numberOf(text);
    if (value === null) throw new NotANumber(`${label}: “${text}” is no number.`);
    add(name, make(value));
  };
  for (const name of Object.keys(fields)) {
    const [, what, station] = READ.exec(name) ?? [];
    if (what !== 'Left' && what !== 'Right' && what !== 'Along') continue;
    take(name, SAID[what], value => ({ kind: 'reading', measure: MEASURES[what], station, value }));
  }
  take('Form.Condition', 'Condition', score => ({ kind: 'condition', score }));
  for (const site of ['Neck', 'Back', 'Hind'])
    take(`Form.Muscle${site}`, `Muscle ${site}`, score => ({ kind: 'muscle', site: site.toLowerCase(), score }));
  take('Form.Weight', 'Weight', value => ({ kind: 'weight', value, unit: 'kg' }));
  const [girth, length] = [numberOf(fields['Form.Girth'] ?? ''), numberOf(fields['Form.Length'] ?? '')];
  if (girth !== null && length !== null) add('Form.Girth', { kind: 'girth', girth, length, unit: 'cm' });
  else if ((fields['Form.Girth'] ?? '') + (fields['Form.Length'] ?? '') !== '')
    throw new NotANumber('Girth and length go together, both in centimetres.');
  if ((fields['Form.Note'] ?? '').trim() !== '') add('Form.Note', { kind: 'note', words: fields['Form.Note'] });
  return out;
}

/** What an earlier release kept of a visit that was not saved yet: its readings belonged to one station that was chosen. */
export function earlierFields(kept: Record<string, string>): Record<string, string> {
  const station = kept['Form.SlopeStation'];
  if (!station) return kept;
  const moved = { ...kept };
  for (const side of ['Left', 'Right']) if (kept[`Form.Slope${side}`]) moved[`Form.${side}[${station}]`] ??= kept[`Form.Slope${side}`]!;
  return moved;
}

interface Place {
  /** Of a table, and what a file must hold; null where each tracing says itself what it is. */
  kind: string | null;
  /** Of cross-sections that do not name theirs. */
  station: string | null;
  /** Of the form, for files that name their station themselves. */
  stations?: readonly string[];
}

/** A tracing file: a table x_mm,y_mm or JSON Lines in the form of the measure command. */
export function tracingsOf(name: string, text: string, { kind, station, stations = [] }: Place): Record<string, unknown>[] {
  const clean = text.replace(/^\uFEFF/, '').trim();
  if (name.toLowerCase().endsWith('.csv'))
    return [tableOf(clean, kind ?? 'cross-section', kind === null ? (station ?? stationIn(name, stations)) : station)];
  const read = jsonOf(clean);
  for (const tracing of read) {
    if (kind !== null && tracing.kind !== kind)
      throw new NotANumber(`The file says it is a ${tracing.kind === 'topline' ? 'topline' : 'cross-section'}. Put it there.`);
    if (tracing.kind === 'cross-section' && station === null) tracing.station ??= stationIn(name, stations);
    if (tracing.kind !== 'cross-section' || station === null) continue;
    if (typeof tracing.station === 'string' && tracing.station !== station)
      throw new NotANumber(`The file says it was traced at “${tracing.station}”. Put it there.`);
    tracing.station = station;
  }
  return read;
}

/** The station that a file's name begins with, as "mid-back 2.csv" does: the longest, since one may begin with another's name. */
function stationIn(name: string, stations: readonly string[]): string {
  const plain = name.toLowerCase().replaceAll(/[\s_]+/g, '-');
  const [station] = stations.filter(s => plain.startsWith(s)).toSorted((a, b) => b.length - a.length);
  if (station === undefined)
    throw new NotANumber(
      'Neither the file nor its name says at which station it was traced. ' +
        `Put it there, or begin its name with one of: ${stations.join(', ')}.`,
    );
  return station;
}

function jsonOf(text: string): Record<string, unknown>[] {
  try {
    const read = (
      text.startsWith('{') && !text.includes('\n{')
        ? [JSON.parse(text)]
        : text
            .split('\n')
            .filter(l => l.trim() !== '')
            .map(l => JSON.parse(l) as unknown)
    ) as unknown[];
    if (read.length === 0 || !read.every(t => typeof t === 'object' && t !== null)) throw new SyntaxError();
    return read as Record<string, unknown>[];
  } catch {
    throw new NotANumber(
      'The tracing file is neither a table of points (.csv with the header x_mm,y_mm) nor JSON Lines. ' +
        'A photograph, a scan or a drawing is traced at the desk.',
    );
  }
}

/** Semicolons or tabs stand as well between the two numbers, and then a decimal comma is as good as a point. A third column names marks. */
function tableOf(text: string, kind: string, station: string | null): Record<string, unknown> {
  const [head = '', ...rows] = text.split(/\r?\n/);
  const separator = head.includes(';') ? ';' : head.includes('\t') ? '\t' : ',';
  const columns = head.split(separator).map(h => h.trim());
  if (!['x_mm,y_mm', 'x_mm,y_mm,mark'].includes(columns.join()))
    throw new NotANumber('The first line of a table must be x_mm,y_mm or x_mm,y_mm,mark.');
  const marks = new Map<string, number[]>();
  const points = rows
    .filter(r => r.trim() !== '')
    .map((r, i) => {
      const cells = r.split(separator);
      const p = cells.slice(0, 2).map(n => (separator === ',' ? Number(n) : (numberOf(n) ?? Number.NaN)));
      if (cells.length !== columns.length || p.length !== 2 || !p.every(Number.isFinite))
        throw new NotANumber(`Line ${i + 2} of the table does not hold two numbers.`);
      const mark = (cells[2] ?? '').trim();
      if (marks.has(mark)) throw new NotANumber(`Line ${i + 2} of the table has the mark ${mark} a second time.`);
      if (mark !== '') marks.set(mark, p);
      return p;
    });
  const where = kind === 'cross-section' ? { station } : { tail: 'right' };
  return { kind, unit: 'mm', yAxis: 'up', ...where, ...(marks.size > 0 ? { marks: Object.fromEntries(marks) } : {}), points };
}
