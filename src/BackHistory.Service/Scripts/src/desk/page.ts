// The desk's page: its elements, what they say and what they are told.
import type { Setup } from './live';
import { TOOLS, type Tool } from './tools';

/** The element of this name, of the kind that the page must have there. */
export function element<T extends HTMLElement>(id: string, kind: new () => T): T {
  const found = document.getElementById(id);
  if (!(found instanceof kind)) throw new Error(`The page has no ${kind.name} named ${id}.`);
  return found;
}

export interface Row {
  says: string;
  reads: string;
  before: string;
}

const cell = (textContent: string) => Object.assign(document.createElement('td'), { textContent });

export class Page {
  readonly canvas = element('desk-canvas', HTMLCanvasElement);
  readonly pick = element('pick', HTMLSelectElement);
  readonly tools: readonly HTMLButtonElement[];
  private readonly root = element('desk', HTMLElement);
  private readonly keep = element('desk-keep', HTMLInputElement);

  constructor() {
    this.tools = [...this.root.querySelectorAll<HTMLButtonElement>('[data-tool]')];
  }

  get horse(): string {
    return this.root.dataset.horse!;
  }

  get visit(): string {
    return this.root.dataset.visit!;
  }

  /** For a visit that is still being entered: the tracing is kept on this device and goes with it. */
  get isDraft(): boolean {
    return this.visit === 'new';
  }

  /** Where a tracing is sent, where its picture is, and where to go on to then. */
  get addresses(): { save: string; files: string; done: string } {
    const { save, files, done } = this.root.dataset;
    return { save: save!, files: files!, done: done! };
  }

  /** Each station's tracing is a command of its own, however often it is sent. */
  get key(): string {
    return `${this.root.dataset.key}:${this.what}`;
  }

  /** What is traced, in one word that no other has: its kind and its station. */
  get what(): string {
    return `${this.kind}:${this.station ?? ''}`;
  }

  get kind(): Setup['kind'] {
    return this.pick.value === 'topline' ? 'topline' : 'cross-section';
  }

  get station(): string | null {
    return this.pick.value === 'topline' ? null : this.pick.value;
  }

  get setup(): Setup {
    return { kind: this.kind, station: this.station, noise: Number(this.root.dataset.noise ?? 1), tailLeft: false };
  }

  /** The curve of the visit before. */
  get ghost(): string {
    const before = this.isDraft ? '' : `&before=${this.visit}`;
    return `/api/horses/${this.horse}/contours/${this.kind}?station=${this.station ?? ''}${before}`;
  }

  get snaps(): boolean {
    return element('desk-snap', HTMLInputElement).checked;
  }

  get mark(): string {
    return element('desk-mark', HTMLSelectElement).value;
  }

  get keepsPicture(): boolean {
    return this.keep.checked;
  }

  /** The name of what is traced, as a person reads it. */
  get says(): string {
    return element('desk-what', HTMLElement).textContent;
  }

  /**
   * One copy of the page serves all stations of a visit that is being entered: it may be the only one that is there without a
   * connection. What is traced stands in the list; somebody who was quicker than this script has chosen already, and the address
   * says it otherwise.
   */
  choose(): void {
    const asked = new URLSearchParams(location.search).get('Station');
    const quicker = !this.pick.selectedOptions[0]?.defaultSelected;
    if (asked && !quicker && [...this.pick.options].some(o => o.value === asked)) this.pick.value = asked;
    this.aim();
  }

  /** Shows what belongs to what is traced, and hides the rest. */
  aim(): void {
    const topline = this.kind === 'topline';
    this.root.querySelector<HTMLElement>('[data-tool=midline]')!.hidden = topline;
    for (const e of this.root.querySelectorAll<HTMLElement>('[data-of]'))
      e.toggleAttribute('hidden', (e.dataset.of === 'topline') !== topline);
    for (const o of this.root.querySelectorAll<HTMLOptionElement>('option[data-of]')) o.disabled = o.hasAttribute('hidden');
    const first = this.root.querySelector<HTMLOptionElement>('option[data-of]:not([hidden])');
    element('desk-mark', HTMLSelectElement).value = first?.value ?? '';
    element('desk-what', HTMLElement).textContent = this.pick.selectedOptions[0]!.textContent.trim();
  }

  toolNamed(button: HTMLButtonElement): Tool {
    return TOOLS.find(t => t === button.dataset.tool) ?? 'move';
  }

  press(tool: Tool): void {
    for (const b of this.tools) {
      const pressed = String(b.dataset.tool === tool);
      if (b.ariaPressed !== pressed) b.ariaPressed = pressed;
    }
  }

  nameOf(tool: Tool): string {
    return this.tools.find(b => b.dataset.tool === tool)?.textContent.trim() ?? tool;
  }

  /** A file too large for a visit cannot be kept with it. */
  mayKeep(may: boolean): void {
    this.keep.disabled = !may;
    this.keep.checked &&= may;
  }

  say(text: string): void {
    const error = element('desk-error', HTMLElement);
    error.textContent = text;
    error.hidden = text === '';
  }

  /** What stands there already is left alone: it would be laid out anew. */
  write(id: 'desk-status' | 'desk-keys', text: string): void {
    const place = element(id, HTMLElement);
    if (place.textContent !== text) place.textContent = text;
  }

  enable(id: 'desk-undo' | 'desk-redo' | 'desk-save', on: boolean): void {
    element(id, HTMLButtonElement).disabled = !on;
  }

  /** What to do first stands on the bare desk only. */
  showFirst(bare: boolean): void {
    element('desk-first', HTMLElement).hidden = !bare;
  }

  showRows(rows: readonly Row[]): void {
    element('desk-measures', HTMLElement).replaceChildren(
      ...rows.map(r => {
        const tr = document.createElement('tr');
        tr.append(cell(r.says), cell(r.reads), cell(r.before));
        return tr;
      }),
    );
  }

  /** Where the point is, as it was typed; null where it was left. */
  askPlace([right, down]: readonly [string, string]): Promise<readonly [string, string] | null> {
    const dialog = element('desk-known', HTMLDialogElement);
    const [x, y] = [element('desk-known-x', HTMLInputElement), element('desk-known-y', HTMLInputElement)];
    [x.value, y.value] = [right, down];
    const closed = new Promise<readonly [string, string] | null>(resolve => {
      dialog.addEventListener('close', () => resolve(dialog.returnValue === 'ok' ? [x.value, y.value] : null), { once: true });
    });
    dialog.showModal();
    x.select();
    return closed;
  }
}
