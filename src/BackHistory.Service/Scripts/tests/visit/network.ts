// What the tests of the yard's queue share: a device with nothing on it, and a server that answers as it is told.
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { IDBFactory } from 'fake-indexeddb';
import { afterEach, beforeEach, vi } from 'vitest';
import { forget, signedInAs, waiting, type Waiting } from '../../src/visit/store';

export interface Asked {
  method: string;
  url: string;
  key: string | undefined;
  match: string | undefined;
  by?: string | undefined;
  body: string;
}

/** A status and a body. */
export type Answer = [number, unknown];

vi.stubGlobal('indexedDB', new IDBFactory());

export const anna = { id: 'a@practice', name: 'Anna' };
export const ben = { id: 'b@practice', name: 'Ben' };

/** A server of the network's kind: what it is asked is written down, what it answers is told it beforehand. */
let server: Server;
const overNetwork = fetch;
/** What was asked of it, and what it is to answer to the next ones. */
export const line: { asked: Asked[]; answers: ((asked: Asked) => Answer | Promise<Answer>)[] } = { asked: [], answers: [] };

/** Port 9 of this machine discards; nobody listens there. */
const NOWHERE = 'http://127.0.0.1:9';
let online = true;

export const stopNetwork = () => {
  online = false;
};

export const goOnline = () => {
  online = true;
};

beforeEach(async () => {
  signedInAs(anna);
  [line.asked, line.answers] = [[], []];
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
      line.asked.push(one);
      const answer = line.answers.shift() ?? ((): Answer => [200, {}]);
      void Promise.resolve(answer(one)).then(([status, body]) =>
        response.writeHead(status, { 'Content-Type': 'application/json' }).end(JSON.stringify(body)),
      );
    });
  });
  await new Promise<void>(done => {
    server.listen(0, '127.0.0.1', done);
  });
  const base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  // A page's addresses are those of its own site.
  vi.stubGlobal('fetch', (address: string, init?: RequestInit) => overNetwork((online ? base : NOWHERE) + address, init));
  goOnline();
});

afterEach(async () => {
  await new Promise(done => {
    server.close(done);
  });
  await forget();
  for (const w of await waiting.all()) await waiting.drop(w.key);
});

export const visit = (more: Partial<Waiting> = {}): Waiting => ({
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

export const theirs = (value: number) => [
  {
    id: 'v0',
    takenAt: '2026-06-01T08:00:00Z',
    by: 'p0',
    withdrawn: false,
    entries: [{ entryId: 'e0', kind: 'weight', station: null, stands: true, measures: [{ key: 'weight', value }] }],
  },
];

export async function queued(w: Waiting): Promise<Waiting> {
  await waiting.add(w);
  return w;
}

/** Two weights: this device's, and one on record. */
export const clash = (item: Waiting) => ({
  item,
  kind: 'weight',
  measure: 'weight',
  station: null,
  mine: '512 kg',
  theirs: '498 kg',
  by: 'Ben Ford',
  other: { visit: 'v0', entry: 'e0' },
});
