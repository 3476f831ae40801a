import { describe, expect, test } from 'vitest';
import { distance, fit, type Known, type Point } from '../../src/desk/plane';

/** Each point of the picture with its place, by a map that is known in closed form. */
const known = (at: Point[], map: (p: Point) => Point): Known[] => at.map(p => ({ at: p, mm: map(p) }));

const turned: (p: Point) => Point = ([x, y]) => {
  const [c, s] = [0.25 * Math.cos(0.3), 0.25 * Math.sin(0.3)];
  return [c * x - s * y + 40, s * x + c * y - 15];
};

/** A paper that lies aslant under the camera. */
const aslant: (p: Point) => Point = ([x, y]) => {
  const w = 1 + 2e-4 * x - 1e-4 * y;
  return [(0.3 * x + 0.02 * y + 5) / w, (-0.01 * x + 0.28 * y + 8) / w];
};

const corners: Point[] = [
  [100, 120],
  [1900, 90],
  [1850, 1400],
  [140, 1450],
];

const expectNear = (a: Point, b: Point, digits = 8) => {
  expect(a[0]).toBeCloseTo(b[0], digits);
  expect(a[1]).toBeCloseTo(b[1], digits);
};

describe('the map from a picture to millimetres', () => {
  test('two known points give scale, turn and shift', () => {
    const map = fit(known(corners.slice(0, 2), turned))!;
    for (const p of [...corners, [777, 333] as Point]) expectNear(map.map(p), turned(p));
  });

  test('four known points give a paper that lies aslant', () => {
    const map = fit(known(corners, aslant))!;
    for (const p of [...corners, [777, 333] as Point]) expectNear(map.map(p), aslant(p), 6);
  });

  test('the way back ends where it began', () => {
    for (const map of [fit(known(corners.slice(0, 3), turned))!, fit(known(corners, aslant))!])
      for (const p of corners) expectNear(map.back(map.map(p)), p, 6);
  });

  test('with no point to spare nothing is said of the scale', () => {
    expect(fit(known(corners.slice(0, 2), turned))!.residual).toBeNull();
    expect(fit(known(corners, aslant))!.residual).toBeNull();
  });

  test('a third point that is off shows in the residual, in millimetres', () => {
    const three = known(corners.slice(0, 3), turned);
    expect(fit(three)!.residual).toBeCloseTo(0, 8);
    const off = three.with(2, { at: three[2]!.at, mm: [three[2]!.mm[0] + 6, three[2]!.mm[1]] });
    const residual = fit(off)!.residual!;
    // Least squares shares the 6 mm out: no point may be further off than that, and not nothing stays.
    expect(residual).toBeGreaterThan(1);
    expect(residual).toBeLessThan(6 / Math.sqrt(3) + 1e-9);
  });

  test('one point, the same point twice and four on one line give no map', () => {
    expect(fit(known(corners.slice(0, 1), turned))).toBeNull();
    expect(fit(known([corners[0]!, corners[0]!], turned))).toBeNull();
    expect(
      fit(
        known(
          [0, 1, 2, 3].map(i => [i * 100, i * 50] as Point),
          turned,
        ),
      ),
    ).toBeNull();
  });

  test('a distance is Euclid’s', () => {
    expect(distance([1, 2], [4, 6])).toBe(5);
  });
});
