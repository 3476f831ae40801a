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
      yard,
      [one, '/people', two, one].map(href => ({ href })),
    ),
  ).toEqual({
    keep: [yard],
    fill: [one, two].flatMap(h => [h, `${h}/visits/new`, `${h}/visits/new/desk`]),
  });
});

test('a horse is kept with what is entered about it, and no other page asks for anything', () => {
  expect(pagesOfTheDay(one, [{ href: two }])).toEqual({ keep: [one, `${one}/visits/new`, `${one}/visits/new/desk`], fill: [] });
  expect(pagesOfTheDay('/', [{ href: one }])).toEqual({ keep: [], fill: [] });
});
