import { describe, expect, test } from 'vitest';
import { send } from '../../src/visit/send';
import { draft, forget, photographs, signedInAs, tracings, waiting } from '../../src/visit/store';
import { anna, ben, clash, line, queued, theirs, visit } from './network';

const tracing = (says: string) => ({ id: 'h1:topline', horse: 'h1', says, entry: {} });

const photograph = (id: string) => ({ id, horse: 'h1', bytes: new Blob([id]) });

describe('a visit that waits', () => {
  test('is sent with its key and the version it was seen at, and is then forgotten here', async () => {
    expect(await send(await queued(visit()))).toBeNull();
    expect(line.asked).toMatchObject([{ method: 'POST', url: '/api/horses/h1/visits', key: 'yard:1', match: '"7"' }]);
    expect(JSON.parse(line.asked[0]!.body)).toEqual(visit().body);
    expect(await waiting.all()).toEqual([]);
  });

  test('waits on where the server is not well or the person signed out, and nothing is said against it', async () => {
    for (const status of [503, 401]) {
      line.answers = [() => [status, {}]];
      await send(await queued(visit()));
      expect(await waiting.all()).toEqual([visit()]);
    }
  });

  test('is kept with the reason where it is refused', async () => {
    line.answers = [() => [422, { detail: 'A horse of 5120 kg?', place: 'entries[0]' }]];
    await send(await queued(visit()));
    expect(await waiting.all()).toEqual([visit({ problem: 'A horse of 5120 kg? (entries[0])' })]);
  });

  test('goes in beside what changed meanwhile, where that says nothing else of the same thing', async () => {
    line.answers = [() => [412, {}], () => [200, theirs(512)]];
    expect(await send(await queued(visit()))).toBeNull();
    expect(line.asked.map(a => [a.method, a.match])).toEqual([
      ['POST', '"7"'],
      ['GET', undefined],
      ['POST', '*'],
    ]);
    expect(await waiting.all()).toEqual([]);
  });

  test('is asked about where somebody entered another value for the same day', async () => {
    line.answers = [() => [412, {}], () => [200, theirs(498)], () => [200, { name: 'Ben Ford' }]];
    const w = await queued(visit());
    expect(await send(w)).toEqual({ clashes: [clash(w)], again: [] });
    expect(line.asked.at(-1)!.url).toBe('/api/people/p0');
    expect(await waiting.all()).toEqual([w]);
  });
});

describe('the day of a visit', () => {
  // Nine in the evening of 31 May in Denver is three in the morning of 1 June in Greenwich.
  const evening = '2026-06-01T03:00:00Z';
  const noon = '2026-05-31T18:00:00Z';

  test('is the day where the practice is: noon and evening of one day in Denver are asked about', async () => {
    line.answers = [() => [412, {}], () => [200, [{ ...theirs(498)[0], takenAt: noon }]]];
    const w = await queued(visit({ zone: 'America/Denver', body: { ...visit().body, takenAt: evening } }));
    expect((await send(w))?.clashes).toHaveLength(1);
  });

  test('is the day where the practice is: evening and the next morning in Denver are two', async () => {
    line.answers = [() => [412, {}], () => [200, [{ ...theirs(498)[0], takenAt: evening }]]];
    const w = await queued(visit({ zone: 'America/Denver', body: { ...visit().body, takenAt: '2026-06-01T15:00:00Z' } }));
    expect(await send(w)).toBeNull();
    expect(line.asked.at(-1)).toMatchObject({ method: 'POST', match: '*' });
  });
});

describe('photographs', () => {
  test('follow their visit one after the other, each with a key of its own', async () => {
    await send(await queued(visit({ photographs: [photograph('a'), photograph('b')] })));
    expect(line.asked.slice(1)).toMatchObject([
      { url: '/api/horses/h1/files?kind=photograph&visitId=v1&takenAt=2026-06-01T09%3A00%3A00Z', key: 'yard:1:a', body: 'a' },
      { key: 'yard:1:b', body: 'b' },
    ]);
    expect(await waiting.all()).toEqual([]);
  });

  test('that did not arrive stay, those that did are not sent again, and neither is the visit', async () => {
    line.answers = [() => [200, {}], () => [200, {}], () => [503, { detail: 'Later.' }]];
    await send(await queued(visit({ photographs: [photograph('a'), photograph('b')] })));
    const [left] = await waiting.all();
    expect(left).toMatchObject({ arrived: true, problem: 'The visit is saved. A photograph is not: Later.' });
    expect(left!.photographs!.map(p => p.id)).toEqual(['b']);
    line.asked = [];
    await send(left!);
    expect(line.asked.map(a => a.key)).toEqual(['yard:1:b']);
    expect(await waiting.all()).toEqual([]);
  });

  test('that are refused for good hold up no other, are not sent again, and stay here until somebody has seen why', async () => {
    line.answers = [() => [200, {}], () => [409, { detail: 'The owner said no.' }]];
    await send(await queued(visit({ photographs: [photograph('a'), photograph('b')] })));
    const [left] = await waiting.all();
    expect(line.asked.map(a => a.key)).toEqual(['yard:1', 'yard:1:a', 'yard:1:b']);
    expect(left).toMatchObject({ arrived: true, photographs: [] });
    expect(left!.problem).toContain('is not sent again: The owner said no.');
    expect(left!.refused!.map(p => p.id)).toEqual(['a']);
    line.asked = [];
    await send(left!);
    expect(line.asked).toEqual([]);
    expect(await waiting.all()).toHaveLength(1);
  });
});

describe('what this device keeps', () => {
  test('a draft stands for its horse until it is dropped', async () => {
    await draft.keep('h1', { 'Form.Weight': '512' });
    expect(await draft.load('h1')).toEqual({ 'Form.Weight': '512' });
    expect(await draft.load('h2')).toBeUndefined();
    await draft.drop('h1');
    expect(await draft.load('h1')).toBeUndefined();
  });

  test('a tracing made again takes the place of the one before, and stays with its horse', async () => {
    await tracings.add(tracing('first'));
    await tracings.add(tracing('second'));
    expect((await tracings.of('h1')).map(t => t.says)).toEqual(['second']);
    expect(await tracings.of('h2')).toEqual([]);
  });

  test('signing out leaves what waits to be sent, and nothing else', async () => {
    await draft.keep('h1', { a: 'b' });
    await photographs.add(photograph('a'));
    await queued(visit());
    await forget();
    expect([await draft.load('h1'), await photographs.of('h1')]).toEqual([undefined, []]);
    expect(await waiting.all()).toEqual([visit()]);
  });
});

describe('another person at the same device', () => {
  test('sends nothing that they did not enter, and it waits for whoever did', async () => {
    const w = await queued(visit());
    signedInAs(ben);
    expect(await send(w)).toBeNull();
    expect(line.asked).toEqual([]);
    expect(await waiting.all()).toEqual([w]);
    signedInAs(anna);
    await send(w);
    expect(line.asked).toMatchObject([{ key: 'yard:1', by: 'a@practice' }]);
    expect(await waiting.all()).toEqual([]);
  });

  test('who signed in in another window makes a visit wait, and nothing is said against it', async () => {
    line.answers = [() => [409, { code: 'entered-by-another', detail: 'Somebody else entered this.' }]];
    await send(await queued(visit()));
    expect(await waiting.all()).toEqual([visit()]);
  });

  test('does not see a draft, a tracing or a photograph, and signing out leaves them', async () => {
    await draft.keep('h1', { 'Form.Weight': '512' });
    await tracings.add(tracing('Anna’s'));
    await photographs.add(photograph('a'));
    signedInAs(ben);
    await tracings.add(tracing('Ben’s'));
    expect(await draft.load('h1')).toBeUndefined();
    expect((await tracings.of('h1')).map(t => t.says)).toEqual(['Ben’s']);
    expect(await photographs.of('h1')).toEqual([]);
    await forget();
    signedInAs(anna);
    expect(await draft.load('h1')).toEqual({ 'Form.Weight': '512' });
    expect((await tracings.of('h1')).map(t => t.says)).toEqual(['Anna’s']);
    expect(await photographs.of('h1')).toHaveLength(1);
  });
});
