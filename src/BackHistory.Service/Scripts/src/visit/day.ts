// Which pages a day in a yard needs: the yard or the day's route, each horse that it names, and what is entered about it.

const YARD = /^\/yards\/[0-9a-f-]{36}$/;
const ROUTE = /^\/plan\/route$/;
const HORSE = /^\/horses\/[0-9a-f-]{36}$/;

/** A yard or a route of more horses than a day has: the first ones. */
const MOST_HORSES = 40;

/** @returns the addresses to keep for when there is no connection: those to fetch anew, and those that a copy of a moment ago does for. */
export function pagesOfTheDay(
  { path, search = '' }: { path: string; search?: string },
  links: Iterable<{ readonly href: string }>,
): { keep: string[]; fill: string[] } {
  if (HORSE.test(path)) return { keep: [path, ...entriesOf(path)], fill: [] };
  if (!YARD.test(path) && !ROUTE.test(path)) return { keep: [], fill: [] };
  const horses = new Set([...links].map(a => new URL(a.href, 'http://here').pathname).filter(p => HORSE.test(p)));
  // A route is of the day that its address names.
  return { keep: [ROUTE.test(path) ? path + search : path], fill: [...horses].slice(0, MOST_HORSES).flatMap(h => [h, ...entriesOf(h)]) };
}

const entriesOf = (horse: string) => [`${horse}/visits/new`, `${horse}/visits/new/desk`];
