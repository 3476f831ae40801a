// Lines, dots, crosses and words on the canvas, in the page's colours.
import type { Point } from './plane';

/** One drawing's pen: the page's colours are asked for once a drawing, since the theme may change between two. */
export class Pen {
  private readonly tokens = new Map<string, string>();

  constructor(readonly ink: CanvasRenderingContext2D) {}

  /** A custom property of the page's styles. */
  token(name: string): string {
    let value = this.tokens.get(name);
    if (value === undefined) {
      value = getComputedStyle(document.documentElement).getPropertyValue(name).trim();
      this.tokens.set(name, value);
    }
    return value;
  }

  line(points: readonly Point[], colour: string, width: number, dash: number[]): void {
    if (points.length < 2) return;
    const { ink } = this;
    ink.strokeStyle = colour;
    ink.lineWidth = width;
    ink.lineJoin = 'round';
    ink.setLineDash(dash);
    ink.beginPath();
    points.forEach((p, i) => (i === 0 ? ink.moveTo(p[0], p[1]) : ink.lineTo(p[0], p[1])));
    ink.stroke();
    ink.setLineDash([]);
  }

  dot([x, y]: Point, radius: number, colour: string, open: boolean): void {
    const { ink } = this;
    ink.beginPath();
    ink.arc(x, y, radius, 0, 2 * Math.PI);
    ink.lineWidth = 2;
    ink.strokeStyle = open ? colour : '#fff';
    ink.fillStyle = colour;
    if (!open) ink.fill();
    ink.stroke();
  }

  cross([x, y]: Point, colour: string): void {
    for (const [dx, dy] of [
      [9, 0],
      [0, 9],
    ] as const)
      this.line(
        [
          [x - dx, y - dy],
          [x + dx, y + dy],
        ],
        colour,
        1.5,
        [],
      );
  }

  label([x, y]: Point, text: string): void {
    const { ink } = this;
    ink.font = '600 13px ' + this.token('--text');
    ink.textAlign = 'left';
    ink.lineWidth = 4;
    ink.strokeStyle = this.token('--sheet');
    ink.strokeText(text, x + 10, y - 8);
    ink.fillStyle = this.token('--ink');
    ink.fillText(text, x + 10, y - 8);
  }
}
