// The preview of a tracing: the server smooths and measures, this only shows the way.
import type { Point } from './plane';

/** A centripetal Catmull–Rom curve through the points: no loops at sharp ridges. */
export function spline(points: readonly Point[]): Point[] {
  if (points.length < 3) return [...points];
  const out: Point[] = [];
  for (let i = 0; i + 1 < points.length; i++) {
    const p = [points[Math.max(0, i - 1)]!, points[i]!, points[i + 1]!, points[Math.min(points.length - 1, i + 2)]!] as const;
    for (let k = 0; k < 12; k++) out.push(catmull(p, k / 12));
  }
  out.push(points.at(-1)!);
  return out;
}

const knot = (a: Point, b: Point) => Math.max(1e-6, Math.hypot(b[0] - a[0], b[1] - a[1]) ** 0.5);

function catmull(p: readonly [Point, Point, Point, Point], t: number): Point {
  const t0 = 0,
    t1 = t0 + knot(p[0], p[1]),
    t2 = t1 + knot(p[1], p[2]),
    t3 = t2 + knot(p[2], p[3]);
  const u = t1 + t * (t2 - t1);
  const mix = (a: Point, b: Point, from: number, to: number): Point => {
    const f = to === from ? 0 : (u - from) / (to - from);
    return [a[0] + (b[0] - a[0]) * f, a[1] + (b[1] - a[1]) * f];
  };
  const [a1, a2, a3] = [mix(p[0], p[1], t0, t1), mix(p[1], p[2], t1, t2), mix(p[2], p[3], t2, t3)];
  return mix(mix(a1, a2, t0, t2), mix(a2, a3, t1, t3), t1, t2);
}
