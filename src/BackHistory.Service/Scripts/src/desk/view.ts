// Draws the desk: the picture with what was put on it, or the registered curve over last visit's.
import type { Point, ToPlane } from './plane';
import type { Handle, Sheet } from './sheet';
import { placeOf } from './sheet';
import { spline } from './spline';
import type { Picture } from './picture';

export interface Curve {
  contour: readonly Point[];
  gaps: readonly [Point, Point][];
}

export interface Scene {
  picture: Picture | null;
  sheet: Sheet;
  plane: ToPlane | null;
  chosen: Handle | null;
  cursor: Point | null;
  showCurve: boolean;
  curve: Curve | null;
  ghost: Curve | null;
}

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

/** The page's colours, asked for once a drawing. */
const tokens = new Map<string, string>();

function css(name: string): string {
  let value = tokens.get(name);
  if (value === undefined) tokens.set(name, (value = getComputedStyle(document.documentElement).getPropertyValue(name).trim()));
  return value;
}

export function draw(canvas: HTMLCanvasElement, lens: Lens, scene: Scene): void {
  // A bare desk is the page's own paper: a canvas that was never drawn on costs nothing.
  if (isBare(scene) && canvas.dataset.drawn === undefined) return;
  canvas.dataset.drawn = '';
  tokens.clear();
  const dots = window.devicePixelRatio || 1;
  const [w, h] = [canvas.clientWidth, canvas.clientHeight];
  if (canvas.width !== Math.round(w * dots)) canvas.width = Math.round(w * dots);
  if (canvas.height !== Math.round(h * dots)) canvas.height = Math.round(h * dots);
  const ink = canvas.getContext('2d')!;
  ink.setTransform(dots, 0, 0, dots, 0, 0);
  ink.fillStyle = css('--sheet');
  ink.fillRect(0, 0, w, h);
  if (scene.showCurve) drawCurves(ink, w, h, scene);
  else drawPicture(ink, lens, scene);
}

function isBare({ picture, sheet, cursor, showCurve }: Scene): boolean {
  return (
    !picture &&
    !cursor &&
    !showCurve &&
    sheet.points.length === 0 &&
    sheet.known.length === 0 &&
    !sheet.midline &&
    !sheet.level &&
    Object.keys(sheet.marks).length === 0
  );
}

function drawPicture(ink: CanvasRenderingContext2D, lens: Lens, scene: Scene): void {
  const { picture, sheet } = scene;
  if (picture) {
    ink.imageSmoothingEnabled = lens.scale < 3;
    const halvings = Math.floor(Math.log2(1 / (lens.scale * (window.devicePixelRatio || 1))));
    ink.drawImage(
      picture.levels[Math.min(Math.max(0, halvings), picture.levels.length - 1)]!,
      lens.x,
      lens.y,
      picture.width * lens.scale,
      picture.height * lens.scale,
    );
  }
  const at = (p: Point) => lens.toCanvas(p);
  if (sheet.level) line(ink, sheet.level.map(at), css('--girth'), 2, [8, 5]);
  line(ink, spline(sheet.points).map(at), css('--left'), 2.5, []);
  for (const p of sheet.points) dot(ink, at(p), 4, css('--left'), false);
  for (const [i, k] of sheet.known.entries()) {
    cross(ink, at(k.at), css('--refit'));
    label(ink, at(k.at), String(i + 1));
  }
  for (const [name, p] of Object.entries(sheet.marks)) {
    dot(ink, at(p), 6, css('--watch'), false);
    label(ink, at(p), name);
  }
  if (sheet.midline) {
    line(
      ink,
      [
        [at(sheet.midline)[0], at(sheet.midline)[1] - 26],
        [at(sheet.midline)[0], at(sheet.midline)[1] + 26],
      ],
      css('--refit'),
      2,
      [],
    );
    dot(ink, at(sheet.midline), 5, css('--refit'), false);
  }
  if (sheet.level) for (const p of sheet.level) dot(ink, at(p), 5, css('--girth'), false);
  if (scene.chosen) dot(ink, at(placeOf(sheet, scene.chosen)), 10, css('--ink'), true);
  if (scene.cursor) {
    cross(ink, at(scene.cursor), css('--ink'));
    if (picture) magnify(ink, picture, scene.cursor, lens);
  }
}

/** A round glass in the corner: what lies under the hand, four times as large as it is shown, never smaller than life. */
function magnify(ink: CanvasRenderingContext2D, picture: Picture, at: Point, lens: Lens): void {
  const radius = 64;
  const zoom = Math.max(2, lens.scale * 4);
  const [cx, cy] = [ink.canvas.clientWidth - radius - 12, radius + 12];
  const half = radius / zoom;
  ink.save();
  ink.beginPath();
  ink.arc(cx, cy, radius, 0, 2 * Math.PI);
  ink.clip();
  ink.fillStyle = css('--paper');
  ink.fillRect(cx - radius, cy - radius, 2 * radius, 2 * radius);
  ink.imageSmoothingEnabled = false;
  ink.drawImage(picture.image, at[0] - half, at[1] - half, 2 * half, 2 * half, cx - radius, cy - radius, 2 * radius, 2 * radius);
  ink.restore();
  ink.strokeStyle = css('--field');
  ink.lineWidth = 2;
  ink.beginPath();
  ink.arc(cx, cy, radius, 0, 2 * Math.PI);
  ink.stroke();
  cross(ink, [cx, cy], css('--refit'));
}

function drawCurves(ink: CanvasRenderingContext2D, w: number, h: number, scene: Scene): void {
  const all = [...(scene.curve?.contour ?? []), ...(scene.ghost?.contour ?? [])];
  if (all.length === 0) {
    ink.fillStyle = css('--soft');
    ink.font = '16px ' + css('--text');
    ink.textAlign = 'center';
    ink.fillText('The registered curve stands here once the tracing can be measured.', w / 2, h / 2, w - 40);
    return;
  }
  const xs = all.map(p => p[0]),
    ys = all.map(p => p[1]);
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const scale = Math.min((w - 60) / (right - left || 1), (h - 60) / (high - low || 1));
  const at = (p: Point): Point => [w / 2 + (p[0] - (left + right) / 2) * scale, h / 2 - (p[1] - (low + high) / 2) * scale];
  line(ink, [at([0, high + 20]), at([0, low - 20])], css('--line'), 1, [3, 3]);
  if (scene.ghost) line(ink, scene.ghost.contour.map(at), css('--field'), 2, [6, 4]);
  if (scene.curve) {
    line(ink, scene.curve.contour.map(at), css('--left'), 3, []);
    for (const gap of scene.curve.gaps) line(ink, gap.map(at), css('--refit'), 4, [2, 4]);
  }
  ink.fillStyle = css('--soft');
  ink.font = '13px ' + css('--text');
  ink.textAlign = 'left';
  ink.fillText(
    scene.ghost ? 'solid: this tracing; dashed: last visit; millimetres, one scale both ways' : 'millimetres, one scale both ways',
    12,
    h - 12,
  );
}

function line(ink: CanvasRenderingContext2D, points: readonly Point[], colour: string, width: number, dash: number[]): void {
  if (points.length < 2) return;
  ink.strokeStyle = colour;
  ink.lineWidth = width;
  ink.lineJoin = 'round';
  ink.setLineDash(dash);
  ink.beginPath();
  points.forEach((p, i) => (i === 0 ? ink.moveTo(p[0], p[1]) : ink.lineTo(p[0], p[1])));
  ink.stroke();
  ink.setLineDash([]);
}

function dot(ink: CanvasRenderingContext2D, [x, y]: Point, radius: number, colour: string, open: boolean): void {
  ink.beginPath();
  ink.arc(x, y, radius, 0, 2 * Math.PI);
  ink.lineWidth = 2;
  ink.strokeStyle = open ? colour : '#fff';
  ink.fillStyle = colour;
  if (!open) ink.fill();
  ink.stroke();
}

function cross(ink: CanvasRenderingContext2D, [x, y]: Point, colour: string): void {
  line(
    ink,
    [
      [x - 9, y],
      [x + 9, y],
    ],
    colour,
    1.5,
    [],
  );
  line(
    ink,
    [
      [x, y - 9],
      [x, y + 9],
    ],
    colour,
    1.5,
    [],
  );
}

function label(ink: CanvasRenderingContext2D, [x, y]: Point, text: string): void {
  ink.font = '600 13px ' + css('--text');
  ink.textAlign = 'left';
  ink.lineWidth = 4;
  ink.strokeStyle = css('--sheet');
  ink.strokeText(text, x + 10, y - 8);
  ink.fillStyle = css('--ink');
  ink.fillText(text, x + 10, y - 8);
}
