import { expect, test } from 'vitest';
import { numberOf, put, type Json } from '../../src/form/values';

test.each([
  ['12,5', 12.5],
  [' 12.5 ', 12.5],
  ['−3', -3],
  ['-0.75', -0.75],
])('“%s” is read as a number', (text, value) => {
  expect(numberOf(text)).toBe(value);
});

test.each(['', '  ', 'twelve', '12 mm', '1,2,3', 'Infinity'])('“%s” is no number', text => {
  expect(numberOf(text)).toBeNull();
});

test('a path of names makes the objects on its way and keeps what stands beside it', () => {
  const into: Record<string, Json> = { contact: { name: 'A' } };
  put(into, 'contact.address.city', 'B');
  put(into, 'note', null);
  expect(into).toEqual({ contact: { name: 'A', address: { city: 'B' } }, note: null });
});
