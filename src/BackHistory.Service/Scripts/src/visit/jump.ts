// A value that lies further from the last one than two visits do by themselves.
import { numberOf } from '../form/values';

/**
 * @param last what stood there at the visit before.
 * @param mdc the smallest change that two visits can tell, in the same unit.
 * @returns the question to whoever typed it, or null where nothing is to be asked.
 */
export function questionOf(text: string, last: number, mdc: number): string | null {
  const value = numberOf(text);
  if (value === null || !(Math.abs(value - last) > mdc)) return null;
  const jump = Math.abs(value - last)
    .toFixed(1)
    .replace(/\.0$/, '');
  const apart = `${jump} ${value > last ? 'more' : 'less'} than last time; two visits differ by up to ${mdc.toFixed(1)} by themselves.`;
  return `${apart} Right? If not, read again now.`;
}
