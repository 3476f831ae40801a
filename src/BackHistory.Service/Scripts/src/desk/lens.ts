// The picture on the canvas: how large, and where.
import type { Point } from './plane';

/** Where the picture lies on the canvas. */
export class Lens {
  scale = 1;
  x = 0;
  y = 0;

  fit(width: number, height: number, canvas: HTMLCanvasElement): void {
    this.scale = Math.min(canvas.clientWidth / width, canvas.clientHeight / height);
    this.x = (canvas.clientWidth - width * this.scale) / 2;
    this.y = (canvas.clientHeight - height * this.scale) / 2;
  }

  toPicture([x, y]: Point): Point {
    return [(x - this.x) / this.scale, (y - this.y) / this.scale];
  }
  toCanvas([x, y]: Point): Point {
    return [x * this.scale + this.x, y * this.scale + this.y];
  }

  zoom(factor: number, [x, y]: Point): void {
    const next = Math.min(40, Math.max(0.02, this.scale * factor));
    const f = next / this.scale;
    this.x = x - (x - this.x) * f;
    this.y = y - (y - this.y) * f;
    this.scale = next;
  }

  pan(dx: number, dy: number): void {
    this.x += dx;
    this.y += dy;
  }
}
