// Points and the maps between the picture and the plane of the tracing.

export type Point = readonly [number, number];

/** A point of the picture (pixels) whose place in the plane (mm) is known. */
export interface Known {
  at: Point;
  mm: Point;
}

/** From picture pixels to millimetres, y down in both. */
export interface ToPlane {
  map(p: Point): Point;
  back(p: Point): Point;
  /** Root mean square distance of the known points from where the map puts them, mm; null with no point to spare. */
  residual: number | null;
}

/**
 * The best map through the known points: similarity from two or three, projective (the paper may lie aslant) from four on. Null
 * under two.
 */
export function fit(known: Known[]): ToPlane | null {
  if (known.length < 2) return null;
  const m = known.length >= 4 ? projective(known) : similarity(known);
  if (!m) return null;
  const inverse = invert(m);
  if (!inverse) return null;
  const spare = known.length >= 4 ? known.length > 4 : known.length > 2;
  const residual = spare ? Math.sqrt(known.reduce((s, k) => s + dist2(apply(m, k.at), k.mm), 0) / known.length) : null;
  return { map: p => apply(m, p), back: p => apply(inverse, p), residual };
}

const dist2 = (a: Point, b: Point) => (a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2;

export const distance = (a: Point, b: Point) => Math.sqrt(dist2(a, b));

type Matrix = readonly number[]; // 3 by 3, row after row

function apply(m: Matrix, [x, y]: Point): Point {
  const w = m[6]! * x + m[7]! * y + m[8]!;
  return [(m[0]! * x + m[1]! * y + m[2]!) / w, (m[3]! * x + m[4]! * y + m[5]!) / w];
}

/** Least squares for scale, turn and shift (no mirror). */
function similarity(known: Known[]): Matrix | null {
  const n = known.length;
  const mean = (f: (k: Known) => number) => known.reduce((s, k) => s + f(k), 0) / n;
  const [px, py, qx, qy] = [mean(k => k.at[0]), mean(k => k.at[1]), mean(k => k.mm[0]), mean(k => k.mm[1])];
  let a = 0,
    b = 0,
    d = 0;
  for (const k of known) {
    const [x, y, u, v] = [k.at[0] - px, k.at[1] - py, k.mm[0] - qx, k.mm[1] - qy];
    a += x * u + y * v;
    b += x * v - y * u;
    d += x * x + y * y;
  }
  if (d === 0) return null;
  const [c, s] = [a / d, b / d];
  if (c === 0 && s === 0) return null;
  return [c, -s, qx - c * px + s * py, s, c, qy - s * px - c * py, 0, 0, 1];
}

/** Direct linear transform with the last entry fixed to 1; exact for four points, least squares for more. */
function projective(known: Known[]): Matrix | null {
  const rows: number[][] = [];
  const right: number[] = [];
  for (const {
    at: [x, y],
    mm: [u, v],
  } of known) {
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]);
    right.push(u, v);
  }
  const h = leastSquares(rows, right);
  return h && [...h, 1];
}

function leastSquares(rows: number[][], right: number[]): number[] | null {
  const n = rows[0]!.length;
  // Columns of very different size (pixels, products of pixels): scaled before the normal equations.
  const scale = Array.from({ length: n }, (_, j) => Math.max(1e-12, Math.hypot(...rows.map(r => r[j]!))));
  const a = Array.from({ length: n }, (_, i) => [
    ...Array.from({ length: n }, (__, j) => rows.reduce((s, r) => s + r[i]! * r[j]!, 0) / scale[i]! / scale[j]!),
    rows.reduce((s, r, k) => s + r[i]! * right[k]!, 0) / scale[i]!,
  ]);
  for (let i = 0; i < n; i++) {
    let best = i;
    for (let r = i + 1; r < n; r++) if (Math.abs(a[r]![i]!) > Math.abs(a[best]![i]!)) best = r;
    if (Math.abs(a[best]![i]!) < 1e-13) return null;
    [a[i], a[best]] = [a[best]!, a[i]!];
    for (let r = 0; r < n; r++) {
      if (r === i) continue;
      const f = a[r]![i]! / a[i]![i]!;
      for (let c = i; c <= n; c++) a[r]![c]! -= f * a[i]![c]!;
    }
  }
  return a.map((row, i) => row[n]! / row[i]! / scale[i]!);
}

function invert(m: Matrix): Matrix | null {
  const [a, b, c, d, e, f, g, h, i] = m as [number, number, number, number, number, number, number, number, number];
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  if (Math.abs(det) < 1e-18) return null;
  return [
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  ].map(v => v / det);
}
