// The hand on the canvas: pointers, wheel, keys and a picture that is dropped there.
import type { Controller } from './controller';
import type { Point } from './plane';
import { moved, placeOf, type Handle } from './sheet';
import { nearest } from './tools';

/** How near to something on the sheet the hand takes hold of it, and how far it goes before it drags, in pixels of the screen. */
const [GRASP, SLACK] = [16, 4];

/** So near to a point a touch means the point itself; further off, and within grasp, it sets another beside it. */
const ON_IT = 7;

const arrows: Readonly<Record<string, Point>> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export class Input {
  private readonly touches = new Map<number, Point>();
  private dragging: { handle: Handle | null; from: Point; moved: boolean } | null = null;

  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly desk: Controller,
    private readonly toggle: () => void,
  ) {}

  listen(): void {
    const { canvas, desk } = this;
    canvas.addEventListener('pointerdown', e => this.down(e));
    canvas.addEventListener('pointermove', e => this.move(e));
    canvas.addEventListener('pointerup', e => this.up(e));
    canvas.addEventListener('pointercancel', e => {
      this.touches.delete(e.pointerId);
      this.dragging = null;
    });
    // A touch is a touch of the picture alone: the click that browsers make of it afterwards would fall into the dialog that it opened.
    canvas.addEventListener('touchend', e => e.preventDefault(), { passive: false });
    canvas.addEventListener('pointerleave', () => desk.point(null));
    canvas.addEventListener('wheel', e => this.wheel(e), { passive: false });
    canvas.addEventListener('keydown', e => {
      if (!this.key(e)) return;
      e.preventDefault();
      desk.paint();
    });
    canvas.addEventListener('dragover', e => e.preventDefault());
    canvas.addEventListener('drop', e => {
      e.preventDefault();
      const file = e.dataTransfer?.files[0];
      if (file) void desk.put(file);
    });
  }

  /** Larger or smaller about the middle. */
  zoom(factor: number): void {
    this.desk.lens.zoom(factor, this.middle());
    this.desk.paint();
  }

  private middle(): Point {
    return [this.canvas.clientWidth / 2, this.canvas.clientHeight / 2];
  }

  private here(e: MouseEvent): Point {
    const box = this.canvas.getBoundingClientRect();
    return [e.clientX - box.left, e.clientY - box.top];
  }

  private down(e: PointerEvent): void {
    this.canvas.setPointerCapture(e.pointerId);
    const p = this.here(e);
    this.touches.set(e.pointerId, p);
    if (this.touches.size > 1 || this.desk.isCurve) {
      this.dragging = null;
      return;
    }
    const handle = e.button === 0 ? nearest(this.desk.sheet, p, GRASP, at => this.desk.lens.toCanvas(at)) : null;
    this.dragging = { handle, from: p, moved: false };
    this.desk.choose(handle);
  }

  private move(e: PointerEvent): void {
    const { desk, dragging } = this;
    const p = this.here(e);
    const before = this.touches.get(e.pointerId);
    if (this.touches.size === 2 && before) {
      this.pinch(e.pointerId, before, p);
      return;
    }
    if (before) this.touches.set(e.pointerId, p);
    desk.point(desk.lens.toPicture(p));
    if (!dragging) return;
    const far = Math.hypot(p[0] - dragging.from[0], p[1] - dragging.from[1]) > SLACK;
    if (dragging.handle && (far || dragging.moved)) {
      desk.change(moved(desk.sheet, dragging.handle, desk.lens.toPicture(p)), dragging.moved);
      dragging.moved = true;
    } else if (!dragging.handle && (desk.tool === 'move' || e.buttons === 4 || dragging.moved) && before && far) {
      dragging.moved = true;
      desk.lens.pan(p[0] - before[0], p[1] - before[1]);
    }
  }

  private up(e: PointerEvent): void {
    const { desk, dragging } = this;
    this.touches.delete(e.pointerId);
    if (!dragging) return;
    this.dragging = null;
    if (!dragging.moved && desk.tool !== 'move' && desk.hasPicture && !this.means(dragging)) desk.place(desk.lens.toPicture(this.here(e)));
    desk.paint();
  }

  /** Whether a touch that went nowhere chose what it took hold of. */
  private means({ handle, from }: { handle: Handle | null; from: Point }): boolean {
    if (!handle) return false;
    const [x, y] = this.desk.lens.toCanvas(placeOf(this.desk.sheet, handle));
    return this.desk.tool !== 'trace' || Math.hypot(x - from[0], y - from[1]) <= ON_IT;
  }

  private pinch(id: number, before: Point, now: Point): void {
    const { lens } = this.desk;
    const other = [...this.touches].find(([k]) => k !== id)![1];
    const [d0, d1] = [Math.hypot(before[0] - other[0], before[1] - other[1]), Math.hypot(now[0] - other[0], now[1] - other[1])];
    lens.zoom(d1 / (d0 || 1), [(now[0] + other[0]) / 2, (now[1] + other[1]) / 2]);
    lens.pan((now[0] - before[0]) / 2, (now[1] - before[1]) / 2);
    this.touches.set(id, now);
    this.desk.paint();
  }

  private wheel(e: WheelEvent): void {
    e.preventDefault();
    this.desk.lens.zoom(Math.exp(-e.deltaY / 400), this.here(e));
    this.desk.paint();
  }

  /** @returns whether the key meant something here. */
  private key(e: KeyboardEvent): boolean {
    const { desk } = this;
    const arrow = arrows[e.key];
    if (arrow) {
      this.nudge(arrow, e.shiftKey ? 10 : 1);
      return true;
    }
    switch (e.key) {
      case 'Enter':
        if (!desk.hasPicture || desk.isCurve) return false;
        desk.place(desk.pointed ?? desk.lens.toPicture(this.middle()));
        return true;
      case 'Tab':
        return !e.ctrlKey && desk.chooseNext(e.shiftKey);
      case 'Delete':
      case 'Backspace':
        if (!desk.chosen) return false;
        desk.removeChosen();
        return true;
      case 'Escape':
        desk.letGo();
        return true;
      case '+':
      case '-':
        this.zoom(e.key === '+' ? 1.25 : 0.8);
        return true;
      default:
        return this.letter(e.key.toLowerCase(), e.shiftKey);
    }
  }

  private letter(key: string, shifted: boolean): boolean {
    if (key === 'z') return shifted ? this.desk.redo() : this.desk.undo();
    if (key === 'y') return this.desk.redo();
    if (key !== 'c') return false;
    this.toggle();
    return true;
  }

  /** Moves what is chosen by pixels of the screen, or the cross where nothing is. */
  private nudge([dx, dy]: Point, step: number): void {
    const { desk } = this;
    const by = step / desk.lens.scale;
    if (desk.chosen) {
      const [x, y] = placeOf(desk.sheet, desk.chosen);
      desk.change(moved(desk.sheet, desk.chosen, [x + dx * by, y + dy * by]));
    } else {
      const [x, y] = desk.pointed ?? desk.lens.toPicture(this.middle());
      desk.point([x + 4 * dx * by, y + 4 * dy * by]);
    }
  }
}
