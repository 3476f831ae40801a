import { describe, expect, test } from 'vitest';
import type { Point } from '../../src/desk/plane';
import { empty, type Sheet } from '../../src/desk/sheet';
import { nextStep, scaleOf, tooFew, type Standing } from '../../src/desk/words';

const on: Standing = { picture: true, topline: false, levelBegun: false, alone: false, answer: 'none' };
const scaled: Sheet = { ...empty, known: [0, 1].map(i => ({ at: [i, 0], mm: [i, 0] })) };
const set: Sheet = { ...scaled, midline: [0, 0] };
const traced = (left: number, right: number): Sheet => ({
  ...set,
  points: [...Array.from({ length: left }, (_, i): Point => [-1 - i, 0]), ...Array.from({ length: right }, (_, i): Point => [1 + i, 0])],
});

describe('what comes next', () => {
  test('picture, scale, midline, points, saving, one after the other', () => {
    expect(nextStep(empty, { ...on, picture: false })).toContain('Put a picture');
    expect(nextStep(empty, on)).toContain('two or more points');
    expect(nextStep(scaled, on)).toContain('midline');
    expect(nextStep(set, { ...on, levelBegun: true })).toContain('the other end');
    expect(nextStep(set, on)).toContain('Trace');
    expect(nextStep(traced(2, 1), on)).toContain('being measured');
    expect(nextStep(traced(2, 1), { ...on, answer: 'refused' })).toContain('Not ready');
    expect(nextStep(traced(12, 12), { ...on, answer: 'measured' })).toBe('Ready to save.');
  });

  test('what can be mended on the picture is said before it is left', () => {
    const gap = 'A gap of 43 mm, on the left: trace it again there.';
    expect(nextStep(traced(12, 12), { ...on, answer: 'measured', concerns: [gap] })).toBe(`It can be saved, but: ${gap}`);
    expect(nextStep(traced(12, 12), { ...on, answer: 'measured', concerns: [gap, gap, gap] })).toContain('2 more like it');
  });

  test('a topline has no midline to set', () => {
    expect(nextStep(scaled, { ...on, topline: true })).toContain('Trace');
  });

  test('without a connection the points are counted on each side', () => {
    expect(tooFew(traced(12, 11), false)).toBe(true);
    expect(tooFew(traced(12, 12), false)).toBe(false);
    expect(tooFew(traced(12, 0), true)).toBe(false);
    expect(nextStep(traced(12, 11), { ...on, alone: true })).toContain('At least 12 points');
    expect(nextStep(traced(12, 12), { ...on, alone: true })).toContain('when there is a connection');
  });
});

test('two known points tell nothing of the scale, a third says how good it is', () => {
  expect(scaleOf(scaled, { map: p => p, back: p => p, residual: null })).toContain('no point to spare');
  expect(scaleOf(scaled, { map: p => p, back: p => p, residual: 0.26 })).toContain('within 0.3 mm');
  expect(scaleOf(empty, null)).toBe('');
});
