// Draws the desk: the picture with what was put on it, or the registered curve over last visit's.
import type { Point, ToPlane } from './plane';
import type { Handle, Sheet } from './sheet';
import { placeOf } from './sheet';
import type { Lens } from './lens';
import { Pen } from './pen';
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

export function draw(canvas: HTMLCanvasElement, lens: Lens, scene: Scene): void {
  // A bare desk is the page's own paper: a canvas that was never drawn on costs nothing.
  if (isBare(scene) && canvas.dataset.drawn === undefined) return;
  canvas.dataset.drawn = '';
  const dots = window.devicePixelRatio || 1;
  const [w, h] = [canvas.clientWidth, canvas.clientHeight];
  if (canvas.width !== Math.round(w * dots)) canvas.width = Math.round(w * dots);
  if (canvas.height !== Math.round(h * dots)) canvas.height = Math.round(h * dots);
  const ink = canvas.getContext('2d')!;
  const pen = new Pen(ink);
  ink.setTransform(dots, 0, 0, dots, 0, 0);
  ink.fillStyle = pen.token('--sheet');
  ink.fillRect(0, 0, w, h);
  if (scene.showCurve) drawCurves(pen, w, h, scene);
  else drawPicture(pen, lens, scene);
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

function drawPicture(pen: Pen, lens: Lens, scene: Scene): void {
  const { ink } = pen;
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
  if (sheet.level) pen.line(sheet.level.map(at), pen.token('--girth'), 2, [8, 5]);
  pen.line(spline(sheet.points).map(at), pen.token('--left'), 2.5, []);
  for (const p of sheet.points) pen.dot(at(p), 4, pen.token('--left'), false);
  for (const [i, k] of sheet.known.entries()) {
    pen.cross(at(k.at), pen.token('--refit'));
    pen.label(at(k.at), String(i + 1));
  }
  for (const [name, p] of Object.entries(sheet.marks)) {
    pen.dot(at(p), 6, pen.token('--watch'), false);
    pen.label(at(p), name);
  }
  if (sheet.midline) {
    pen.line(
      [
        [at(sheet.midline)[0], at(sheet.midline)[1] - 26],
        [at(sheet.midline)[0], at(sheet.midline)[1] + 26],
      ],
      pen.token('--refit'),
      2,
      [],
    );
    pen.dot(at(sheet.midline), 5, pen.token('--refit'), false);
  }
  if (sheet.level) for (const p of sheet.level) pen.dot(at(p), 5, pen.token('--girth'), false);
  if (scene.chosen) pen.dot(at(placeOf(sheet, scene.chosen)), 10, pen.token('--ink'), true);
  if (scene.cursor) {
    pen.cross(at(scene.cursor), pen.token('--ink'));
    if (picture) magnify(pen, picture, scene.cursor, lens);
  }
}

/** A round glass in the corner: what lies under the hand, four times as large as it is shown, never smaller than life. */
function magnify(pen: Pen, picture: Picture, at: Point, lens: Lens): void {
  const { ink } = pen;
  const radius = 64;
  const zoom = Math.max(2, lens.scale * 4);
  const [cx, cy] = [ink.canvas.clientWidth - radius - 12, radius + 12];
  const half = radius / zoom;
  ink.save();
  ink.beginPath();
  ink.arc(cx, cy, radius, 0, 2 * Math.PI);
  ink.clip();
  ink.fillStyle = pen.token('--paper');
  ink.fillRect(cx - radius, cy - radius, 2 * radius, 2 * radius);
  ink.imageSmoothingEnabled = false;
  ink.drawImage(picture.image, at[0] - half, at[1] - half, 2 * half, 2 * half, cx - radius, cy - radius, 2 * radius, 2 * radius);
  ink.restore();
  ink.strokeStyle = pen.token('--field');
  ink.lineWidth = 2;
  ink.beginPath();
  ink.arc(cx, cy, radius, 0, 2 * Math.PI);
  ink.stroke();
  pen.cross([cx, cy], pen.token('--refit'));
}

function drawCurves(pen: Pen, w: number, h: number, scene: Scene): void {
  const { ink } = pen;
  const all = [...(scene.curve?.contour ?? []), ...(scene.ghost?.contour ?? [])];
  if (all.length === 0) {
    ink.fillStyle = pen.token('--soft');
    ink.font = '16px ' + pen.token('--text');
    ink.textAlign = 'center';
    ink.fillText('The registered curve stands here once the tracing can be measured.', w / 2, h / 2, w - 40);
    return;
  }
  const xs = all.map(p => p[0]),
    ys = all.map(p => p[1]);
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const scale = Math.min((w - 60) / (right - left || 1), (h - 60) / (high - low || 1));
  const at = (p: Point): Point => [w / 2 + (p[0] - (left + right) / 2) * scale, h / 2 - (p[1] - (low + high) / 2) * scale];
  pen.line([at([0, high + 20]), at([0, low - 20])], pen.token('--line'), 1, [3, 3]);
  if (scene.ghost) pen.line(scene.ghost.contour.map(at), pen.token('--field'), 2, [6, 4]);
  if (scene.curve) {
    pen.line(scene.curve.contour.map(at), pen.token('--left'), 3, []);
    for (const gap of scene.curve.gaps) pen.line(gap.map(at), pen.token('--refit'), 4, [2, 4]);
  }
  drawScale(pen, scale, h, scene.ghost !== null);
}

/** A bar of a round length, with what the lines are. */
function drawScale(pen: Pen, scale: number, h: number, ghost: boolean): void {
  const { ink } = pen;
  const length = [200, 100, 50, 20].find(mm => mm * scale <= 160) ?? 10;
  const [left, y, right] = [12, h - 34, 12 + length * scale];
  for (const [from, to] of [
    [
      [left, y],
      [right, y],
    ],
    [
      [left, y - 5],
      [left, y + 5],
    ],
    [
      [right, y - 5],
      [right, y + 5],
    ],
  ] as [Point, Point][])
    pen.line([from, to], pen.token('--ink'), 2, []);
  ink.fillStyle = pen.token('--ink');
  ink.font = '13px ' + pen.token('--text');
  ink.textAlign = 'left';
  ink.fillText(`${length} mm`, right + 8, y + 4);
  ink.fillStyle = pen.token('--soft');
  ink.fillText(ghost ? 'solid: this tracing; dashed: last visit' : 'this tracing', left, h - 10);
}
