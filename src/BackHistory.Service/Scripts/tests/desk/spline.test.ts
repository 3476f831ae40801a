import { expect, test } from 'vitest';
import type { Point } from '../../src/desk/plane';
import { spline } from '../../src/desk/spline';

const ridge: Point[] = [
  [0, 0],
  [40, 20],
  [50, 60],
  [60, 20],
  [100, 0],
];

test('the preview goes through every traced point', () => {
  const curve = spline(ridge);
  for (const p of ridge) expect(Math.min(...curve.map(c => Math.hypot(c[0] - p[0], c[1] - p[1])))).toBeLessThan(1e-9);
});

test('a straight line stays straight', () => {
  for (const [x, y] of spline([0, 10, 35, 50].map(t => [t, 2 * t] as Point))) expect(y).toBeCloseTo(2 * x, 9);
});

test('two points that lie close between far ones make no loop: the curve never turns back', () => {
  const xs = spline([
    [0, 0],
    [100, 0],
    [102, 1],
    [200, 0],
  ]).map(p => p[0]);
  expect(xs).toEqual(xs.toSorted((a, b) => a - b));
});

test('two points are joined as they are', () => {
  expect(spline(ridge.slice(0, 2))).toEqual(ridge.slice(0, 2));
});
