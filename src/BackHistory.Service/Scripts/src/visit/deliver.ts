// Sends everything that waits, one after the other, and asks where two values stand against each other.
import { send } from './send';
import { waiting } from './store';
import { showWaiting } from './tray';
import { askWhichStands } from './twice';

let last: Promise<void> = Promise.resolve();

/**
 * One delivery at a time. One that is on its way has looked already at what waits: whoever asks has a turn of their own after it, or
 * what they have just saved or answered would be passed over.
 * @param answering the key of the visit whose question is wanted back.
 */
export function deliver(answering?: string): Promise<void> {
  last = last.catch(() => undefined).then(() => deliverOnce(answering));
  return last;
}

async function deliverOnce(answering?: string): Promise<void> {
  for (const w of await waiting.all()) {
    if (w.asks && w.key !== answering) continue;
    try {
      const doubled = await send(w);
      if (doubled) await askWhichStands(w, doubled);
    } catch {
      break; /* No connection: all of them wait on. */
    }
  }
  await showWaiting(deliver);
}
