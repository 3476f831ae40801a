// Which pages a day in a yard needs: the yard, each horse that stands there, and what is entered about it.

const YARD = /^\/yards\/[0-9a-f-]{36}$/;
const HORSE = /^\/horses\/[0-9a-f-]{36}$/;

/** A yard of more horses than a day has: the first ones. */
const MOST_HORSES = 40;

/** @returns the addresses to keep for when there is no connection: those to fetch anew, and those that a copy of a moment ago does for. */
export function pagesOfTheDay(path: string, links: Iterable<{ readonly href: string }>): { keep: string[]; fill: string[] } {
  if (HORSE.test(path)) return { keep: [path, ...entriesOf(path)], fill: [] };
  if (!YARD.test(path)) return { keep: [], fill: [] };
  const horses = new Set([...links].map(a => new URL(a.href, 'http://here').pathname).filter(p => HORSE.test(p)));
  return { keep: [path], fill: [...horses].slice(0, MOST_HORSES).flatMap(h => [h, ...entriesOf(h)]) };
}

const entriesOf = (horse: string) => [`${horse}/visits/new`, `${horse}/visits/new/desk`];
