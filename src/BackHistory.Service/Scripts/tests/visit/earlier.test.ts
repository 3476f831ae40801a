import { expect, test } from 'vitest';
import { lastWaiting } from '../../src/visit/earlier';
import { entriesOf } from '../../src/visit/entries';
import type { Waiting } from '../../src/visit/store';

const typed = {
  'Form.Left[behind-shoulder]': '42,5',
  'Form.Right[Loin (L3)]': '31',
  'Form.Along[behind-shoulder]': '-4',
  'Form.Condition': '5.5',
  'Form.MuscleNeck': '2',
  'Form.Weight': '512',
  'Form.Note': 'Stood well.',
};

const waits = (horse: string, takenAt: string, fields: Record<string, string>, arrived = false): Waiting => ({
  key: `yard:${horse}:${takenAt}`,
  horse,
  horseName: 'Bramble',
  version: 1,
  body: { id: 'v', takenAt, method: 'by-hand', conditions: {}, entries: entriesOf(fields) },
  at: takenAt,
  arrived,
});

test('every value that is compared goes back to the field in which it was typed', () => {
  const last = lastWaiting([waits('a', '2026-11-24T09:00:00Z', typed)], 'a');
  expect(Object.fromEntries([...last].map(([field, { value }]) => [field, value]))).toEqual({
    'Form.Left[behind-shoulder]': 42.5,
    'Form.Right[Loin (L3)]': 31,
    'Form.Along[behind-shoulder]': -4,
    'Form.Condition': 5.5,
    'Form.MuscleNeck': 2,
    'Form.Weight': 512,
  });
});

test('of two visits that wait the later one is the last, in whatever order they were saved', () => {
  const [earlier, later] = [
    waits('a', '2026-11-23T09:00:00Z', { 'Form.Weight': '500' }),
    waits('a', '2026-11-24T09:00:00+01:00', { 'Form.Weight': '510' }),
  ];
  for (const all of [
    [earlier, later],
    [later, earlier],
  ])
    expect(lastWaiting(all, 'a').get('Form.Weight')?.value).toBe(510);
});

test('another horse, and a visit that is on record by now, are left out', () => {
  const all = [waits('b', '2026-11-24T09:00:00Z', typed), waits('a', '2026-11-24T09:00:00Z', typed, true)];
  expect(lastWaiting(all, 'a').size).toBe(0);
});
