import { describe, expect, test } from 'vitest';
import { calibration, spreadOf, wire, type Setup } from '../../src/desk/live';
import { fit, type Known } from '../../src/desk/plane';
import { empty, type Sheet } from '../../src/desk/sheet';

// Four pixels a millimetre, the origin at (100, 200).
const known: Known[] = [
  { at: [100, 200], mm: [0, 0] },
  { at: [500, 200], mm: [100, 0] },
  { at: [100, 600], mm: [0, 100] },
];
const sheet: Sheet = {
  ...empty,
  known,
  midline: [300, 200],
  level: [
    [100, 600],
    [500, 600],
  ],
  points: [
    [102, 240],
    [180.001, 216],
  ],
  marks: { shoulder: [140, 240] },
};
const plane = fit(known)!;
const section: Setup = { kind: 'cross-section', station: 'behind-shoulder', noise: 1.5, tailLeft: false };
const topline: Setup = { kind: 'topline', station: null, noise: 1, tailLeft: true };
const shown = { width: 640, height: 640, sha256: 'ab' };

describe('the tracing as the measure command takes it', () => {
  test('pixels become millimetres, to a thousandth, with y down', () => {
    expect(wire(sheet, plane, section)).toEqual({
      kind: 'cross-section',
      unit: 'mm',
      yAxis: 'down',
      noise: 1.5,
      station: 'behind-shoulder',
      points: [
        [0.5, 10],
        [20, 4],
      ],
      midline: [50, 0],
      level: [
        [0, 100],
        [100, 100],
      ],
      marks: { shoulder: [10, 10] },
    });
  });

  test('a topline says where the tail is and has neither station nor midline', () => {
    const line = wire(sheet, plane, topline);
    expect(line.tail).toBe('left');
    expect(line).not.toHaveProperty('station');
    expect(line).not.toHaveProperty('midline');
  });

  test('what was not set is left out', () => {
    const bare = wire({ ...sheet, level: null, midline: null, marks: {} }, plane, section);
    for (const name of ['level', 'midline', 'marks']) expect(bare).not.toHaveProperty(name);
  });
});

describe('how the picture became millimetres', () => {
  test('the known points are kept with the picture’s size and name', () => {
    expect(calibration(sheet, plane, shown)).toEqual({
      calibration: { width: 640, height: 640, known, residual: plane.residual, picture: 'ab' },
    });
  });

  test('known points of another picture, which lie outside this one, are not kept', () => {
    expect(calibration(sheet, plane, { ...shown, width: 499 })).toEqual({});
    expect(calibration(sheet, plane, { ...shown, height: 599 })).toEqual({});
  });

  test('without a picture there is nothing to keep', () => {
    expect(calibration(sheet, plane, null)).toEqual({});
  });
});

test('the scale is told with how many points, how far apart, and how well they agree', () => {
  expect(spreadOf(known, plane)).toEqual({ known: '3', spread: '66.667', residual: '0.000' });
  expect(spreadOf(known.slice(0, 2), fit(known.slice(0, 2))!)).toEqual({ known: '2', spread: '50.000' });
});
