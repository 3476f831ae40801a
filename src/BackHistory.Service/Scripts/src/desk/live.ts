// The server's own computation, asked anew after every change, one question at a time.
import type { Point, ToPlane } from './plane';
import type { Sheet } from './sheet';

export interface Measured {
  refused?: { code: string; message: string } | null;
  measures: { key: string; value: number | null; unit: string; sd: number | null; why?: string; says: string }[];
  flags: { flag: string; side?: string; length: number; from: Point; to: Point }[];
  contour: Point[];
}

export interface Setup { kind: 'cross-section' | 'topline'; station: string | null; noise: number; tailLeft: boolean }

/** The tracing in the wire form of the measure verb, in millimetres with y down as the picture has it. */
export function wire(sheet: Sheet, plane: ToPlane, setup: Setup): Record<string, unknown> {
  const mm = (p: Point) => plane.map(p).map(v => Math.round(v * 1000) / 1000);
  const tracing: Record<string, unknown> = {
    kind: setup.kind, unit: 'mm', yAxis: 'down', noise: setup.noise, points: sheet.points.map(mm),
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

export class Live {
  private timer = 0;
  private asking = false;
  private next: Record<string, unknown> | null = null;

  constructor(private readonly show: (m: Measured | null, error: string | null) => void) {}

  ask(tracing: Record<string, unknown> | null): void {
    this.next = tracing;
    clearTimeout(this.timer);
    if (!tracing) { this.show(null, null); return; }
    this.timer = window.setTimeout(() => void this.send(), 120);
  }

  private async send(): Promise<void> {
    if (this.asking || !this.next) return;
    const tracing = this.next;
    this.next = null;
    this.asking = true;
    try {
      const answer = await fetch('/api/measure', { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(tracing) });
      if (answer.ok) this.show(await answer.json() as Measured, null);
      else this.show(null, answer.status === 401 ? 'You are signed out. Sign in in another tab; what you traced stays here.' : 'The server cannot measure this now.');
    } catch {
      this.show(null, 'No connection: the measures follow when it is back. What you traced stays here.');
    } finally {
      this.asking = false;
      if (this.next) void this.send();
    }
  }
}
