// The tracing desk: picture in, scale, midline and level, points, and the server's measures beside them.
import { Lens } from './lens';
import { Live, spreadOf, wire, type Setup } from './live';
import { Measures } from './measures';
import type { Page } from './page';
import { NotAPicture, read, type Picture } from './picture';
import { fit, type Point, type ToPlane } from './plane';
import { Saving, type NotTaken } from './saving';
import { empty, History, without, type Handle, type Sheet } from './sheet';
import { Snap } from './snap';
import { neighbour, placeProposed, placeTyped, take, touched, withKnown, type Hand, type Tool } from './tools';
import { draw } from './view';
import { keysFor, nextStep, scaleOf, tooFew } from './words';

/** How near to the tracing a new point belongs to it, in pixels of the screen. */
const REACH = 10;

export class Controller {
  readonly lens = new Lens();
  private readonly history = new History<Sheet>(empty);
  private readonly snap = new Snap();
  private readonly measures: Measures;
  private readonly saving: Saving;
  private readonly live = new Live((m, error) => {
    this.measures.show(m, error);
    this.paint();
  });
  private setup: Setup;
  private hand: Hand = take('known');
  private picture: Picture | null = null;
  private held: Handle | null = null;
  private cursor: Point | null = null;
  private showsCurve = false;
  private painting = false;

  constructor(private readonly page: Page) {
    page.choose();
    this.setup = page.setup;
    this.measures = new Measures(page);
    this.saving = new Saving(page);
  }

  begin(): void {
    const kept = this.saving.restore();
    if (kept) {
      this.history.set(kept);
      this.page.say('Your last tracing of this station is still here. Put the same picture in to see it over the paper.');
    }
    void this.measures.loadBefore().then(() => this.paint());
    this.refresh();
  }

  get sheet(): Sheet {
    return this.history.now;
  }

  get tool(): Tool {
    return this.hand.tool;
  }

  get chosen(): Handle | null {
    return this.held;
  }

  get hasPicture(): boolean {
    return this.picture !== null;
  }

  get isCurve(): boolean {
    return this.showsCurve;
  }

  /** Another station on the same page: its own sheet, draft and earlier curve; what was traced of the one before stays in its draft. */
  turn(): void {
    this.keepNow();
    this.page.aim();
    window.history.replaceState(null, '', `?Station=${encodeURIComponent(this.page.pick.value)}`);
    const { kind, station } = this.page;
    this.setup = { ...this.setup, kind, station };
    this.saving.turn();
    this.measures.clear();
    [this.hand, this.picture, this.held, this.cursor] = [take('known'), null, null, null];
    this.history.clear(empty);
    this.page.say('');
    this.begin();
  }

  /** @param merge joins the change to the last one: one drag is one step. */
  change(next: Sheet, merge = false): void {
    this.history.set(next, merge);
    this.refresh();
  }

  undo(): boolean {
    return this.stepped(this.history.undo());
  }

  redo(): boolean {
    return this.stepped(this.history.redo());
  }

  take(tool: Tool): void {
    this.hand = take(tool);
    this.paint();
  }

  choose(handle: Handle | null): void {
    this.held = handle;
    this.paint();
  }

  /** @returns whether there was one: past the last the keyboard goes on in the page. */
  chooseNext(back: boolean): boolean {
    this.choose(neighbour(this.sheet, this.held, back));
    return this.held !== null;
  }

  removeChosen(): void {
    if (!this.held) return;
    const gone = this.held;
    this.held = null;
    this.change(without(this.sheet, gone));
  }

  letGo(): void {
    this.held = null;
    this.hand = { ...this.hand, levelFrom: null };
    this.paint();
  }

  traceAgain(): void {
    this.held = null;
    this.change({ ...this.sheet, points: [] });
  }

  /** Where the cross is, in picture pixels. */
  point(at: Point | null): void {
    this.cursor = at;
    this.paint();
  }

  get pointed(): Point | null {
    return this.cursor;
  }

  set(setup: Partial<Pick<Setup, 'noise' | 'tailLeft'>>): void {
    this.setup = { ...this.setup, ...setup };
    this.refresh();
  }

  /** @returns whether the curve is shown now. */
  toggle(): boolean {
    this.showsCurve = !this.showsCurve;
    this.paint();
    return this.showsCurve;
  }

  /** What a touch of the picture does with the tool in the hand. */
  place(p: Point): void {
    if (this.tool === 'known') void this.placeKnown(p);
    const snapped = this.tool === 'trace' && this.page.snaps ? this.picture : null;
    const at = snapped ? this.snap.toLine(snapped, p, this.lens.scale) : p;
    const next = touched(this.hand, this.sheet, { at, reach: REACH / this.lens.scale, mark: this.page.mark });
    this.hand = next.hand;
    if (next.sheet !== this.sheet) this.change(next.sheet);
    this.paint();
  }

  async put(file: File): Promise<void> {
    try {
      const picture = await read(file);
      this.picture = picture;
      await this.saving.put(picture, file);
      this.page.say('');
      this.lens.fit(picture.width, picture.height, this.page.canvas);
      void this.limber(picture);
    } catch (e) {
      if (!(e instanceof NotAPicture)) throw e;
      this.page.say(e.message);
    }
    this.paint();
    this.saving.keepSoon(() => this.sheet);
  }

  /** @returns why it was not taken; null where nothing can be saved yet, and once all is on record and the page is left. */
  async save(): Promise<NotTaken | null> {
    const map = this.plane();
    const { now } = this.measures;
    if (!map || now?.refused || (!now && !this.page.isDraft)) return null;
    this.page.enable('desk-save', false);
    const not = await this.saving.save(this.sheet, map, this.setup);
    if (not) this.page.enable('desk-save', true);
    return not;
  }

  /** With the next frame, once for everything that changed until then. */
  paint(): void {
    if (this.painting) return;
    this.painting = true;
    requestAnimationFrame(() => {
      this.painting = false;
      this.paintNow();
    });
  }

  keepNow(): void {
    this.saving.keepNow(this.sheet);
  }

  private stepped(made: boolean): boolean {
    if (!made) return false;
    this.held = null;
    this.refresh();
    return true;
  }

  private async placeKnown(at: Point): Promise<void> {
    const typed = await this.page.askPlace(placeProposed(this.sheet.known.length));
    if (!typed) return;
    const mm = placeTyped(...typed);
    if (mm) this.change(withKnown(this.sheet, at, mm));
    else this.page.say('Both numbers are needed, in millimetres.');
  }

  private plane(): ToPlane | null {
    return fit([...this.sheet.known]);
  }

  private refresh(): void {
    const map = this.plane();
    const enough = map && this.sheet.points.length >= 3 && (this.setup.kind === 'topline' || this.sheet.midline !== null);
    this.live.ask(enough ? wire(this.sheet, map, this.setup) : null, map ? spreadOf(this.sheet.known, map) : {});
    this.paint();
    this.saving.keepSoon(() => this.sheet);
  }

  private paintNow(): void {
    this.status();
    const { page, picture, sheet, held: chosen, cursor, showsCurve: showCurve } = this;
    page.showFirst(picture === null && sheet === empty && !showCurve);
    const { curve, ghost } = this.measures;
    draw(page.canvas, this.lens, { picture, sheet, plane: this.plane(), chosen, cursor, showCurve, curve, ghost });
  }

  private status(): void {
    const { page, sheet } = this;
    const measured = this.live.isCurrent ? this.measures.now : null;
    const [map, topline, alone] = [this.plane(), this.setup.kind === 'topline', page.isDraft && !navigator.onLine];
    const answer = measured ? (measured.refused ? 'refused' : 'measured') : 'none';
    const next = nextStep(sheet, {
      picture: this.hasPicture,
      topline,
      levelBegun: this.hand.levelFrom !== null,
      alone,
      answer,
      concerns: measured?.concerns ?? [],
    });
    page.write('desk-status', next + scaleOf(sheet, map));
    page.press(this.tool);
    page.enable('desk-undo', this.history.canUndo);
    page.enable('desk-redo', this.history.canRedo);
    page.enable('desk-save', measured ? !measured.refused : alone && map !== null && !tooFew(sheet, topline));
    page.write('desk-keys', keysFor(this.held !== null, page.nameOf(this.tool)));
  }

  /**
   * While the picture is looked at: the browser takes the memory for its frames and reads the code of a point, so that the first
   * one waits for neither.
   */
  private async limber(picture: Picture): Promise<void> {
    for (let frame = 0; frame < 3; frame++) {
      await new Promise(requestAnimationFrame);
      this.paintNow();
    }
    this.snap.toLine(picture, [picture.width / 2, picture.height / 2], this.lens.scale);
  }
}
