// The desk in words: what comes next, how good the scale is, which keys hold now.
import type { ToPlane } from './plane';
import type { Sheet } from './sheet';

const LEAST_POINTS = 12;

/** Without a connection nobody measures the tracing: what the server would refuse for want of points is counted here. */
export function tooFew({ points, midline }: Sheet, topline: boolean): boolean {
  if (topline) return points.length < LEAST_POINTS;
  return !midline || Math.min(points.filter(p => p[0] < midline[0]).length, points.filter(p => p[0] > midline[0]).length) < LEAST_POINTS;
}

export interface Standing {
  picture: boolean;
  topline: boolean;
  levelBegun: boolean;
  /** There is no connection, and the tracing waits on this device. */
  alone: boolean;
  /** What the server made of what is traced now. */
  answer: 'none' | 'measured' | 'refused';
  /** What it found to mend, in words. */
  concerns?: readonly string[];
}

/** It says "ready" only where the tracing would be taken. */
export function nextStep(sheet: Sheet, on: Standing): string {
  if (!on.picture) return 'Put a picture on the desk.';
  if (sheet.known.length < 2) return 'Mark two or more points whose place you know.';
  if (!on.topline && !sheet.midline) return 'Set the midline mark.';
  if (on.levelBegun) return 'Now the other end of a line that was level, from the horse’s left to its right.';
  if (sheet.points.length < 3) return 'Trace from the horse’s left to its right.';
  if (on.answer === 'measured') return ready(on.concerns ?? []);
  if (on.answer === 'refused') return 'Not ready to save: what is missing stands below.';
  if (!on.alone) return 'It is being measured.';
  if (tooFew(sheet, on.topline))
    return `At least ${LEAST_POINTS} points ${on.topline ? 'are needed' : 'on each side of the midline are needed'}.`;
  return 'Ready to save: it is measured when there is a connection.';
}

/** What can be mended while the picture lies here is said before it is left. */
function ready([first, ...more]: readonly string[]): string {
  if (first === undefined) return 'Ready to save.';
  return `It can be saved, but: ${first}${more.length === 0 ? '' : ` (and ${more.length} more like it)`}`;
}

export function scaleOf(sheet: Sheet, map: ToPlane | null): string {
  if (map?.residual != null) return ` Scale: known points lie within ${map.residual.toFixed(1)} mm (root mean square).`;
  return sheet.known.length >= 2 ? ' Scale: no point to spare, so nothing tells how good it is; mark one more to check it.' : '';
}

export const keysFor = (chosen: boolean, tool: string): string =>
  chosen
    ? 'Arrow keys move the chosen point by a pixel, with Shift by ten · Delete takes it away · Escape lets it go'
    : `Enter places “${tool}” at the cross · arrows move the cross · Tab chooses the next point · ` +
      'Z undo, Y redo · + and − zoom · C shows the curve';
