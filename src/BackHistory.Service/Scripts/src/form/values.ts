// From what is typed to the values of the interface's JSON.

export type Json = string | number | boolean | null | Json[] | { [key: string]: Json };

/** With a comma or a point, and with the minus sign of a typesetter; null for what is no number. */
export function numberOf(text: string): number | null {
  const value = Number(text.trim().replace(',', '.').replace('−', '-'));
  return text.trim() === '' || !Number.isFinite(value) ? null : value;
}

/** Sets a value at a path of names, `a.b.c`, and makes the objects on the way. */
export function put(into: Record<string, Json>, path: string, value: Json): void {
  const steps = path.split('.');
  let at = into;
  for (const step of steps.slice(0, -1)) at = (at[step] ??= {}) as Record<string, Json>;
  at[steps[steps.length - 1]!] = value;
}
