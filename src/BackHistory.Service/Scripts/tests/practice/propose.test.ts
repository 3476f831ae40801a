import { expect, test } from 'vitest';
import { proposed } from '../../src/practice/propose';

const fields = ['name', 'muscle-neck', 'read-slope-left', 'read-slope-left/right'].map(key => ({
  key,
  says: key,
  needed: false,
  names: key === 'name' ? ['Bezeichnung', 'Größe'] : [],
}));

test('a column that is called as a field is proposed, however it is hyphenated and written in capitals', () => {
  const asked = ['Name', 'muscle-neck', 'Muscle neck', 'READ-SLOPE-LEFT', 'read slope left / right'];
  expect(asked.map(header => proposed(header, fields)?.key)).toEqual([
    'name',
    'muscle-neck',
    'muscle-neck',
    'read-slope-left',
    'read-slope-left/right',
  ]);
});

test('a column that is called as a field is in some language is proposed', () => {
  expect(['bezeichnung', 'GRÖSSE', 'größe'].map(header => proposed(header, fields)?.key)).toEqual(['name', undefined, 'name']);
});

test('a column that is called otherwise is not', () => {
  expect(proposed('Muscle', fields)).toBeUndefined();
});
