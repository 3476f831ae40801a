import { expect, test } from 'vitest';
import { pagesOfTheDay } from '../../src/visit/day';

const [yard, one, two] = ['/yards/', '/horses/', '/horses/'].map((p, i) => `${p}0000000${i}-0000-4000-8000-000000000000`) as [
  string,
  string,
  string,
];

test('a yard is kept with each of its horses and what is entered about it', () => {
  expect(
    pagesOfTheDay(
      { path: yard, search: '?q=grey' },
      [one, '/people', two, one].map(href => ({ href })),
    ),
  ).toEqual({
    keep: [yard],
    fill: [one, two].flatMap(h => [h, `${h}/visits/new`, `${h}/visits/new/desk`]),
  });
});

test('a horse is kept with what is entered about it, and no other page asks for anything', () => {
  expect(pagesOfTheDay({ path: one }, [{ href: two }])).toEqual({ keep: [one, `${one}/visits/new`, `${one}/visits/new/desk`], fill: [] });
  expect(pagesOfTheDay({ path: '/' }, [{ href: one }])).toEqual({ keep: [], fill: [] });
});

test('a route is kept for its own day with each horse that is visited', () => {
  expect(pagesOfTheDay({ path: '/plan/route', search: '?on=2026-11-30' }, [{ href: one }])).toEqual({
    keep: ['/plan/route?on=2026-11-30'],
    fill: [one, `${one}/visits/new`, `${one}/visits/new/desk`],
  });
});
