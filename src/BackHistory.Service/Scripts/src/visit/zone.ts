// The practice's own clock.

/** A day and time of the practice's own zone as an instant: guessed as UTC, then moved by what the zone's clock shows there. */
export function inZone(day: string, time: string, zone: string): string {
  const guess = new Date(`${day}T${time.slice(0, 5)}:00Z`);
  const shown = new Intl.DateTimeFormat('en-CA', {
    timeZone: zone,
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
  });
  const offset = (at: Date) => {
    const p = Object.fromEntries(shown.formatToParts(at).map(x => [x.type, x.value]));
    return Date.UTC(Number(p.year), Number(p.month) - 1, Number(p.day), Number(p.hour), Number(p.minute), Number(p.second)) - at.getTime();
  };
  const once = new Date(guess.getTime() - offset(guess));
  return new Date(guess.getTime() - offset(once)).toISOString();
}

/**
 * The day of an instant where the practice is, as yyyy-mm-dd.
 * @param zone undefined in what an earlier release kept: then by the clock of Greenwich, as it was.
 */
export const dayIn = (zone: string | undefined, at: string): string =>
  new Intl.DateTimeFormat('en-CA', { timeZone: zone ?? 'UTC', year: 'numeric', month: '2-digit', day: '2-digit' }).format(new Date(at));
