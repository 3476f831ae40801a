import { expect, test } from 'vitest';
import { faults, type Mark } from '../../src/practice/marks';

const table = (...rows: [string, string, string][]): Mark[] => rows.map(([name, place, value]) => ({ name, place, value }));

test('a table that rises, with empty rows and decimal commas, has no fault', () => {
  expect(faults(table(['1', '', '30'], ['2', '', '35,5'], ['', '', ''], ['3', '', '42']))).toEqual([]);
});

test('a table that falls has no fault either', () => {
  expect(faults(table(['N', '', '110'], ['M', '', '100'], ['W', '', '90']))).toEqual([]);
});

test('what is no number is said beside it, and a value that is still missing is no fault yet', () => {
  expect(faults(table(['1', 'x', '30'], ['2', '', 'wide'], ['3', '', '']))).toEqual([
    { row: 0, part: 'place', says: '“x” is no number.' },
    { row: 1, part: 'value', says: '“wide” is no number.' },
  ]);
});

test('a table that turns round says so in the row where it does', () => {
  expect(faults(table(['1', '', '30'], ['2', '', '28'], ['3', '', '42'])).map(f => [f.row, f.part])).toEqual([[1, 'value']]);
});

test('two marks on one place are told apart by nobody', () => {
  expect(faults(table(['M', '1', '30'], ['W', '1', '35'])).map(f => [f.row, f.part])).toEqual([[1, 'place']]);
});

test('rows in any order are read by their places', () => {
  expect(faults(table(['3', '', '42'], ['1', '', '30'], ['2', '', '35']))).toEqual([]);
});
