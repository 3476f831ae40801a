// What a touch of the picture does, tool by tool, and what can be taken hold of. Pure: the sheet and the hand go in, the next ones
// come out.
import type { Point } from './plane';
import { handles, inserted, placeOf, type Handle, type Sheet } from './sheet';

export const TOOLS = ['known', 'midline', 'level', 'trace', 'mark', 'move'] as const;

export type Tool = (typeof TOOLS)[number];

/** The tool in the hand, and the first end of a level line once it is set. */
export interface Hand {
  readonly tool: Tool;
  readonly levelFrom: Point | null;
}

export interface Touch {
  /** In picture pixels. */
  at: Point;
  /** How near to a stretch of the tracing a point belongs to it, picture pixels. */
  reach: number;
  /** The name of the mark that is chosen. */
  mark: string;
}

export const take = (tool: Tool): Hand => ({ tool, levelFrom: null });

/** What a touch leaves: the very same sheet where it changed nothing. A known point needs its place first (`withKnown`). */
export function touched(hand: Hand, sheet: Sheet, { at, reach, mark }: Touch): { hand: Hand; sheet: Sheet } {
  switch (hand.tool) {
    case 'midline':
      return { hand: take('level'), sheet: { ...sheet, midline: at } };
    case 'level': {
      const from = hand.levelFrom;
      if (!from) return { hand: { ...hand, levelFrom: at }, sheet };
      return { hand: take('trace'), sheet: { ...sheet, level: from[0] <= at[0] ? [from, at] : [at, from] } };
    }
    case 'trace':
      return { hand, sheet: { ...sheet, points: inserted(sheet.points, at, reach) } };
    case 'mark':
      return { hand, sheet: { ...sheet, marks: { ...sheet.marks, [mark]: at } } };
    default:
      return { hand, sheet };
  }
}

export const withKnown = (sheet: Sheet, at: Point, mm: Point): Sheet => ({ ...sheet, known: [...sheet.known, { at, mm }] });

/** The place of a known point as it was typed, mm; null where one of the two is no number. */
export function placeTyped(x: string, y: string): Point | null {
  if (x.trim() === '' || y.trim() === '') return null;
  const mm: Point = [Number(x.replace(',', '.')), Number(y.replace(',', '.'))];
  return mm.every(Number.isFinite) ? mm : null;
}

/** What stands in the fields for the next known point: the origin for the first, else nothing. */
export const placeProposed = (known: number): [string, string] => (known === 0 ? ['0', '0'] : ['', '']);

/** What lies under the hand: the nearest within reach, both on the canvas. */
export function nearest(sheet: Sheet, p: Point, reach: number, toCanvas: (p: Point) => Point): Handle | null {
  let best: Handle | null = null;
  let least = reach;
  for (const h of handles(sheet)) {
    const [x, y] = toCanvas(placeOf(sheet, h));
    const d = Math.hypot(x - p[0], y - p[1]);
    if (d < least) [least, best] = [d, h];
  }
  return best;
}

/** The next that can be taken hold of, or the one before; null past the last and the first, where the keyboard goes on in the page. */
export function neighbour(sheet: Sheet, chosen: Handle | null, back: boolean): Handle | null {
  const all = handles(sheet);
  const none = back ? 0 : -1;
  const i = chosen ? all.findIndex(h => JSON.stringify(h) === JSON.stringify(chosen)) : none;
  return all[i + (back ? -1 : 1)] ?? null;
}
