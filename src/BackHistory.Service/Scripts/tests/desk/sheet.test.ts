import { describe, expect, test } from 'vitest';
import { empty, handles, History, inserted, moved, placeOf, without, type Handle, type Sheet } from '../../src/desk/sheet';

const full: Sheet = {
  known: [{ at: [1, 1], mm: [0, 0] }],
  midline: [50, 10],
  level: [
    [0, 90],
    [100, 90],
  ],
  points: [
    [0, 0],
    [10, 0],
    [20, 0],
  ],
  marks: { shoulder: [5, 5] },
};

describe('the sheet', () => {
  test('everything on it can be taken hold of, moved and taken away, and nothing else changes', () => {
    const all = handles(full);
    expect(all.map(h => h.what)).toEqual(['point', 'point', 'point', 'known', 'level', 'level', 'mark', 'midline']);
    for (const h of all) {
      const there = moved(full, h, [7, 8]);
      expect(placeOf(there, h)).toEqual([7, 8]);
      for (const other of all.filter(o => o !== h)) expect(placeOf(there, other)).toEqual(placeOf(full, other));
      const gone = handles(without(full, h)).length;
      expect(gone).toBe(all.length - (h.what === 'level' ? 2 : 1));
    }
  });

  test('a known point that is moved in the picture keeps its place in millimetres', () => {
    const h: Handle = { what: 'known', index: 0 };
    expect(moved(full, h, [3, 4]).known[0]).toEqual({ at: [3, 4], mm: [0, 0] });
  });
});

describe('where a new point of the tracing belongs', () => {
  test('on a stretch it comes between its two neighbours', () => {
    expect(inserted(full.points, [14, 1], 5)).toEqual([
      [0, 0],
      [10, 0],
      [14, 1],
      [20, 0],
    ]);
  });

  test('off every stretch it comes at the nearer end', () => {
    expect(inserted(full.points, [31, 2], 5).at(-1)).toEqual([31, 2]);
    expect(inserted(full.points, [-9, 2], 5)[0]).toEqual([-9, 2]);
  });

  test('further from a stretch than the hand reaches it belongs to an end', () => {
    expect(inserted(full.points, [14, 6], 5).at(-1)).toEqual([14, 6]);
  });

  test('the first two come one after the other', () => {
    expect(inserted(inserted([], [5, 5], 5), [1, 1], 5)).toEqual([
      [5, 5],
      [1, 1],
    ]);
  });
});

describe('steps back and forth', () => {
  test('each step is taken back in turn and made again', () => {
    const h = new History(0);
    h.set(1);
    h.set(2);
    expect([h.undo(), h.now, h.undo(), h.now, h.undo()]).toEqual([true, 1, true, 0, false]);
    expect([h.redo(), h.now, h.redo(), h.now, h.redo()]).toEqual([true, 1, true, 2, false]);
  });

  test('one drag is one step', () => {
    const h = new History('a');
    h.set('b');
    h.set('c', true);
    h.set('d', true);
    expect(h.undo()).toBe(true);
    expect(h.now).toBe('a');
    expect(h.canUndo).toBe(false);
    expect(h.canRedo).toBe(true);
  });

  test('a new step ends what could be made again', () => {
    const h = new History(0);
    h.set(1);
    h.undo();
    h.set(5);
    expect(h.redo()).toBe(false);
    expect(h.now).toBe(5);
  });

  test('another station begins with nothing to take back', () => {
    const h = new History<Sheet>(empty);
    h.set(full);
    h.clear(empty);
    expect([h.canUndo, h.canRedo, h.now]).toEqual([false, false, empty]);
  });
});
