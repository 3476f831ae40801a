// What is on the desk: one immutable sheet, so that every step can be undone.
import type { Known, Point } from './plane';

export interface Sheet {
  readonly known: readonly Known[];
  readonly midline: Point | null;
  readonly level: readonly [Point, Point] | null;
  readonly points: readonly Point[];
  /** Named places of a topline or a cross-section. */
  readonly marks: Readonly<Record<string, Point>>;
}

export const empty: Sheet = { known: [], midline: null, level: null, points: [], marks: {} };

/** What can be dragged. */
export type Handle =
  | { what: 'point'; index: number }
  | { what: 'known'; index: number }
  | { what: 'level'; index: 0 | 1 }
  | { what: 'mark'; name: string }
  | { what: 'midline' };

export function placeOf(sheet: Sheet, h: Handle): Point {
  switch (h.what) {
    case 'point':
      return sheet.points[h.index]!;
    case 'known':
      return sheet.known[h.index]!.at;
    case 'level':
      return sheet.level![h.index];
    case 'mark':
      return sheet.marks[h.name]!;
    default:
      return sheet.midline!;
  }
}

export function moved(sheet: Sheet, h: Handle, to: Point): Sheet {
  switch (h.what) {
    case 'point':
      return { ...sheet, points: sheet.points.with(h.index, to) };
    case 'known':
      return { ...sheet, known: sheet.known.with(h.index, { ...sheet.known[h.index]!, at: to }) };
    case 'level':
      return { ...sheet, level: h.index === 0 ? [to, sheet.level![1]] : [sheet.level![0], to] };
    case 'mark':
      return { ...sheet, marks: { ...sheet.marks, [h.name]: to } };
    default:
      return { ...sheet, midline: to };
  }
}

export function without(sheet: Sheet, h: Handle): Sheet {
  switch (h.what) {
    case 'point':
      return { ...sheet, points: sheet.points.toSpliced(h.index, 1) };
    case 'known':
      return { ...sheet, known: sheet.known.toSpliced(h.index, 1) };
    case 'level':
      return { ...sheet, level: null };
    case 'mark': {
      const { [h.name]: _, ...marks } = sheet.marks;
      return { ...sheet, marks };
    }
    default:
      return { ...sheet, midline: null };
  }
}

export function handles(sheet: Sheet): Handle[] {
  return [
    ...sheet.points.map((_, index): Handle => ({ what: 'point', index })),
    ...sheet.known.map((_, index): Handle => ({ what: 'known', index })),
    ...(sheet.level
      ? ([
          { what: 'level', index: 0 },
          { what: 'level', index: 1 },
        ] as Handle[])
      : []),
    ...Object.keys(sheet.marks).map((name): Handle => ({ what: 'mark', name })),
    ...(sheet.midline ? [{ what: 'midline' } as Handle] : []),
  ];
}

/** Where a new point of the tracing belongs: at the nearer end, or between the two neighbours whose stretch it lies on. */
export function inserted(points: readonly Point[], p: Point, reach: number): readonly Point[] {
  if (points.length < 2) return [...points, p];
  let best = -1,
    least = reach;
  for (let i = 0; i + 1 < points.length; i++) {
    const d = toSegment(p, points[i]!, points[i + 1]!);
    if (d < least) [least, best] = [d, i];
  }
  if (best >= 0) return points.toSpliced(best + 1, 0, p);
  const [first, last] = [points[0]!, points.at(-1)!];
  return Math.hypot(p[0] - first[0], p[1] - first[1]) < Math.hypot(p[0] - last[0], p[1] - last[1]) ? [p, ...points] : [...points, p];
}

function toSegment(p: Point, a: Point, b: Point): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy || 1);
  if (t <= 0 || t >= 1) return Infinity;
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}

/** Steps back and forth. */
export class History<T> {
  private past: T[] = [];
  private future: T[] = [];

  constructor(public now: T) {}

  /** A step that can be undone; `merge` joins it to the last (one drag is one step). */
  set(next: T, merge = false): void {
    if (!merge) this.past.push(this.now);
    this.future = [];
    this.now = next;
  }

  undo(): boolean {
    const back = this.past.pop();
    if (back === undefined) return false;
    this.future.push(this.now);
    this.now = back;
    return true;
  }

  redo(): boolean {
    const on = this.future.pop();
    if (on === undefined) return false;
    this.past.push(this.now);
    this.now = on;
    return true;
  }

  /** Begins anew: nothing before can be undone. */
  clear(now: T): void {
    [this.past, this.future, this.now] = [[], [], now];
  }

  get canUndo(): boolean {
    return this.past.length > 0;
  }
  get canRedo(): boolean {
    return this.future.length > 0;
  }
}
