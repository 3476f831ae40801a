import { expect, test, vi } from 'vitest';
import { deliver } from '../../src/visit/deliver';
import { waiting } from '../../src/visit/store';
import { line, queued, visit } from './network';

// A page without the bar that says what waits.
vi.stubGlobal('document', { getElementById: () => null });

test('a visit that is entered while another is on its way is sent after it', async () => {
  let second: Promise<void> | undefined;
  line.answers = [
    async () => {
      await queued(visit({ key: 'yard:2' }));
      second = deliver();
      return [200, {}];
    },
  ];
  await queued(visit());
  await deliver();
  await second;
  expect(line.asked.map(a => a.key)).toEqual(['yard:1', 'yard:2']);
  expect(await waiting.all()).toEqual([]);
});

test('a question that is wanted back while another visit is on its way comes after it', async () => {
  let second: Promise<void> | undefined;
  line.answers = [
    () => {
      second = deliver('yard:2');
      return [200, {}];
    },
  ];
  await queued(visit());
  await queued(visit({ key: 'yard:2', asks: true }));
  await deliver();
  expect(line.asked.map(a => a.key)).toEqual(['yard:1']);
  await second;
  expect(line.asked.map(a => a.key)).toEqual(['yard:1', 'yard:2']);
  expect(await waiting.all()).toEqual([]);
});

test('what was asked about and not answered is passed over', async () => {
  await queued(visit({ asks: true }));
  await deliver();
  expect(line.asked).toEqual([]);
});
