// The tracing desk: picture in, scale, midline and level, points, and the server's measures beside them.
import { fit, type Point } from './plane';
import { NotAPicture, read, shownOf, type Picture, type Shown } from './picture';
import { History, empty, handles, inserted, moved, placeOf, without, type Handle, type Sheet } from './sheet';
import { toLine } from './snap';
import { Lens, draw, type Curve } from './view';
import { Draft, MOST_KEPT, attach, record, withVisit } from './keep';
import { Live, calibration, wire, type Measured, type Setup } from './live';
import { keysFor, nextStep, scaleOf, tooFew } from './words';

type Tool = 'known' | 'midline' | 'level' | 'trace' | 'mark' | 'move';

const $ = <T extends HTMLElement>(id: string) => document.getElementById(id) as T;
const root = $('desk');
const canvas = $<HTMLCanvasElement>('desk-canvas');
const data = root.dataset;
const tools = [...root.querySelectorAll<HTMLButtonElement>('[data-tool]')];
/** For a visit that is still being entered: the tracing is kept on this device and goes with it. */
const isDraft = data.visit === 'new';
choose();
const setup: Setup = { kind: data.kind as Setup['kind'], station: data.station || null, noise: Number(data.noise ?? 1), tailLeft: false };
let draft = draftHere();

const lens = new Lens();
const history = new History<Sheet>(empty);
let picture: Picture | null = null;
let shown: Shown | null = null;
/** The picture's file, to go with the visit. */
let file: File | null = null;
/** The tracing is on record, or goes with its visit: no draft of it is kept any more. */
let saved = false;
let tool: Tool = 'known';
let chosen: Handle | null = null;
let cursor: Point | null = null;
let levelFrom: Point | null = null;
let showCurve = false;
let curve: Curve | null = null;
let ghost: Curve | null = null;
let measured: Measured | null = null;
let dragging: { handle: Handle | null; from: Point; moved: boolean } | null = null;
const touches = new Map<number, Point>();

/** Each station's tracing is a command of its own, however often it is sent. */
const key = () => `${data.key}:${data.kind}:${data.station}`;

function draftHere(): Draft {
  return new Draft(`desk:${data.horse}:${data.visit}:${data.kind}:${data.station}`);
}

/**
 * One copy of the page serves all stations of a visit that is being entered: it may be the only one that is there without a
 * connection. What is traced stands in the list; somebody who was quicker than this script has chosen already, and the address says it otherwise.
 */
function choose(): void {
  const pick = $<HTMLSelectElement>('pick');
  const asked = new URLSearchParams(location.search).get('Station');
  if (asked && pick.selectedOptions[0]?.defaultSelected && [...pick.options].some(o => o.value === asked)) pick.value = asked;
  aim(pick);
}

function aim(pick: HTMLSelectElement): void {
  const topline = pick.value === 'topline';
  [data.kind, data.station] = topline ? ['topline', ''] : ['cross-section', pick.value];
  data.ghost = `/api/horses/${data.horse}/contours/${data.kind}?station=${data.station}${isDraft ? '' : `&before=${data.visit}`}`;
  root.querySelector<HTMLElement>('[data-tool=midline]')!.hidden = topline;
  for (const e of root.querySelectorAll<HTMLElement>('[data-of]')) e.toggleAttribute('hidden', (e.dataset.of === 'topline') !== topline);
  for (const o of root.querySelectorAll<HTMLOptionElement>('option[data-of]')) o.disabled = o.hasAttribute('hidden');
  $<HTMLSelectElement>('desk-mark').value = root.querySelector<HTMLOptionElement>('option[data-of]:not([hidden])')?.value ?? '';
  $('desk-what').textContent = pick.selectedOptions[0]!.textContent!.trim();
}

/** Another station on the same page: its own sheet, draft and earlier curve; what was traced of the one before stays in its draft. */
function turnTo(pick: HTMLSelectElement): void {
  keepNow();
  clearTimeout(keeping);
  aim(pick);
  window.history.replaceState(null, '', `?Station=${encodeURIComponent(pick.value)}`);
  [setup.kind, setup.station] = [data.kind as Setup['kind'], data.station || null];
  [draft, picture, shown, file, saved] = [draftHere(), null, null, null, false];
  [tool, chosen, cursor, levelFrom, measured, curve, ghost] = ['known', null, null, null, null, null, null];
  lastValues.clear();
  history.clear(empty);
  say('');
  restoreDraft();
  void loadGhost();
  refresh();
}

const live = new Live(show);
const plane = () => fit([...history.now.known]);

function change(next: Sheet, merge = false): void {
  history.set(next, merge);
  refresh();
}

function refresh(): void {
  const map = plane();
  const enough = map !== null && history.now.points.length >= 3 && (setup.kind === 'topline' || history.now.midline !== null);
  live.ask(enough ? wire(history.now, map, setup) : null);
  paint();
  keepDraft();
}

let painting = false;

/** With the next frame, once for everything that changed until then. */
function paint(): void {
  if (painting) return;
  painting = true;
  requestAnimationFrame(() => {
    painting = false;
    paintNow();
  });
}

function paintNow(): void {
  status();
  // What to do first stands on the bare desk only.
  $('desk-first').hidden = picture !== null || history.now !== empty || showCurve;
  draw(canvas, lens, { picture, sheet: history.now, plane: plane(), chosen, cursor, showCurve, curve, ghost });
}

function status(): void {
  const [map, topline, alone] = [plane(), setup.kind === 'topline', isDraft && !navigator.onLine];
  write(
    'desk-status',
    nextStep(history.now, { picture: picture !== null, topline, levelBegun: levelFrom !== null, alone }) + scaleOf(history.now, map),
  );
  for (const b of tools) if (b.ariaPressed !== String(b.dataset.tool === tool)) b.ariaPressed = String(b.dataset.tool === tool);
  $<HTMLButtonElement>('desk-undo').disabled = !history.canUndo;
  $<HTMLButtonElement>('desk-redo').disabled = !history.canRedo;
  $<HTMLButtonElement>('desk-save').disabled = measured ? Boolean(measured.refused) : !alone || !map || tooFew(history.now, topline);
  write('desk-keys', keysFor(chosen !== null, toolName()));
}

/** What stands there already is left alone: it would be laid out anew. */
function write(id: string, text: string): void {
  if ($(id).textContent !== text) $(id).textContent = text;
}

const toolName = () => root.querySelector<HTMLButtonElement>(`[data-tool="${tool}"]`)?.textContent?.trim() ?? tool;

function place(p: Point): void {
  const s = history.now;
  switch (tool) {
    case 'known':
      askKnown(p);
      break;
    case 'midline':
      change({ ...s, midline: p });
      tool = 'level';
      break;
    case 'level':
      placeLevel(p);
      break;
    case 'trace': {
      const at = picture && $<HTMLInputElement>('desk-snap').checked ? toLine(picture, p, lens.scale) : p;
      change({ ...s, points: inserted(s.points, at, 10 / lens.scale) });
      break;
    }
    case 'mark':
      change({ ...s, marks: { ...s.marks, [$<HTMLSelectElement>('desk-mark').value]: p } });
      break;
    default:
      break;
  }
  paint();
}

function placeLevel(p: Point): void {
  if (!levelFrom) {
    levelFrom = p;
    return;
  }
  change({ ...history.now, level: levelFrom[0] <= p[0] ? [levelFrom, p] : [p, levelFrom] });
  levelFrom = null;
  tool = 'trace';
}

function askKnown(p: Point): void {
  const dialog = $<HTMLDialogElement>('desk-known');
  const n = history.now.known.length;
  const [x, y] = [$<HTMLInputElement>('desk-known-x'), $<HTMLInputElement>('desk-known-y')];
  const preset = (data.corners ?? '')
    .split(';')
    .filter(Boolean)
    .map(c => c.split(',').map(Number))[n];
  [x.value, y.value] =
    preset && $<HTMLInputElement>('desk-sheet').checked ? (preset.map(String) as [string, string]) : n === 0 ? ['0', '0'] : ['', ''];
  dialog.onclose = () => {
    if (dialog.returnValue !== 'ok') return;
    const mm: Point = [Number(x.value.replace(',', '.')), Number(y.value.replace(',', '.'))];
    if (!mm.every(Number.isFinite) || x.value.trim() === '' || y.value.trim() === '') {
      say('Both numbers are needed, in millimetres.');
      return;
    }
    change({ ...history.now, known: [...history.now.known, { at: p, mm }] });
  };
  dialog.showModal();
  x.select();
}

function show(m: Measured | null, error: string | null): void {
  measured = m;
  const list = $('desk-measures');
  if (error) {
    say(error);
  }
  list.replaceChildren();
  if (m?.refused) say(m.refused.message);
  else if (m) say('');
  curve = m && !m.refused ? { contour: m.contour, gaps: m.flags.filter(f => f.flag === 'gap').map(f => [f.from, f.to]) } : null;
  // The bare half areas are those to 150 mm under another name.
  for (const row of (m?.measures ?? []).filter(r => r.key !== 'half-area-left' && r.key !== 'half-area-right')) {
    const tr = document.createElement('tr');
    for (const text of [row.says, row.reads ?? row.why ?? '—', lastValues.get(row.key) ?? ''])
      tr.append(Object.assign(document.createElement('td'), { textContent: text }));
    list.append(tr);
  }
  paint();
}

function say(text: string): void {
  $('desk-error').textContent = text;
  $('desk-error').hidden = text === '';
}

const lastValues = new Map<string, string>();

async function loadGhost(): Promise<void> {
  const asked = data.ghost;
  if (!asked) return;
  const answer = await fetch(asked).catch(() => null);
  // Meanwhile another station may have been chosen.
  if (!answer?.ok || asked !== data.ghost) return;
  const last = (await answer.json()) as Measured;
  ghost = { contour: last.contour, gaps: [] };
  for (const m of last.measures) if (m.reads !== null) lastValues.set(m.key, m.reads);
  paint();
}

async function put(chosen: File): Promise<void> {
  try {
    picture = await read(chosen);
    file = chosen;
    const keep = $<HTMLInputElement>('desk-keep');
    keep.disabled = chosen.size > MOST_KEPT;
    keep.checked &&= !keep.disabled;
    shown = await shownOf(picture, chosen);
    say('');
    lens.fit(picture.width, picture.height, canvas);
    void limber(picture);
  } catch (e) {
    if (!(e instanceof NotAPicture)) throw e;
    say(e.message);
  }
  paint();
  keepDraft();
}

/**
 * While the picture is looked at: the browser takes the memory for its frames and reads the code of a point, so that the first
 * one waits for neither.
 */
async function limber(shown: Picture): Promise<void> {
  for (let frame = 0; frame < 3; frame++) {
    await new Promise(requestAnimationFrame);
    paintNow();
  }
  toLine(shown, [shown.width / 2, shown.height / 2], lens.scale);
}

async function save(): Promise<void> {
  const map = plane();
  if (!map || measured?.refused || (!measured && !isDraft)) return;
  const button = $<HTMLButtonElement>('desk-save');
  button.disabled = true;
  const entry = { ...wire(history.now, map, setup), ...calibration(history.now, map, shown) };
  const keep = $<HTMLInputElement>('desk-keep').checked ? file : null;
  if (isDraft) {
    await withVisit(data.horse!, `${setup.kind}:${setup.station ?? ''}`, $('desk-what').textContent!, entry, keep);
    saved = true;
    draft.drop();
    location.assign(data.done!);
    return;
  }
  let why = saved ? null : await record(data.save!, key(), entry);
  if (!why) {
    saved = true;
    draft.drop();
    why = keep && (await attach(data.files!, key(), keep));
    if (!why) {
      location.assign(data.done!);
      return;
    }
    button.textContent = 'Save the picture';
    why = `The tracing is saved. Its picture is not: ${why} Try again, or take the tick off and go on.`;
  }
  button.disabled = false;
  say(why);
}

let keeping = 0;

/** A moment later: a point is on the screen first. Whoever leaves in between loses nothing. */
function keepDraft(): void {
  clearTimeout(keeping);
  keeping = window.setTimeout(keepNow, 150);
}

function keepNow(): void {
  if (history.now !== empty && !saved) draft.keep(history.now, shown);
}

addEventListener('pagehide', keepNow);
document.addEventListener('visibilitychange', keepNow);

function restoreDraft(): void {
  const kept = draft.restore();
  if (!kept) return;
  history.set(kept.sheet);
  shown = kept.shown;
  say('Your last tracing of this station is still here. Put the same picture in to see it over the paper.');
}

const here = (e: PointerEvent): Point => {
  const box = canvas.getBoundingClientRect();
  return [e.clientX - box.left, e.clientY - box.top];
};

function nearest(p: Point): Handle | null {
  let best: Handle | null = null,
    least = 16;
  for (const h of handles(history.now)) {
    const [x, y] = lens.toCanvas(placeOf(history.now, h));
    const d = Math.hypot(x - p[0], y - p[1]);
    if (d < least) [least, best] = [d, h];
  }
  return best;
}

canvas.addEventListener('pointerdown', e => {
  canvas.setPointerCapture(e.pointerId);
  const p = here(e);
  touches.set(e.pointerId, p);
  if (touches.size > 1 || showCurve) {
    dragging = null;
    return;
  }
  const handle = e.button === 0 ? nearest(p) : null;
  chosen = handle;
  dragging = { handle, from: p, moved: false };
  paint();
});

canvas.addEventListener('pointermove', e => {
  const p = here(e);
  const before = touches.get(e.pointerId);
  if (touches.size === 2 && before) {
    pinch(e.pointerId, before, p);
    return;
  }
  if (before) touches.set(e.pointerId, p);
  cursor = lens.toPicture(p);
  if (dragging) {
    const far = Math.hypot(p[0] - dragging.from[0], p[1] - dragging.from[1]) > 4;
    if (dragging.handle && (far || dragging.moved)) {
      change(moved(history.now, dragging.handle, lens.toPicture(p)), dragging.moved);
      dragging.moved = true;
      return;
    }
    if (!dragging.handle && (tool === 'move' || e.buttons === 4 || dragging.moved) && before && far) {
      dragging.moved = true;
      lens.pan(p[0] - before[0], p[1] - before[1]);
    }
  }
  paint();
});

canvas.addEventListener('pointerup', e => {
  touches.delete(e.pointerId);
  if (!dragging) return;
  const { handle, moved: didMove } = dragging;
  dragging = null;
  if (!handle && !didMove && tool !== 'move' && picture) place(lens.toPicture(here(e)));
  paint();
});

canvas.addEventListener('pointercancel', e => {
  touches.delete(e.pointerId);
  dragging = null;
});
canvas.addEventListener('pointerleave', () => {
  cursor = null;
  paint();
});

function pinch(id: number, before: Point, now: Point): void {
  const other = [...touches].find(([k]) => k !== id)![1];
  const [d0, d1] = [Math.hypot(before[0] - other[0], before[1] - other[1]), Math.hypot(now[0] - other[0], now[1] - other[1])];
  lens.zoom(d1 / (d0 || 1), [(now[0] + other[0]) / 2, (now[1] + other[1]) / 2]);
  lens.pan((now[0] - before[0]) / 2, (now[1] - before[1]) / 2);
  touches.set(id, now);
  paint();
}

canvas.addEventListener(
  'wheel',
  e => {
    e.preventDefault();
    const box = canvas.getBoundingClientRect();
    lens.zoom(Math.exp(-e.deltaY / 400), [e.clientX - box.left, e.clientY - box.top]);
    paint();
  },
  { passive: false },
);

canvas.addEventListener('keydown', e => {
  const step = e.shiftKey ? 10 : 1;
  const arrows: Record<string, Point> = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] };
  const arrow = arrows[e.key];
  const centre = (): Point => lens.toPicture([canvas.clientWidth / 2, canvas.clientHeight / 2]);
  if (arrow && chosen) {
    const [x, y] = placeOf(history.now, chosen);
    change(moved(history.now, chosen, [x + arrow[0] / lens.scale, y + arrow[1] / lens.scale]));
  } else if (arrow) {
    cursor ??= centre();
    cursor = [cursor[0] + (4 * arrow[0]) / lens.scale, cursor[1] + (4 * arrow[1]) / lens.scale];
  } else if (e.key === 'Enter' && picture && !showCurve) place(cursor ?? centre());
  else if (e.key === 'Tab' && !e.ctrlKey && handles(history.now).length > 0) {
    const all = handles(history.now);
    const i = chosen ? all.findIndex(h => JSON.stringify(h) === JSON.stringify(chosen)) : e.shiftKey ? 0 : -1;
    const next = i + (e.shiftKey ? -1 : 1);
    if (next < 0 || next >= all.length) {
      chosen = null;
      paint();
      return;
    }
    chosen = all[next]!;
  } else if ((e.key === 'Delete' || e.key === 'Backspace') && chosen) {
    const gone = chosen;
    chosen = null;
    change(without(history.now, gone));
  } else if (e.key === 'Escape') {
    chosen = null;
    levelFrom = null;
  } else if (e.key.toLowerCase() === 'z' && history.undo()) {
    chosen = null;
    refresh();
  } else if (e.key.toLowerCase() === 'y' && history.redo()) {
    chosen = null;
    refresh();
  } else if (e.key === '+' || e.key === '-') lens.zoom(e.key === '+' ? 1.25 : 0.8, [canvas.clientWidth / 2, canvas.clientHeight / 2]);
  else if (e.key.toLowerCase() === 'c') toggle();
  else return;
  e.preventDefault();
  paint();
});

function toggle(): void {
  showCurve = !showCurve;
  $('desk-toggle').setAttribute('aria-pressed', String(showCurve));
  paint();
}

for (const b of tools)
  b.addEventListener('click', () => {
    tool = b.dataset.tool as Tool;
    levelFrom = null;
    paint();
    canvas.focus();
  });
$('desk-undo').addEventListener('click', () => {
  if (history.undo()) {
    chosen = null;
    refresh();
  }
});
$('desk-redo').addEventListener('click', () => {
  if (history.redo()) {
    chosen = null;
    refresh();
  }
});
$('desk-toggle').addEventListener('click', toggle);
$('desk-save').addEventListener('click', () => void save());
$('desk-zoom-in').addEventListener('click', () => {
  lens.zoom(1.25, [canvas.clientWidth / 2, canvas.clientHeight / 2]);
  paint();
});
$('desk-zoom-out').addEventListener('click', () => {
  lens.zoom(0.8, [canvas.clientWidth / 2, canvas.clientHeight / 2]);
  paint();
});
$('desk-again').addEventListener('click', () => {
  chosen = null;
  change({ ...history.now, points: [] });
});
$<HTMLInputElement>('desk-file').addEventListener('change', e => {
  const file = (e.target as HTMLInputElement).files?.[0];
  if (file) void put(file);
});
$<HTMLInputElement>('desk-noise').addEventListener('change', e => {
  setup.noise = Math.max(0, Number((e.target as HTMLInputElement).value) || 0);
  refresh();
});
document.getElementById('desk-tail')?.addEventListener('change', e => {
  setup.tailLeft = (e.target as HTMLInputElement).checked;
  refresh();
});
canvas.addEventListener('dragover', e => e.preventDefault());
canvas.addEventListener('drop', e => {
  e.preventDefault();
  const file = e.dataTransfer?.files[0];
  if (file) void put(file);
});
new ResizeObserver(() => paint()).observe(canvas);

$<HTMLSelectElement>('pick').addEventListener('change', e => turnTo(e.target as HTMLSelectElement));

restoreDraft();
void loadGhost();
refresh();
