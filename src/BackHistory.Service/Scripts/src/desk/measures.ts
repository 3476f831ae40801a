// The measures beside the desk: what the server makes of the tracing now, and what stood there at the visit before.
import type { Measured } from './live';
import type { Page } from './page';
import type { Curve } from './view';

const curveOf = ({ contour, flags }: Measured): Curve => ({
  contour,
  gaps: flags.filter(f => f.flag === 'gap').map(f => [f.from, f.to]),
});

export class Measures {
  now: Measured | null = null;
  curve: Curve | null = null;
  ghost: Curve | null = null;
  private readonly before = new Map<string, string>();

  constructor(private readonly page: Page) {}

  show(measured: Measured | null, error: string | null): void {
    this.now = measured;
    if (error) this.page.say(error);
    if (measured) this.page.say(measured.refused?.message ?? '');
    this.curve = measured && !measured.refused ? curveOf(measured) : null;
    // The bare half areas are those to 150 mm under another name.
    const told = (measured?.measures ?? []).filter(r => r.key !== 'half-area-left' && r.key !== 'half-area-right');
    this.page.showRows(told.map(r => ({ says: r.says, reads: r.reads ?? r.why ?? '—', before: this.before.get(r.key) ?? '' })));
  }

  clear(): void {
    [this.now, this.curve, this.ghost] = [null, null, null];
    this.before.clear();
  }

  async loadBefore(): Promise<void> {
    const asked = this.page.ghost;
    const answer = await fetch(asked).catch(() => null);
    // Meanwhile another station may have been chosen.
    if (!answer?.ok || asked !== this.page.ghost) return;
    const last = (await answer.json()) as Measured;
    this.ghost = { contour: last.contour, gaps: [] };
    for (const m of last.measures) if (m.reads !== null) this.before.set(m.key, m.reads);
  }
}
