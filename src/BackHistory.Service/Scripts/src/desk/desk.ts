// The tracing desk's page: puts its parts together and its buttons and fields to them.
import { Controller } from './controller';
import { Input } from './input';
import { element, Page } from './page';

const page = new Page();
const desk = new Controller(page);
const input = new Input(page.canvas, desk, toggle);

function toggle(): void {
  element('desk-toggle', HTMLButtonElement).setAttribute('aria-pressed', String(desk.toggle()));
}

async function save(): Promise<void> {
  const told = await desk.save();
  if (!told) return;
  if (told.onlyPicture) element('desk-save', HTMLButtonElement).textContent = 'Save the picture';
  page.say(
    told.onlyPicture ? `The tracing is saved. Its picture is not: ${told.why} Try again, or take the tick off and go on.` : told.why,
  );
}

const press = (id: string, act: () => unknown) => element(id, HTMLButtonElement).addEventListener('click', () => void act());
const changed = (id: string, act: (field: HTMLInputElement) => void) => {
  const field = element(id, HTMLInputElement);
  field.addEventListener('change', () => act(field));
};

for (const button of page.tools)
  button.addEventListener('click', () => {
    desk.take(page.toolNamed(button));
    page.canvas.focus();
  });
press('desk-undo', () => desk.undo());
press('desk-redo', () => desk.redo());
press('desk-toggle', toggle);
press('desk-save', save);
press('desk-zoom-in', () => input.zoom(1.25));
press('desk-zoom-out', () => input.zoom(0.8));
press('desk-again', () => desk.traceAgain());
changed('desk-file', field => field.files?.[0] && void desk.put(field.files[0]));
changed('desk-noise', field => desk.set({ noise: Math.max(0, Number(field.value) || 0) }));
changed('desk-tail', field => desk.set({ tailLeft: field.checked }));
page.pick.addEventListener('change', () => desk.turn());
input.listen();
addEventListener('pagehide', () => desk.keepNow());
document.addEventListener('visibilitychange', () => desk.keepNow());
new ResizeObserver(() => desk.paint()).observe(page.canvas);
desk.begin();
