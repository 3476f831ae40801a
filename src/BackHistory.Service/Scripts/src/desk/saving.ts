// The tracing on its way: the draft on this device while it grows, then with its visit, and its picture after it.
import { attach, Draft, MOST_KEPT, record, withVisit } from './keep';
import { whoIsHere } from '../visit/store';
import { calibration, wire, type Setup } from './live';
import type { Page } from './page';
import { shownOf, type Picture, type Shown } from './picture';
import type { ToPlane } from './plane';
import { empty, type Sheet } from './sheet';

/** A moment later: a point is on the screen first. */
const KEEP_AFTER_MS = 150;

/** Why it was not taken, and whether only the picture is still to be sent. */
export interface NotTaken {
  why: string;
  onlyPicture: boolean;
}

export class Saving {
  private draft: Draft;
  private shown: Shown | null = null;
  /** The picture's file, to go with the visit. */
  private file: File | null = null;
  /** The tracing is on record, or goes with its visit: no draft of it is kept any more. */
  private done = false;
  private timer = 0;

  constructor(private readonly page: Page) {
    this.draft = this.draftHere();
  }

  /** Whoever leaves loses nothing. */
  keepNow(sheet: Sheet): void {
    if (sheet !== empty && !this.done) this.draft.keep(sheet, this.shown);
  }

  keepSoon(sheet: () => Sheet): void {
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.keepNow(sheet()), KEEP_AFTER_MS);
  }

  /** Another station: what was traced of the one before stays in its draft. */
  turn(): void {
    clearTimeout(this.timer);
    [this.draft, this.shown, this.file, this.done] = [this.draftHere(), null, null, false];
  }

  restore(): Sheet | null {
    const kept = this.draft.restore();
    if (!kept) return null;
    this.shown = kept.shown;
    return kept.sheet;
  }

  async put(picture: Picture, file: File): Promise<void> {
    this.file = file;
    this.page.mayKeep(file.size <= MOST_KEPT);
    this.shown = await shownOf(picture, file);
  }

  /** @returns null once all of it is on record, and the page is left. */
  async save(sheet: Sheet, map: ToPlane, setup: Setup): Promise<NotTaken | null> {
    const { page } = this;
    const entry = { ...wire(sheet, map, setup), ...calibration(sheet, map, this.shown) };
    const picture = page.keepsPicture ? this.file : null;
    if (page.isDraft) {
      await withVisit(page.horse, page.what, page.says, entry, picture);
    } else if (!this.done) {
      const why = await record(page.addresses.save, page.key, entry);
      if (why) return { why, onlyPicture: false };
    }
    this.done = true;
    this.draft.drop();
    const why = picture && !page.isDraft ? await attach(page.addresses.files, page.key, picture) : null;
    if (why) return { why, onlyPicture: true };
    location.assign(page.addresses.done);
    return null;
  }

  private draftHere(): Draft {
    return new Draft(`desk:${whoIsHere().id}:${this.page.horse}:${this.page.visit}:${this.page.what}`);
  }
}
