// What a number of the visit's form can be: every field that cannot be taken is named beside it, all at once.
import { numberOf } from '../form/values';
import { NotANumber } from './entries';

export interface Bounds {
  least: number;
  most: number;
  half: boolean;
  /** What the field takes, in words. */
  says: string;
}

/** @returns why it cannot be taken; null where it can, or nothing was typed. */
export function problemOf(text: string, { least, most, half, says }: Bounds): string | null {
  if (text.trim() === '') return null;
  const value = numberOf(text);
  if (value === null) return `${says}; “${text.trim()}” is no number.`;
  return value < least || value > most || (half && !Number.isInteger(value * 2)) ? says : null;
}

export const showProblem = (id: string, why: string | null): void => {
  const place = document.getElementById(`${id}-no`);
  if (!place) return;
  place.hidden = why === null;
  place.textContent = why ?? '';
  const field = document.getElementById(id);
  if (why === null) field?.removeAttribute('aria-invalid');
  else field?.setAttribute('aria-invalid', 'true');
};

/** @returns the fields that cannot be taken, in the order of the page. */
function check(form: HTMLFormElement): HTMLElement[] {
  const wrong: HTMLElement[] = [];
  for (const input of form.querySelectorAll<HTMLInputElement>('input[data-least]')) {
    const { least, most, half, range } = input.dataset;
    const why = problemOf(input.value, { least: Number(least), most: Number(most), half: half !== undefined, says: range ?? '' });
    showProblem(input.id, why);
    if (why !== null) wrong.push(input);
  }
  return wrong;
}

/** Every field that cannot be taken is named beside it, all at once. */
export function refuseUnlessTaken(f: HTMLFormElement): void {
  const wrong = check(f);
  for (const id of ['level', 'square']) {
    const group = document.getElementById(id);
    const said = group?.querySelector('input:checked') != null;
    showProblem(id, said ? null : id === 'level' ? 'Say whether the ground was level.' : 'Say whether the horse stood square.');
    if (!said && group) wrong.unshift(group);
  }
  if (wrong.length === 0) return;
  (wrong[0]!.querySelector('input') ?? wrong[0]!).focus();
  throw new NotANumber('Some fields cannot be taken.');
}

/** Where the server names an entry by its number, the field it came from is named, or the file. */
export function placed(f: HTMLFormElement, problem: string, origins: string[]): string {
  const [where, number] = / \(entries\[(\d+)\]\)$/.exec(problem) ?? [];
  const origin = number === undefined ? undefined : origins[Number(number)];
  if (where === undefined || origin === undefined) return problem;
  const words = problem.slice(0, -where.length);
  const field = f.querySelector<HTMLElement>(`[name="${CSS.escape(origin)}"]`);
  if (!field) return `“${origin}”: ${words}`;
  showProblem(field.id, words);
  field.focus();
  return words;
}
