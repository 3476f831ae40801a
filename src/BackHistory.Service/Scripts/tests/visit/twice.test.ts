import { describe, expect, test } from 'vitest';
import { send, settle } from '../../src/visit/send';
import { fieldOf } from '../../src/visit/twice';
import { waiting, type Waiting } from '../../src/visit/store';
import { clash, line, queued, theirs, visit } from './network';

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

const fieldIs = (kind: string, measure: string, station: string | null) => fieldOf({ kind, measure, station });

describe('after the question', () => {
  test('what was given up is left out, and the rest goes as a command of its own', async () => {
    line.answers = [() => [412, {}], () => [200, theirs(498)]];
    const w = await queued(visit());
    const clashes = (await send(w))!;
    await settle(w, clashes);
    expect(line.asked.at(-1)).toMatchObject({ key: 'yard:1:settled', match: '*' });
    expect((JSON.parse(line.asked.at(-1)!.body) as Waiting['body']).entries).toEqual([{ kind: 'note', words: 'calm' }]);
    expect(await waiting.all()).toEqual([]);
  });

  test('two readings with equal numbers, left and right, are two: giving up the one keeps the other', async () => {
    const visits = [{ ...theirs(0)[0], entries: [readBefore('read-slope-left'), readBefore('read-slope-right')] }];
    line.answers = [() => [412, {}], () => [200, visits]];
    const w = await queued(visit({ body: { ...visit().body, entries: [read('read-slope-left'), read('read-slope-right')] } }));
    const clashes = (await send(w))!;
    expect(clashes).toHaveLength(2);
    await settle(w, [clashes[0]!]);
    expect((JSON.parse(line.asked.at(-1)!.body) as Waiting['body']).entries).toEqual([read('read-slope-right')]);
  });

  test('two scores with equal numbers at two places are two', async () => {
    line.answers = [() => [412, {}], () => [200, [{ ...theirs(0)[0], entries: [scoredBefore('neck'), scoredBefore('back')] }]]];
    const w = await queued(visit({ body: { ...visit().body, entries: [score('neck'), score('back')] } }));
    const clashes = (await send(w))!;
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

  test('whoever may not withdraw the other value is told that both stand', async () => {
    line.answers = [() => [200, {}], () => [403, { detail: 'A fitter has to.' }]];
    const w = await queued(visit());
    await settle(w, [], [clash(w)]);
    expect((await waiting.all())[0]).toMatchObject({
      arrived: true,
      problem: 'The visit is saved. The other value still stands beside it: A fitter has to.',
    });
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
