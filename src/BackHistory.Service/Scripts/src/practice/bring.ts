// Bringing in a table, step by step: send it in, say what its columns mean, see what would become of each line, enter it, take it back.

interface Field {
  key: string;
  says: string;
  needed: boolean;
}
interface Fields {
  fields: Record<string, Field[]>;
}
interface Sheet {
  id: string;
  headers: string[];
  examples: string[][];
  lines: number;
}
interface Line {
  line: number;
  verdict: string;
  message?: string;
  column?: string;
}
interface Question {
  about: string;
  question: string;
  answers: string[];
}
interface Trial {
  questions: Question[];
  counts: { entered: number; already: number; refused: number };
  lines: Line[];
  next?: number;
}
interface Import {
  id: string;
  name: string;
  state: string;
  lines: number;
  counts?: { entered: number; already: number; refused: number };
}

const root = document.querySelector<HTMLElement>('#bring-in')!;
// eslint-disable-next-line typescript/no-unnecessary-type-parameters -- whoever asks says of what kind the element is
const at = <T extends HTMLElement>(selector: string) => root.querySelector<T>(selector)!;
const tell = (text: string) => {
  at('[data-told]').textContent = text;
};
const el = (tag: string, text = '', props: Record<string, string> = {}) => {
  const e = document.createElement(tag);
  e.textContent = text;
  Object.assign(e, props);
  return e;
};

async function ask<T>(method: string, address: string, body?: BodyInit, type = 'application/json'): Promise<T | null> {
  const answer = await fetch(address, {
    method,
    body: body ?? null,
    headers: method === 'GET' ? {} : { 'Content-Type': type, 'Idempotency-Key': crypto.randomUUID() },
  }).catch(() => null);
  if (!answer) {
    tell('There is no connection. Nothing was saved.');
    return null;
  }
  const read = (await answer.json().catch(() => ({}))) as T & { detail?: string };
  if (answer.ok) return read;
  tell(read.detail ?? `It was not taken (${answer.status}).`);
  return null;
}

let sheet: Sheet | null = null;
let fields: Field[] = [];
const answers: Record<string, string> = {};
const kind = () => at<HTMLSelectElement>('#kind').value;

function plan(): string {
  const columns: Record<string, string> = {};
  for (const s of root.querySelectorAll<HTMLSelectElement>('select[data-column]')) if (s.value) columns[s.dataset.column!] = s.value;
  return JSON.stringify({ kind: kind(), columns, ...answers });
}

async function send(): Promise<void> {
  const file = at<HTMLInputElement>('#file').files?.[0];
  if (!file) {
    tell('Choose a file first.');
    return;
  }
  tell('Reading…');
  sheet = await ask<Sheet>('POST', `/api/imports?name=${encodeURIComponent(file.name.slice(0, 120))}`, file, 'application/octet-stream');
  if (!sheet) return;
  const known = await ask<Fields>('GET', '/api/imports/fields');
  fields = known?.fields[kind()] ?? [];
  const rows = sheet.headers.map((header, i) => {
    const row = document.createElement('tr');
    const choice = document.createElement('select');
    choice.dataset.column = header;
    choice.setAttribute('aria-label', `Column ${header} is`);
    choice.append(new Option('not read', ''));
    for (const f of fields) choice.append(new Option(f.says + (f.needed ? ' (needed)' : ''), f.key));
    // A column that is called as a field is proposed; what it means is still the person's to say.
    const same = fields.find(f => f.key.toLowerCase() === header.toLowerCase().replaceAll(/[^a-z0-9]/gi, ''));
    if (same) choice.value = same.key;
    row.append(
      el('td', header),
      el(
        'td',
        sheet!.examples
          .slice(0, 3)
          .map(e => e[i] ?? '')
          .filter(t => t !== '')
          .join(', '),
      ),
      document.createElement('td'),
    );
    row.lastElementChild!.append(choice);
    return row;
  });
  at('[data-columns]').replaceChildren(...rows);
  at('[data-step=columns]').hidden = false;
  tell(`${sheet.lines} lines were read. Say what the columns are.`);
}

async function trial(): Promise<void> {
  tell('Trying…');
  const result = await ask<Trial>('POST', `/api/imports/${sheet!.id}/try`, plan());
  if (!result) return;
  at('[data-questions]').replaceChildren(
    ...result.questions.map((q, i) => {
      const field = el('div', '', { className: 'field' });
      const choice = document.createElement('select');
      choice.id = `question-${i}`;
      choice.append(new Option('choose', ''), ...q.answers.map(a => new Option(a, a)));
      choice.addEventListener('change', () => {
        if (choice.value) answers[q.about] = choice.value;
      });
      const label = document.createElement('label');
      label.htmlFor = choice.id;
      label.textContent = q.question;
      field.append(label, choice);
      return field;
    }),
  );
  if (result.questions.length > 0) {
    tell('Answer what is asked above, then try again.');
    at('[data-questions]').scrollIntoView();
    return;
  }
  at('[data-counts]').textContent =
    `${result.counts.entered} lines would be entered, ${result.counts.already} are here already, ${result.counts.refused} are refused.`;
  at('[data-lines]').replaceChildren(
    ...result.lines.map(l => {
      const row = document.createElement('tr');
      row.append(
        el('td', String(l.line), { className: 'r num' }),
        el('td', l.verdict),
        el('td', [l.column, l.message].filter(Boolean).join(': ')),
      );
      return row;
    }),
  );
  at('[data-step=trial]').hidden = false;
  tell('Nothing is saved yet.');
}

async function enter(): Promise<void> {
  if ((await ask('POST', `/api/imports/${sheet!.id}/enter`, plan())) === null) return;
  await follow(sheet!.id);
}

async function follow(id: string): Promise<void> {
  for (;;) {
    const one = await ask<Import>('GET', `/api/imports/${id}`);
    if (!one) return;
    tell(`${one.name}: ${words(one)}.`);
    await earlier();
    if (one.state !== 'entering' && one.state !== 'taking-back') return;
    await new Promise(r => setTimeout(r, 1000));
  }
}

const words = (i: Import) =>
  ({
    'sent-in': 'read, not entered',
    entering: 'being entered',
    entered: 'entered',
    'taking-back': 'being taken back',
    'taken-back': 'taken back',
  })[i.state] ?? i.state;

async function earlier(): Promise<void> {
  const all = await ask<Import[]>('GET', '/api/imports');
  at('[data-earlier]').replaceChildren(
    ...(all ?? []).map(i => {
      const item = el('li', `${i.name}: ${words(i)}, ${i.lines} lines. `);
      if (i.state === 'entered') {
        const back = el('button', 'Take it back', { className: 'plain', type: 'button' }) as HTMLButtonElement;
        back.addEventListener('click', () => {
          back.disabled = true;
          void ask('POST', `/api/imports/${i.id}/take-back`, '{}').then(() => follow(i.id));
        });
        item.append(back);
      }
      return item;
    }),
  );
}

for (const [name, act] of Object.entries({ send, try: trial, enter })) at(`[data-do=${name}]`).addEventListener('click', () => void act());
void earlier();
