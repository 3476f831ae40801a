// What the page that brings tables in asks of the interface, and what it is answered.

export interface Field {
  key: string;
  says: string;
  needed: boolean;
  /** What old tables call it, in any language. */
  names: string[];
}

export interface Sheet {
  id: string;
  headers: string[];
  examples: string[][];
  lines: number;
  letters: string;
  odd: string[];
  passedOver: { line: number; text: string }[];
}

export interface Fault {
  column?: string;
  value?: string;
  message: string;
}

export interface Line {
  line: number;
  verdict: string;
  who?: string;
  message?: string;
  column?: string;
  faults?: Fault[];
  /** What every cell that could be read was taken for, while it is tried. */
  readings?: { column: string; as: string }[];
  takenBack?: boolean;
  staysBecause?: string;
}

export interface Lines {
  lines: Line[];
  next?: number;
}

export interface Question {
  about: string;
  question: string;
  answers: string[];
  columns: string[];
  /** Null where the plan holds one answer under that field. */
  of?: string | null;
  several?: boolean;
  labels?: string[];
  reads?: number[];
}

export interface Counts {
  entered: number;
  already: number;
  refused: number;
}

export interface Trial extends Lines {
  questions: Question[];
  counts: Counts;
}

export interface Import {
  id: string;
  name: string;
  at: string;
  state: string;
  lines: number;
  counts: Counts;
  takenBack: Counts;
  heldUntil?: string;
}

export interface Forecast {
  goes: Record<string, number>;
  stays: { line: number; who?: string; why: string }[];
  looked: number;
  lines: number;
}

export const root = document.querySelector<HTMLElement>('#bring-in')!;

// eslint-disable-next-line typescript/no-unnecessary-type-parameters -- whoever asks says of what kind the element is
export const at = <T extends HTMLElement>(selector: string): T => root.querySelector<T>(selector)!;

export const tell = (text: string): void => {
  at('[data-told]').textContent = text;
};

export const el = <K extends keyof HTMLElementTagNameMap>(
  tag: K,
  text = '',
  props: Partial<HTMLElementTagNameMap[K]> = {},
): HTMLElementTagNameMap[K] => {
  const e = document.createElement(tag);
  if (text) e.textContent = text;
  return Object.assign(e, props);
};

export const button = (text: string, className: string, act: () => unknown): HTMLButtonElement => {
  const b = el('button', text, { className, type: 'button' });
  b.addEventListener('click', () => void act());
  return b;
};

/** What is said where there is no answer: asked for only, or sent on and nothing is saved by it. */
const NO_CONNECTION = 'There is no connection. Try again when there is one.';
export const NOTHING_SAVED = 'There is no connection. Nothing was saved.';
/** What was sent on may have arrived, though its answer did not. */
export const MAY_HAVE_BEGUN = 'The connection was lost. It may have begun: this page looks as soon as there is one.';

interface More {
  body?: BodyInit;
  type?: string;
  /** What is said where the connection is lost. */
  lost?: string;
}

/** @returns null where there is no connection. */
export const reach = (method: string, address: string, { body, type = 'application/json' }: More = {}): Promise<Response | null> =>
  fetch(address, {
    method,
    body: body ?? null,
    headers: method === 'GET' ? {} : { 'Content-Type': type, 'Idempotency-Key': crypto.randomUUID() },
  }).catch(() => null);

/** @returns null where it was refused: why is told. */
export async function taken<T>(answer: Response): Promise<T | null> {
  const read = (await answer.json().catch(() => ({}))) as T & { detail?: string };
  if (answer.ok) return read;
  tell(read.detail ?? `It was not taken (${answer.status}).`);
  return null;
}

export async function ask<T>(method: string, address: string, more: More = {}): Promise<T | null> {
  const answer = await reach(method, address, more);
  if (answer) return taken<T>(answer);
  tell(more.lost ?? NO_CONNECTION);
  return null;
}
