// Charts to explore: the server's SVG is the first paint; this adds read-outs by hover and keyboard, and a visit chosen here is
// chosen all over the page.

interface Dot {
  el: SVGElement;
  on: string;
  text: string;
  x: number;
  y: number;
}

class Explorer {
  private readonly dots: Dot[];
  private at = -1;
  private readonly readout: HTMLElement;

  constructor(
    figure: HTMLElement,
    private readonly svg: SVGSVGElement,
  ) {
    this.readout =
      figure.querySelector<HTMLElement>('[data-readout]') ??
      figure.appendChild(Object.assign(document.createElement('p'), { className: 'readout' }));
    this.readout.setAttribute('role', 'status');
    this.dots = [...svg.querySelectorAll<SVGElement>('[data-on]')]
      .map(el => ({
        el,
        on: el.dataset.on!,
        text: el.querySelector('title')?.textContent ?? '',
        x: Number(el.getAttribute('cx')),
        y: Number(el.getAttribute('cy')),
      }))
      .toSorted((a, b) => a.on.localeCompare(b.on));
    if (this.dots.length === 0) return;
    svg.setAttribute('tabindex', '0');
    svg.setAttribute('aria-describedby', (this.readout.id ||= `readout-${Math.random().toString(36).slice(2)}`));
    svg.addEventListener('pointermove', e => this.near(e));
    svg.addEventListener('click', () => this.choose());
    svg.addEventListener('keydown', e => this.key(e));
  }

  private near(e: PointerEvent): void {
    const box = this.svg.getBoundingClientRect();
    const scale = this.svg.viewBox.baseVal.width / box.width;
    const [x, y] = [(e.clientX - box.left) * scale, (e.clientY - box.top) * scale];
    let best = -1,
      least = 40;
    this.dots.forEach((d, i) => {
      const far = Math.hypot(d.x - x, (d.y - y) / 3);
      if (far < least) [least, best] = [far, i];
    });
    if (best >= 0) this.show(best);
  }

  private key(e: KeyboardEvent): void {
    const step = e.key === 'ArrowRight' ? 1 : e.key === 'ArrowLeft' ? -1 : 0;
    if (step !== 0) this.show(Math.max(0, Math.min(this.dots.length - 1, this.at + step)));
    else if (e.key === 'Enter') this.choose();
    else return;
    e.preventDefault();
  }

  private show(i: number): void {
    this.dots[this.at]?.el.removeAttribute('data-now');
    this.at = i;
    const dot = this.dots[i]!;
    dot.el.setAttribute('data-now', '');
    this.readout.textContent = dot.text;
  }

  private choose(): void {
    const dot = this.dots[this.at];
    if (dot) document.dispatchEvent(new CustomEvent('visit', { detail: dot.on }));
  }

  mark(on: string): void {
    const i = this.dots.findIndex(d => d.on === on);
    if (i >= 0) this.show(i);
  }
}

/** The picture is put into the page, so that its parts can be reached; without this script it stays an image. */
async function open(figure: HTMLElement): Promise<Explorer | null> {
  const img = figure.querySelector<HTMLImageElement>('img[data-explore]');
  if (!img) return null;
  // Which of the pictures it is, for this width and these colours, stands once it is there.
  await img.decode().catch(() => undefined);
  const answer = await fetch(img.currentSrc || img.src);
  if (!answer.ok) return null;
  const svg = new DOMParser().parseFromString(await answer.text(), 'image/svg+xml').documentElement;
  if (!(svg instanceof SVGSVGElement)) return null;
  svg.removeAttribute('width');
  svg.removeAttribute('height');
  (img.closest('picture') ?? img).replaceWith(svg);
  return new Explorer(figure, svg);
}

/** A picture of one day shows the chosen one. */
function showDay(figure: HTMLElement, on: string): void {
  const there = (address: string) => `${address.replace(/&on=[^&]*/, '')}&on=${on}`;
  for (const source of figure.querySelectorAll('source')) source.srcset = there(source.srcset);
  for (const img of figure.querySelectorAll('img')) img.src = there(img.src);
}

async function start(): Promise<void> {
  const explorers = (await Promise.all([...document.querySelectorAll<HTMLElement>('figure.chart')].map(open))).filter(e => e !== null);
  document.addEventListener('visit', e => {
    const on = (e as CustomEvent<string>).detail;
    for (const x of explorers) x.mark(on);
    for (const figure of document.querySelectorAll<HTMLElement>('figure[data-follow]')) showDay(figure, on);
    for (const li of document.querySelectorAll<HTMLElement>('[data-visit-on]')) {
      const here = li.dataset.visitOn === on;
      li.toggleAttribute('data-chosen', here);
      if (here) {
        li.querySelector('details')?.setAttribute('open', '');
        li.scrollIntoView({ block: 'nearest' });
      }
    }
  });
}

void start();
