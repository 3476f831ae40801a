import { describe, expect, test } from 'vitest';
import type { Point } from '../../src/desk/plane';
import { empty, handles, type Sheet } from '../../src/desk/sheet';
import { nearest, neighbour, placeProposed, placeTyped, take, touched, TOOLS, withKnown, type Hand } from '../../src/desk/tools';

const touch = (at: Point, more = {}) => ({ at, reach: 5, mark: 'scar-left', ...more });
const twice = ([x, y]: Point): Point => [2 * x, 2 * y];
const sheet: Sheet = {
  ...empty,
  points: [
    [0, 0],
    [100, 0],
  ],
};

describe('a touch of the picture', () => {
  test('with the midline mark sets it and goes on to the level line', () => {
    const next = touched(take('midline'), sheet, touch([50, 20]));
    expect(next.sheet).toEqual({ ...sheet, midline: [50, 20] });
    expect(next.hand).toEqual(take('level'));
  });

  test('with the level line takes two, and then goes on to tracing', () => {
    const first = touched(take('level'), sheet, touch([10, 90]));
    expect(first.sheet).toBe(sheet);
    expect(first.hand).toEqual({ tool: 'level', levelFrom: [10, 90] });
    const second = touched(first.hand, first.sheet, touch([95, 88]));
    expect(second.sheet.level).toEqual([
      [10, 90],
      [95, 88],
    ]);
    expect(second.hand).toEqual(take('trace'));
  });

  test('makes the level line run from left to right, whichever end came first', () => {
    const begun: Hand = { tool: 'level', levelFrom: [95, 88] };
    expect(touched(begun, sheet, touch([10, 90])).sheet.level).toEqual([
      [10, 90],
      [95, 88],
    ]);
  });

  test('with the tracing tool puts a point where it belongs, as far as the hand reaches', () => {
    expect(touched(take('trace'), sheet, touch([40, 3])).sheet.points[1]).toEqual([40, 3]);
    expect(touched(take('trace'), sheet, touch([40, 8])).sheet.points.at(0)).toEqual([40, 8]);
    expect(touched(take('trace'), sheet, touch([40, 8], { reach: 10 })).sheet.points[1]).toEqual([40, 8]);
  });

  test('with a mark sets the one that is chosen, and once more moves it', () => {
    const once = touched(take('mark'), sheet, touch([5, 5])).sheet;
    expect(touched(take('mark'), once, touch([6, 6])).sheet.marks).toEqual({ 'scar-left': [6, 6] });
    expect(touched(take('mark'), once, touch([6, 6], { mark: 'sore-left' })).sheet.marks).toEqual({
      'scar-left': [5, 5],
      'sore-left': [6, 6],
    });
  });

  test.each(['known', 'move'] as const)('with “%s” leaves the very same sheet', tool => {
    const hand = take(tool);
    const next = touched(hand, sheet, touch([1, 2]));
    expect(next.sheet).toBe(sheet);
    expect(next.hand).toBe(hand);
  });

  test.each(TOOLS)('with “%s” changes nothing in the sheet that was', tool => {
    const before = structuredClone(sheet);
    touched({ tool, levelFrom: [0, 0] }, sheet, touch([50, 1]));
    expect(sheet).toEqual(before);
  });
});

describe('a known point', () => {
  test('keeps where it is in the picture and where on the paper', () => {
    expect(withKnown(sheet, [7, 8], [0, 297]).known).toEqual([{ at: [7, 8], mm: [0, 297] }]);
  });

  test('is typed with a comma or a point, and both numbers are needed', () => {
    expect(placeTyped('12,5', '-3.25')).toEqual([12.5, -3.25]);
    for (const [x, y] of [
      ['', '1'],
      ['1', ' '],
      ['a', '1'],
    ])
      expect(placeTyped(x!, y!)).toBeNull();
  });

  test('is the origin where it is the first, and no other is proposed', () => {
    expect(placeProposed(0)).toEqual(['0', '0']);
    expect(placeProposed(1)).toEqual(['', '']);
  });
});

describe('what can be taken hold of', () => {
  const full: Sheet = { ...withKnown(sheet, [50, 50], [0, 0]), midline: [52, 50] };

  test('is the nearest within reach, both on the canvas', () => {
    expect(nearest(full, [203, 4], 16, twice)).toEqual({ what: 'point', index: 1 });
    expect(nearest(full, [103, 100], 16, twice)).toEqual({ what: 'midline' });
    expect(nearest(full, [101, 100], 16, twice)).toEqual({ what: 'known', index: 0 });
    expect(nearest(full, [203, 16], 16, twice)).toBeNull();
  });

  test('comes one after the other by the keyboard, and the page goes on past the last', () => {
    const all = handles(full);
    let chosen = neighbour(full, null, false);
    const met = [chosen];
    while (chosen) met.push((chosen = neighbour(full, chosen, false)));
    expect(met).toEqual([...all, null]);
  });

  test('comes backwards too, and the page goes on before the first', () => {
    expect(neighbour(full, handles(full)[1]!, true)).toEqual(handles(full)[0]);
    expect(neighbour(full, handles(full)[0]!, true)).toBeNull();
    expect(neighbour(full, null, true)).toBeNull();
  });

  test('is nothing on a bare sheet', () => {
    expect(neighbour(empty, null, false)).toBeNull();
    expect(nearest(empty, [0, 0], 16, twice)).toBeNull();
  });
});
