import { describe, expect, test } from 'vitest';
import { send, settle } from '../../src/visit/send';
import { fieldOf } from '../../src/visit/twice';
import { waiting, type Waiting } from '../../src/visit/store';
import { clash, goOnline, line, queued, stopNetwork, theirs, visit } from './network';

const read = (measure: string) => ({ kind: 'reading', measure, station: 'shoulder', value: 32 });

const readBefore = (key: string) => ({ entryId: key, kind: 'reading', station: 'shoulder', stands: true, measures: [{ key, value: 30 }] });

const score = (site: string) => ({ kind: 'muscle', site, score: 2 });

const scoredBefore = (site: string) => ({
  entryId: site,
  kind: 'muscle',
  station: null,
  stands: true,
  measures: [{ key: `muscle@${site}`, value: 3 }],
});

const NECK = { key: 'muscle@neck', value: 2 };

const photograph = (id: string) => ({ id, horse: 'h1', bytes: new Blob([id]) });

const fieldIs = (kind: string, measure: string, station: string | null) => fieldOf({ kind, measure, station });

describe('after the question', () => {
  test('what was given up is left out, and the rest goes as a command of its own', async () => {
    line.answers = [() => [412, {}], () => [200, theirs(498)]];
    const w = await queued(visit());
    const { clashes } = (await send(w))!;
    await settle(w, clashes);
    expect(line.asked.at(-1)).toMatchObject({ key: 'yard:1:settled', match: '*' });
    expect((JSON.parse(line.asked.at(-1)!.body) as Waiting['body']).entries).toEqual([{ kind: 'note', words: 'calm' }]);
    expect(await waiting.all()).toEqual([]);
  });

  test('two readings with equal numbers, left and right, are two: giving up the one keeps the other', async () => {
    const visits = [{ ...theirs(0)[0], entries: [readBefore('read-slope-left'), readBefore('read-slope-right')] }];
    line.answers = [() => [412, {}], () => [200, visits]];
    const w = await queued(visit({ body: { ...visit().body, entries: [read('read-slope-left'), read('read-slope-right')] } }));
    const { clashes } = (await send(w))!;
    expect(clashes).toHaveLength(2);
    await settle(w, [clashes[0]!]);
    expect((JSON.parse(line.asked.at(-1)!.body) as Waiting['body']).entries).toEqual([read('read-slope-right')]);
  });

  test('two scores with equal numbers at two places are two', async () => {
    line.answers = [() => [412, {}], () => [200, [{ ...theirs(0)[0], entries: [scoredBefore('neck'), scoredBefore('back')] }]]];
    const w = await queued(visit({ body: { ...visit().body, entries: [score('neck'), score('back')] } }));
    const { clashes } = (await send(w))!;
    expect(clashes.map(c => c.measure)).toEqual(['muscle@neck', 'muscle@back']);
    await settle(w, [clashes[1]!]);
    expect((JSON.parse(line.asked.at(-1)!.body) as Waiting['body']).entries).toEqual([score('neck')]);
  });

  test('a weight that was kept stands alone: the other is withdrawn with the reason', async () => {
    const w = await queued(visit());
    await settle(w, [], [clash(w)]);
    expect(line.asked.map(a => [a.method, a.url])).toEqual([
      ['POST', '/api/horses/h1/visits'],
      ['POST', '/api/horses/h1/visits/v0/entries/e0/withdraw'],
    ]);
    expect(JSON.parse(line.asked[1]!.body)).toEqual({ reason: 'Entered twice for one day: 512 kg stands instead of 498 kg.' });
    expect(await waiting.all()).toEqual([]);
  });

  const bothStand = 'The visit is saved. The other value still stands beside it: A fitter has to.';

  test('whoever may not withdraw the other value is told that both stand, and the photographs go on', async () => {
    line.answers = [() => [200, {}], () => [403, { detail: 'A fitter has to.' }]];
    const w = await queued(visit({ photographs: [photograph('a')] }));
    await settle(w, [], [clash(w)]);
    expect(line.asked.at(-1)).toMatchObject({ key: 'yard:1:a', body: 'a' });
    const [left] = await waiting.all();
    expect(left).toMatchObject({ arrived: true, problem: bothStand, photographs: [], overrules: [] });
    // What is left is only to be read: nothing is asked for again, and it stays until somebody has seen it.
    line.asked = [];
    await send(left!);
    expect(line.asked).toEqual([]);
    expect(await waiting.all()).toEqual([left]);
  });

  test('that both stand is still said where a photograph did not arrive, and once it did', async () => {
    line.answers = [() => [200, {}], () => [403, { detail: 'A fitter has to.' }], () => [503, { detail: 'Later.' }]];
    const w = await queued(visit({ photographs: [photograph('a')] }));
    await settle(w, [], [clash(w)]);
    const [left] = await waiting.all();
    expect(left!.problem).toBe(`${bothStand} The visit is saved. A photograph is not: Later.`);
    await send(left!);
    expect((await waiting.all()).map(x => [x.problem, x.photographs])).toEqual([[bothStand, []]]);
  });

  test('a value that was withdrawn already has given way, and the photographs go on', async () => {
    for (const [status, code] of [
      [404, 'no-such-entry'],
      [409, 'visit-withdrawn'],
      [404, 'no-such-visit'],
    ] as const) {
      line.asked = [];
      line.answers = [() => [200, {}], () => [status, { code, detail: 'Gone.' }]];
      const w = await queued(visit({ photographs: [photograph('a')] }));
      await settle(w, [], [clash(w)]);
      expect(line.asked.at(-1)).toMatchObject({ key: 'yard:1:a' });
      expect(await waiting.all()).toEqual([]);
    }
  });

  test('a withdrawal that the server could not take now is asked for again, and the photographs go on', async () => {
    line.answers = [() => [200, {}], () => [503, {}]];
    const w = await queued(visit({ photographs: [photograph('a')] }));
    await settle(w, [], [clash(w)]);
    const [left] = await waiting.all();
    expect([left!.overrules!.length, left!.photographs]).toEqual([1, []]);
    line.asked = [];
    await send(left!);
    expect(line.asked.map(a => a.url)).toEqual(['/api/horses/h1/visits/v0/entries/e0/withdraw']);
    expect(await waiting.all()).toEqual([]);
  });

  test('an answer whose connection was lost is sent again as it was given, and nothing is asked a second time', async () => {
    const w = await queued(visit());
    stopNetwork();
    await expect(settle(w, [], [clash(w)])).rejects.toThrow('fetch failed');
    goOnline();
    line.answers = [({ match }) => (match === '*' ? [200, {}] : [412, {}]), () => [200, {}]];
    expect(await send((await waiting.all())[0]!)).toBeNull();
    expect(line.asked.map(a => [a.url, a.match])).toEqual([
      ['/api/horses/h1/visits', '*'],
      ['/api/horses/h1/visits/v0/entries/e0/withdraw', '*'],
    ]);
    expect(await waiting.all()).toEqual([]);
  });

  test('what is the same on record is left out too where another value is asked about', async () => {
    const before = [{ ...theirs(498)[0], entries: [...theirs(498)[0]!.entries, { ...scoredBefore('neck'), measures: [NECK] }] }];
    line.answers = [() => [412, {}], () => [200, before]];
    const entries = [{ kind: 'weight', value: 512, unit: 'kg' }, score('neck'), { kind: 'note', words: 'calm' }];
    const w = await queued(visit({ body: { ...visit().body, entries } }));
    const { clashes, again } = (await send(w))!;
    expect(clashes).toHaveLength(1);
    await settle(w, [], clashes, again);
    const sent = line.asked.find(a => a.key === 'yard:1:settled')!;
    expect((JSON.parse(sent.body) as Waiting['body']).entries).toEqual([entries[0], entries[2]]);
  });

  test('a photograph of a visit of which nothing is left is no question any more', async () => {
    const only = visit({ body: { ...visit().body, entries: [{ kind: 'weight', value: 512, unit: 'kg' }] } });
    const w = await queued({ ...only, asks: true, photographs: [photograph('a')] });
    line.answers = [() => [503, {}]];
    await settle(w, [clash(w)]);
    expect((await waiting.all()).map(x => [x.arrived, x.asks])).toEqual([[true, undefined]]);
  });

  test('the same weight of the same day is not entered twice', async () => {
    line.answers = [() => [412, {}], () => [200, theirs(512)]];
    expect(await send(await queued(visit()))).toBeNull();
    expect((JSON.parse(line.asked.at(-1)!.body) as Waiting['body']).entries).toEqual([{ kind: 'note', words: 'calm' }]);
    expect(line.asked.at(-1)!.key).toBe('yard:1:settled');
    expect(await waiting.all()).toEqual([]);
  });

  test('what is asked names the field, its side or site and its station', () => {
    expect([
      fieldIs('reading', 'read-slope-left', 'behind-shoulder'),
      fieldIs('muscle', 'muscle@neck', null),
      fieldIs('weight', 'weight', null),
      fieldIs('girth', 'weight', null),
    ]).toEqual(['Inclinometer, left side, at behind shoulder', 'Muscle score, neck', 'Weight', 'Girth and length by tape']);
  });

  test('a visit of which nothing is left is not sent', async () => {
    const only = visit({ body: { ...visit().body, entries: [{ kind: 'weight', value: 512, unit: 'kg' }] } });
    const w = await queued(only);
    await settle(w, [clash(w)]);
    expect(line.asked).toEqual([]);
    expect(await waiting.all()).toEqual([]);
  });
});
