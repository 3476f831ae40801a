// Pictures onto the desk: JPEG, PNG, WebP and the first page of a PDF.

/** @param levels the picture and its halves, quarters, …: a large one is drawn small without touching its every point. */
export interface Picture {
  image: CanvasImageSource;
  levels: readonly CanvasImageSource[];
  width: number;
  height: number;
  name: string;
}

/** What is kept of a picture with the tracing that was made on it. */
export interface Shown {
  width: number;
  height: number;
  sha256: string | null;
}

const MOST_BYTES = 40 << 20;
const MOST_PIXELS = 60_000_000;

/** Why a file cannot be put on the desk, in a person's words. */
export class NotAPicture extends Error {}

export async function read(file: File): Promise<Picture> {
  if (file.size > MOST_BYTES) throw new NotAPicture('The file is larger than 40 MB. Save it smaller and try again; nothing was changed.');
  const head = new Uint8Array(await file.slice(0, 16).arrayBuffer());
  const text = String.fromCharCode(...head);
  if (text.startsWith('%PDF')) return readPdf(file);
  if (text.slice(4, 8) === 'ftyp' && /hei[cx]|mif1|hevc/.test(text))
    throw new NotAPicture(
      'This is a HEIC picture, which most browsers cannot show. ' +
        'On the phone choose “most compatible” or share it as JPEG, then put it here.',
    );
  if (!(head[0] === 0xff && head[1] === 0xd8) && !text.startsWith('\x89PNG') && !(text.startsWith('RIFF') && text.slice(8, 12) === 'WEBP'))
    throw new NotAPicture('This is not a picture that can be read here. JPEG, PNG, WebP and PDF can.');
  let image: ImageBitmap;
  try {
    image = await createImageBitmap(file);
  } catch {
    throw new NotAPicture('The picture is damaged or of a kind that this browser cannot read. Try it as JPEG.');
  }
  if (image.width * image.height > MOST_PIXELS) {
    image.close();
    throw new NotAPicture('The picture has more than 60 million points. Save it smaller and try again.');
  }
  return shrunk(image, file.name);
}

const SMALL = 700;

async function shrunk(image: ImageBitmap | HTMLCanvasElement, name: string): Promise<Picture> {
  const levels: (ImageBitmap | HTMLCanvasElement)[] = [image];
  for (let last = levels[0]!; Math.max(last.width, last.height) > SMALL; levels.push(last))
    last = await createImageBitmap(last, {
      resizeWidth: Math.ceil(last.width / 2),
      resizeHeight: Math.ceil(last.height / 2),
      resizeQuality: 'medium',
    });
  return { image, levels, width: image.width, height: image.height, name };
}

async function readPdf(file: File): Promise<Picture> {
  const pdf = await import('pdfjs-dist');
  pdf.GlobalWorkerOptions.workerSrc = '/js/pdf.worker.min.mjs';
  try {
    const task = pdf.getDocument({ data: await file.arrayBuffer(), isEvalSupported: false });
    const page = await (await task.promise).getPage(1);
    const flat = page.getViewport({ scale: 1 });
    // 200 dots an inch, and never more than the limit.
    const scale = Math.min(200 / 72, Math.sqrt(MOST_PIXELS / (flat.width * flat.height)));
    const view = page.getViewport({ scale });
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [Math.round(view.width), Math.round(view.height)];
    await page.render({ canvas, viewport: view }).promise;
    await task.destroy();
    return await shrunk(canvas, file.name);
  } catch {
    throw new NotAPicture('The PDF cannot be read. Print its page to a picture and put that here.');
  }
}

/** The picture's size and the name of its bytes; the name is left out where the browser computes none (no https). */
export async function shownOf(picture: Picture, file: File): Promise<Shown> {
  const digest = crypto.subtle ? new Uint8Array(await crypto.subtle.digest('SHA-256', await file.arrayBuffer())) : null;
  return { width: picture.width, height: picture.height, sha256: digest && [...digest].map(b => b.toString(16).padStart(2, '0')).join('') };
}
