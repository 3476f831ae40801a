import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { IDBFactory } from 'fake-indexeddb';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { send, settle } from '../../src/visit/send';
import { draft, forget, photographs, signedInAs, tracings, waiting, type Waiting } from '../../src/visit/store';

interface Asked {
  method: string;
  url: string;
  key: string | undefined;
  match: string | undefined;
  by?: string | undefined;
  body: string;
}

vi.stubGlobal('indexedDB', new IDBFactory());

const anna = { id: 'a@practice', name: 'Anna' };
const ben = { id: 'b@practice', name: 'Ben' };

/** A server of the network's kind: what it is asked is written down, what it answers is told it beforehand. */
let server: Server;
const overNetwork = fetch;
let asked: Asked[] = [];
let answers: ((asked: Asked) => [number, unknown])[] = [];

beforeEach(async () => {
  signedInAs(anna);
  [asked, answers] = [[], []];
  server = createServer((request, response) => {
    const parts: Buffer[] = [];
    request.on('data', (part: Buffer) => parts.push(part));
    request.on('end', () => {
      const one: Asked = {
        method: request.method!,
        url: request.url!,
        key: request.headers['idempotency-key'] as string | undefined,
        match: request.headers['if-match'],
        by: request.headers['entered-by'] as string | undefined,
        body: Buffer.concat(parts).toString(),
      };
      asked.push(one);
      const [status, body] = (answers.shift() ?? (() => [200, {}]))(one);
      response.writeHead(status, { 'Content-Type': 'application/json' }).end(JSON.stringify(body));
    });
  });
  await new Promise<void>(done => {
    server.listen(0, '127.0.0.1', done);
  });
  const base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  // A page's addresses are those of its own site.
  vi.stubGlobal('fetch', (address: string, init?: RequestInit) => overNetwork(base + address, init));
});

afterEach(async () => {
  await new Promise(done => {
    server.close(done);
  });
  await forget();
  for (const w of await waiting.all()) await waiting.drop(w.key);
});

const visit = (more: Partial<Waiting> = {}): Waiting => ({
  key: 'yard:1',
  horse: 'h1',
  horseName: 'Alder',
  version: 7,
  at: '2026-06-01T10:00:00Z',
  by: anna,
  body: {
    id: 'v1',
    takenAt: '2026-06-01T09:00:00Z',
    method: 'tape',
    conditions: {},
    entries: [
      { kind: 'weight', value: 512, unit: 'kg' },
      { kind: 'note', words: 'calm' },
    ],
  },
  ...more,
});

const theirs = (value: number) => [
  {
    id: 'v0',
    takenAt: '2026-06-01T08:00:00Z',
    withdrawn: false,
    entries: [{ kind: 'weight', station: null, stands: true, measures: [{ key: 'weight', value }] }],
  },
];

const tracing = (says: string) => ({ id: 'h1:topline', horse: 'h1', says, entry: {} });

const photograph = (id: string) => ({ id, horse: 'h1', bytes: new Blob([id]) });

async function queued(w: Waiting): Promise<Waiting> {
  await waiting.add(w);
  return w;
}

describe('a visit that waits', () => {
  test('is sent with its key and the version it was seen at, and is then forgotten here', async () => {
    expect(await send(await queued(visit()))).toBeNull();
    expect(asked).toMatchObject([{ method: 'POST', url: '/api/horses/h1/visits', key: 'yard:1', match: '"7"' }]);
    expect(JSON.parse(asked[0]!.body)).toEqual(visit().body);
    expect(await waiting.all()).toEqual([]);
  });

  test('waits on where the server is not well or the person signed out, and nothing is said against it', async () => {
    for (const status of [503, 401]) {
      answers = [() => [status, {}]];
      await send(await queued(visit()));
      expect(await waiting.all()).toEqual([visit()]);
    }
  });

  test('is kept with the reason where it is refused', async () => {
    answers = [() => [422, { detail: 'A horse of 5120 kg?', place: 'entries[0]' }]];
    await send(await queued(visit()));
    expect(await waiting.all()).toEqual([visit({ problem: 'A horse of 5120 kg? (entries[0])' })]);
  });

  test('goes in beside what changed meanwhile, where that says nothing else of the same thing', async () => {
    answers = [() => [412, {}], () => [200, theirs(512)]];
    expect(await send(await queued(visit()))).toBeNull();
    expect(asked.map(a => [a.method, a.match])).toEqual([
      ['POST', '"7"'],
      ['GET', undefined],
      ['POST', '*'],
    ]);
    expect(await waiting.all()).toEqual([]);
  });

  test('is asked about where somebody entered another value for the same day', async () => {
    answers = [() => [412, {}], () => [200, theirs(498)]];
    const w = await queued(visit());
    expect(await send(w)).toEqual([{ item: w, kind: 'weight', station: null, mine: '512', theirs: '498', by: '2026-06-01T08:00:00Z' }]);
    expect(asked).toHaveLength(2);
    expect(await waiting.all()).toEqual([w]);
  });
});

describe('after the question', () => {
  test('what was given up is left out, and the rest goes as a command of its own', async () => {
    answers = [() => [412, {}], () => [200, theirs(498)]];
    const w = await queued(visit());
    const clashes = (await send(w))!;
    await settle(w, clashes);
    expect(asked.at(-1)).toMatchObject({ key: 'yard:1:settled', match: '*' });
    expect((JSON.parse(asked.at(-1)!.body) as Waiting['body']).entries).toEqual([{ kind: 'note', words: 'calm' }]);
    expect(await waiting.all()).toEqual([]);
  });

  test('a visit of which nothing is left is not sent', async () => {
    const only = visit({ body: { ...visit().body, entries: [{ kind: 'weight', value: 512, unit: 'kg' }] } });
    const w = await queued(only);
    await settle(w, [{ item: w, kind: 'weight', station: null, mine: '512', theirs: '498', by: '' }]);
    expect(asked).toEqual([]);
    expect(await waiting.all()).toEqual([]);
  });
});

describe('photographs', () => {
  test('follow their visit one after the other, each with a key of its own', async () => {
    await send(await queued(visit({ photographs: [photograph('a'), photograph('b')] })));
    expect(asked.slice(1)).toMatchObject([
      { url: '/api/horses/h1/files?kind=photograph&visitId=v1&takenAt=2026-06-01T09%3A00%3A00Z', key: 'yard:1:a', body: 'a' },
      { key: 'yard:1:b', body: 'b' },
    ]);
    expect(await waiting.all()).toEqual([]);
  });

  test('that did not arrive stay, those that did are not sent again, and neither is the visit', async () => {
    answers = [() => [200, {}], () => [200, {}], () => [503, { detail: 'Later.' }]];
    await send(await queued(visit({ photographs: [photograph('a'), photograph('b')] })));
    const [left] = await waiting.all();
    expect(left).toMatchObject({ arrived: true, problem: 'The visit is saved. A photograph is not: Later.' });
    expect(left!.photographs!.map(p => p.id)).toEqual(['b']);
    asked = [];
    await send(left!);
    expect(asked.map(a => a.key)).toEqual(['yard:1:b']);
    expect(await waiting.all()).toEqual([]);
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
    expect(asked).toEqual([]);
    expect(await waiting.all()).toEqual([w]);
    signedInAs(anna);
    await send(w);
    expect(asked).toMatchObject([{ key: 'yard:1', by: 'a@practice' }]);
    expect(await waiting.all()).toEqual([]);
  });

  test('who signed in in another window makes a visit wait, and nothing is said against it', async () => {
    answers = [() => [409, { code: 'entered-by-another', detail: 'Somebody else entered this.' }]];
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
