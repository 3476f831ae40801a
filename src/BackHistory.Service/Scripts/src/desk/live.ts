// The server's own computation, asked anew after every change, one question at a time.
import type { Point, ToPlane } from './plane';
import type { Shown } from './picture';
import type { Sheet } from './sheet';

export interface Measured {
  refused?: { code: string; message: string } | null;
  measures: { key: string; value: number | null; unit: string; sd: number | null; why?: string; says: string; reads: string | null }[];
  flags: { flag: string; measure?: string | null; side?: string | null; length: number; from: Point; to: Point }[];
  /** What there is to mend, in words. */
  concerns?: string[];
  contour: Point[];
}

export interface Setup {
  kind: 'cross-section' | 'topline';
  station: string | null;
  noise: number;
  tailLeft: boolean;
}

/** The tracing in the wire form of the measure verb, in millimetres with y down as the picture has it. */
export function wire(sheet: Sheet, plane: ToPlane, setup: Setup): Record<string, unknown> {
  const mm = (p: Point) => plane.map(p).map(v => Math.round(v * 1000) / 1000);
  const tracing: Record<string, unknown> = {
    kind: setup.kind,
    unit: 'mm',
    yAxis: 'down',
    noise: setup.noise,
    points: sheet.points.map(mm),
  };
  if (setup.kind === 'cross-section') {
    tracing.station = setup.station;
    if (sheet.midline) tracing.midline = mm(sheet.midline);
  } else {
    tracing.tail = setup.tailLeft ? 'left' : 'right';
  }
  if (sheet.level) tracing.level = sheet.level.map(mm);
  if (Object.keys(sheet.marks).length > 0) tracing.marks = Object.fromEntries(Object.entries(sheet.marks).map(([k, p]) => [k, mm(p)]));
  return tracing;
}

/**
 * How the picture became millimetres, as it is kept with the tracing; nothing where a known point lies outside the picture, as
 * those of another picture do.
 */
export function calibration(sheet: Sheet, plane: ToPlane, shown: Shown | null): Record<string, unknown> {
  const inside = ([x, y]: Point) => x >= 0 && y >= 0 && shown !== null && x <= shown.width && y <= shown.height;
  if (!shown || !sheet.known.every(k => inside(k.at))) return {};
  const { width, height, sha256 } = shown;
  return { calibration: { width, height, known: sheet.known, residual: plane.residual, picture: sha256 } };
}

/** What the server needs to know of the scale to say how good the measures are. */
export function spreadOf(known: Sheet['known'], { residual }: ToPlane): Record<string, string> {
  const mean = (i: 0 | 1) => known.reduce((s, k) => s + k.mm[i], 0) / known.length;
  const [x, y] = [mean(0), mean(1)];
  const spread = Math.sqrt(known.reduce((s, k) => s + (k.mm[0] - x) ** 2 + (k.mm[1] - y) ** 2, 0) / known.length);
  return { known: String(known.length), spread: spread.toFixed(3), ...(residual === null ? {} : { residual: residual.toFixed(3) }) };
}

/** How long after a failed question it is asked again, when nothing was changed meanwhile. */
const AGAIN_MS = 3000;

export class Live {
  private timer = 0;
  private asking = false;
  private next: Record<string, unknown> | null = null;
  /** What stands on the desk now, answered or not. */
  private current: Record<string, unknown> | null = null;
  private scale: Record<string, string> = {};
  private answered: Record<string, unknown> | null = null;

  constructor(private readonly show: (m: Measured | null, error: string | null) => void) {}

  /** Whether the last answer is of what stands on the desk now. */
  get isCurrent(): boolean {
    return this.current !== null && this.answered === this.current;
  }

  ask(tracing: Record<string, unknown> | null, scale: Record<string, string> = {}): void {
    this.next = this.current = tracing;
    this.scale = scale;
    clearTimeout(this.timer);
    if (!tracing) {
      this.show(null, null);
      return;
    }
    this.later(120);
  }

  private later(ms: number): void {
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => void this.send(), ms);
  }

  private async send(): Promise<void> {
    if (this.asking || !this.next) return;
    const tracing = this.next;
    this.next = null;
    this.asking = true;
    let failed = false;
    try {
      const answer = await fetch('/api/measure?' + new URLSearchParams(this.scale).toString(), {
        method: 'POST',
        headers: { 'Content-Type': 'application/json' },
        body: JSON.stringify(tracing),
      });
      failed = !answer.ok;
      if (answer.ok) {
        const measured = (await answer.json()) as Measured;
        this.answered = tracing;
        // Nothing to measure is left meanwhile: its numbers would be of nothing.
        if (this.current !== null) this.show(measured, null);
      } else
        this.show(
          null,
          answer.status === 401
            ? 'You are signed out. Sign in in another tab; what you traced stays here.'
            : 'The server cannot measure this now; it is asked again in a moment.',
        );
    } catch {
      failed = true;
      this.show(null, 'No connection: the measures follow when it is back. What you traced stays here.');
    } finally {
      this.asking = false;
      if (this.next) void this.send();
      else if (failed && this.current === tracing) {
        this.next = tracing;
        this.later(AGAIN_MS);
      }
    }
  }
}
