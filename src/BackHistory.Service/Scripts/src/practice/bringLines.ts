// What would become, or became, of each line of a table.
import { button, el, type Counts, type Fault, type Line, type Lines } from './bringWire';

/** As the interface names them, and as the page does. */
const KINDS = [
  ['Refused', 'Refused'],
  ['Enters', 'Goes in'],
  ['Already', 'Here already'],
] as const;

type Verdict = (typeof KINDS)[number][0];

const countOf = (counts: Counts, verdict: Verdict): number =>
  ({ Refused: counts.refused, Enters: counts.entered, Already: counts.already })[verdict];

/**
 * @param page the lines of one verdict, from a line on.
 * @param refused its first page of refused lines, where that was read already.
 */
export async function showLines(
  place: HTMLElement,
  counts: Counts,
  page: (verdict: Verdict, after: number) => Promise<Lines | null>,
  refused?: Lines,
): Promise<void> {
  const tabs = el('p', '', { className: 'row bring-tabs' });
  const list = el('ul', '', { className: 'bring-lines' });
  const more = el('p');
  place.replaceChildren(tabs, list, more);
  const open = KINDS.filter(([verdict]) => countOf(counts, verdict) > 0);
  for (const [verdict, name] of open)
    tabs.append(
      button(`${name}: ${countOf(counts, verdict)}`, 'plain', () => {
        for (const b of tabs.querySelectorAll('button')) b.ariaPressed = String(b.textContent.startsWith(`${name}:`));
        list.replaceChildren();
        return add(verdict, 0);
      }),
    );
  tabs.querySelector('button')?.click();

  async function add(verdict: Verdict, after: number): Promise<void> {
    const read = verdict === 'Refused' && after === 0 && refused ? refused : await page(verdict, after);
    if (!read) return;
    list.append(...read.lines.map(item));
    const { next } = read;
    more.replaceChildren(...(next === undefined || next === null ? [] : [button('More lines', 'plain', () => add(verdict, next))]));
  }
}

function item(line: Line): HTMLLIElement {
  const li = el('li');
  li.append(el('strong', `Line ${line.line}${line.who ? `, ${line.who}` : ''}`));
  if (line.takenBack) li.append(' taken back');
  if (line.staysBecause) li.append(` stays: ${line.staysBecause}`);
  const { readings = [] } = line;
  if (readings.length > 0) li.append(el('div', `read as ${readings.map(r => `${r.column}: ${r.as}`).join('; ')}`, { className: 'soft' }));
  const faults: Fault[] = line.faults ?? (line.message ? [{ message: line.message, ...(line.column ? { column: line.column } : {}) }] : []);
  if (faults.length > 0) {
    const list = el('ul');
    list.append(...faults.map(fault));
    li.append(list);
  }
  return li;
}

function fault({ column, value, message }: Fault): HTMLLIElement {
  const li = el('li');
  if (column) li.append(el('strong', column), value ? ` “${value}”: ` : ': ');
  li.append(message);
  return li;
}
