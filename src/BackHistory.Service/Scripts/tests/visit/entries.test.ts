import { describe, expect, test } from 'vitest';
import { problemOf } from '../../src/visit/check';
import { earlierFields, entriesOf, NotANumber, tracingsOf } from '../../src/visit/entries';
import { questionOf } from '../../src/visit/jump';
import { inZone } from '../../src/visit/zone';

describe('the entries of a visit', () => {
  test('what is typed becomes readings, scores, weight, girth and a note', () => {
    expect(
      entriesOf({
        'Form.Left[behind-shoulder]': '31,5',
        'Form.Right[mid-back]': '29',
        'Form.Along[shoulder]': '−3',
        'Form.Right[last-rib]': '',
        'Form.Condition': '5',
        'Form.MuscleBack': '2',
        'Form.Weight': '512',
        'Form.Girth': '190',
        'Form.Length': '170',
        'Form.Note': 'moved well',
      }),
    ).toEqual([
      { kind: 'reading', measure: 'read-slope-left', station: 'behind-shoulder', value: 31.5 },
      { kind: 'reading', measure: 'read-slope-right', station: 'mid-back', value: 29 },
      { kind: 'reading', measure: 'read-topline-slope', station: 'shoulder', value: -3 },
      { kind: 'condition', score: 5 },
      { kind: 'muscle', site: 'back', score: 2 },
      { kind: 'weight', value: 512, unit: 'kg' },
      { kind: 'girth', girth: 190, length: 170, unit: 'cm' },
      { kind: 'note', words: 'moved well' },
    ]);
  });

  test('each entry knows the field that it came from', () => {
    const origins: string[] = [];
    entriesOf({ 'Form.Weight': '512', 'Form.Left[mid-back]': '30' }, origins);
    expect(origins).toEqual(['Form.Left[mid-back]', 'Form.Weight']);
  });

  test('what an earlier release kept is read at the station that was chosen then', () => {
    const kept = { 'Form.SlopeLeft': '31', 'Form.SlopeRight': '', 'Form.SlopeStation': 'mid-back' };
    expect(entriesOf(earlierFields(kept))).toEqual([{ kind: 'reading', measure: 'read-slope-left', station: 'mid-back', value: 31 }]);
  });

  test('nothing typed is no entry', () => {
    expect(entriesOf({ 'Form.Weight': ' ', 'Form.Note': '' })).toEqual([]);
  });

  test('what is no number is refused by its name', () => {
    expect(() => entriesOf({ 'Form.Weight': 'heavy' })).toThrow(new NotANumber('Weight: “heavy” is no number.'));
  });

  test('a girth without a length is refused', () => {
    expect(() => entriesOf({ 'Form.Girth': '190' })).toThrow(NotANumber);
  });
});

describe('a tracing file', () => {
  const topline = { kind: 'topline', station: null };

  test('a table is read point by point', () => {
    expect(tracingsOf('back.CSV', 'x_mm,y_mm\r\n-10,-5\r\n0,0\r\n', { kind: 'cross-section', station: 'mid-back' })).toEqual([
      {
        kind: 'cross-section',
        unit: 'mm',
        yAxis: 'up',
        station: 'mid-back',
        points: [
          [-10, -5],
          [0, 0],
        ],
      },
    ]);
  });

  test('a third column names marks, whatever they are called', () => {
    const [read] = tracingsOf('a.csv', 'x_mm;y_mm;mark\n0,5;0;behind-shoulder\n100;-4;\n430;-15;constructor\n', topline);
    expect(read!.marks).toEqual({ 'behind-shoulder': [0.5, 0], constructor: [430, -15] });
    expect(read!.points).toHaveLength(3);
    expect(() => tracingsOf('a.csv', 'x_mm,y_mm,mark\n0,0,a\n1,1,a', topline)).toThrow('a second time');
  });

  test('a file of no place of the form says its station itself or in its name, and is refused at once where it does not', () => {
    const any = { kind: null, station: null, stations: ['mid', 'mid-back', 'shoulder'] };
    const table = 'x_mm,y_mm\n1,2';
    expect(tracingsOf('Mid back_2.csv', table, any)[0]!.station).toBe('mid-back');
    expect(tracingsOf('mid.csv', table, any)[0]!.station).toBe('mid');
    expect(tracingsOf('shoulder.json', '{"kind":"cross-section"}', any)[0]!.station).toBe('shoulder');
    expect(tracingsOf('a.json', '{"kind":"cross-section","station":"loin"}', any)[0]!.station).toBe('loin');
    expect(tracingsOf('a.json', '{"kind":"topline"}', any)[0]).toEqual({ kind: 'topline' });
    expect(() => tracingsOf('a.csv', table, any)).toThrow('Neither the file nor its name says');
    expect(() => tracingsOf('a.json', '{"kind":"cross-section"}', any)).toThrow('mid, mid-back, shoulder');
  });

  test('a line without two numbers is named', () => {
    expect(() => tracingsOf('a.csv', 'x_mm,y_mm\n1,2\n3', topline)).toThrow('Line 3 of the table');
  });

  test('a table under other names is refused', () => {
    expect(() => tracingsOf('a.csv', 'x,y\n1,2', topline)).toThrow('x_mm,y_mm');
  });

  test('semicolons and decimal commas are read, with a mark of order at the beginning or without', () => {
    const [read] = tracingsOf('a.csv', '\uFEFFx_mm;y_mm\r\n-10,5;-5,25\r\n0;0\r\n', topline);
    expect(read!.points).toEqual([
      [-10.5, -5.25],
      [0, 0],
    ]);
    expect(() => tracingsOf('a.csv', 'x_mm,y_mm\n1,5,2,5', topline)).toThrow('Line 2 of the table');
  });

  test('JSON is one tracing, JSON Lines are several, and anything else is refused', () => {
    const any = { kind: null, station: null };
    expect(tracingsOf('a.json', '{\n "id": "c1" }', any)).toEqual([{ id: 'c1' }]);
    expect(tracingsOf('a.jsonl', '{"id":"c1"}\n\n{"id":"c2"}\n', any)).toEqual([{ id: 'c1' }, { id: 'c2' }]);
    for (const text of ['c1', '', '3']) expect(() => tracingsOf('a.jsonl', text, any)).toThrow(NotANumber);
  });

  test('a file that says where it belongs is not taken elsewhere, and one that does not is of the station it was put to', () => {
    const at = { kind: 'cross-section', station: 'mid-back' };
    expect(tracingsOf('a.json', '{"kind":"cross-section"}', at)).toEqual([{ kind: 'cross-section', station: 'mid-back' }]);
    expect(() => tracingsOf('a.json', '{"kind":"topline"}', at)).toThrow('topline');
    expect(() => tracingsOf('a.json', '{"kind":"cross-section","station":"last-rib"}', at)).toThrow('last-rib');
  });
});

describe('a field of the visit', () => {
  const slope = { least: 0, most: 90, half: false, says: 'Right slope: 0 to 90°' };

  test('is refused in words where it cannot be', () => {
    expect(problemOf('91', slope)).toBe('Right slope: 0 to 90°');
    expect(problemOf('steep', slope)).toBe('Right slope: 0 to 90°; “steep” is no number.');
    expect(problemOf('5.3', { least: 1, most: 9, half: true, says: 'Condition: 1 to 9 in half points' })).toContain('half points');
  });

  test('is taken where it can be, or is empty', () => {
    for (const text of ['', ' ', '0', '41,5', '90']) expect(problemOf(text, slope)).toBeNull();
  });
});

describe('a jump since last time', () => {
  test('is asked about where two visits do not differ as much by themselves', () => {
    expect(questionOf('35,5', 31, 4.16)).toBe(
      '4.5 more than last time; two visits differ by up to 4.2 by themselves. Right? If not, read again now.',
    );
    expect(questionOf('26', 31, 4.16)).toContain('5 less than last time');
  });

  test('is not asked about within that, nor where nothing or no number stands', () => {
    for (const text of ['35.1', '', 'thirty']) expect(questionOf(text, 31, 4.16)).toBeNull();
  });
});

describe('a day and time of the practice’s own zone', () => {
  test.each([
    // The rules of the tz database: Berlin turns its clocks on the last Sundays of March and October at 01:00 UTC.
    ['2026-01-15', '09:30', 'Europe/Berlin', '2026-01-15T08:30:00.000Z'],
    ['2026-07-15', '09:30:00', 'Europe/Berlin', '2026-07-15T07:30:00.000Z'],
    ['2026-03-29', '01:59', 'Europe/Berlin', '2026-03-29T00:59:00.000Z'],
    ['2026-03-29', '03:00', 'Europe/Berlin', '2026-03-29T01:00:00.000Z'],
    ['2026-10-25', '04:00', 'Europe/Berlin', '2026-10-25T03:00:00.000Z'],
    ['2026-01-15', '00:15', 'Asia/Kathmandu', '2026-01-14T18:30:00.000Z'],
    ['2026-06-30', '23:45', 'America/St_Johns', '2026-07-01T02:15:00.000Z'],
  ])('%s %s in %s is %s', (day, time, zone, instant) => {
    expect(inZone(day, time, zone)).toBe(instant);
  });
});
