// From what is typed to the entries of a visit, in the form the server takes.
import { numberOf } from '../form/values';

/** A field that holds no number, in a person's words. */
export class NotANumber extends Error {}

export function entriesOf(fields: Record<string, string>): Record<string, unknown>[] {
  const out: Record<string, unknown>[] = [];
  const take = (name: string, label: string, make: (v: number) => Record<string, unknown>) => {
    const text = fields[name] ?? '';
    if (text.trim() === '') return;
    const value = numberOf(text);
    if (value === null) throw new NotANumber(`${label}: “${text}” is no number.`);
    out.push(make(value));
  };
  take('Form.SlopeLeft', 'Slope left', value => ({
    kind: 'reading',
    measure: 'read-slope-left',
    station: fields['Form.SlopeStation'],
    value,
  }));
  take('Form.SlopeRight', 'Slope right', value => ({
    kind: 'reading',
    measure: 'read-slope-right',
    station: fields['Form.SlopeStation'],
    value,
  }));
  take('Form.Condition', 'Condition', score => ({ kind: 'condition', score }));
  for (const site of ['Neck', 'Back', 'Hind'])
    take(`Form.Muscle${site}`, `Muscle ${site}`, score => ({ kind: 'muscle', site: site.toLowerCase(), score }));
  take('Form.Weight', 'Weight', value => ({ kind: 'weight', value, unit: 'kg' }));
  const [girth, length] = [numberOf(fields['Form.Girth'] ?? ''), numberOf(fields['Form.Length'] ?? '')];
  if (girth !== null && length !== null) out.push({ kind: 'girth', girth, length, unit: 'cm' });
  else if ((fields['Form.Girth'] ?? '') + (fields['Form.Length'] ?? '') !== '')
    throw new NotANumber('Girth and length go together, both in centimetres.');
  if ((fields['Form.Note'] ?? '').trim() !== '') out.push({ kind: 'note', words: fields['Form.Note'] });
  return out;
}

/** A tracing file: a table x_mm,y_mm or JSON Lines in the form of the measure command. */
export function tracingsOf(name: string, text: string, kind: string, station: string): Record<string, unknown>[] {
  if (!name.toLowerCase().endsWith('.csv')) {
    const trimmed = text.trim();
    try {
      return trimmed.startsWith('{') && !trimmed.includes('\n{')
        ? [JSON.parse(trimmed)]
        : trimmed
            .split('\n')
            .filter(l => l.trim() !== '')
            .map(l => JSON.parse(l) as Record<string, unknown>);
    } catch {
      throw new NotANumber('The tracing file is neither a table x_mm,y_mm (.csv) nor JSON in the form of the measure command.');
    }
  }
  const [head, ...rows] = text.trim().split(/\r?\n/);
  if (head?.trim() !== 'x_mm,y_mm') throw new NotANumber('The first line of a table must be x_mm,y_mm.');
  const points = rows
    .filter(r => r.trim() !== '')
    .map((r, i) => {
      const p = r.split(',').map(Number);
      if (p.length !== 2 || !p.every(Number.isFinite)) throw new NotANumber(`Line ${i + 2} of the table does not hold two numbers.`);
      return p;
    });
  return [{ kind, unit: 'mm', yAxis: 'up', ...(kind === 'cross-section' ? { station } : { tail: 'right' }), points }];
}
