// Snapping to a drawn line: the darkest place near the hand, found on a small piece of the picture.
import type { Picture } from './picture';
import type { Point } from './plane';

const REACH = 14;

/**
 * A piece of more points than about this across is looked at in a smaller copy of the picture: the middle of a stroke is a mean
 * over many of them.
 */
const MOST = 64;

/**
 * The piece of the picture that is looked at lies on a canvas of its own, which is kept: a new one for every point would cost the hand
 * a wait.
 */
export class Snap {
  private readonly piece = new OffscreenCanvas(1, 1);

  /** The middle of the dark stroke near a point, in picture pixels; the point itself where nothing is darker than its surroundings. */
  toLine(picture: Picture, p: Point, scale: number): Point {
    const { piece } = this;
    const around = Math.max(4, Math.round(REACH / scale));
    const halvings = Math.min(picture.levels.length - 1, Math.max(0, Math.round(Math.log2((2 * around) / MOST))));
    const detail = 2 ** halvings;
    const reach = Math.ceil(around / detail);
    const size = 2 * reach + 1;
    [piece.width, piece.height] = [size, size];
    const ink = piece.getContext('2d', { willReadFrequently: true })!;
    ink.fillStyle = '#fff';
    ink.fillRect(0, 0, size, size);
    const [left, top] = [Math.round(p[0] / detail) - reach, Math.round(p[1] / detail) - reach];
    ink.drawImage(picture.levels[halvings]!, left, top, size, size, 0, 0, size, size);
    const pixels = ink.getImageData(0, 0, size, size).data;
    const dark = new Float64Array(size * size);
    let mean = 0;
    for (let i = 0; i < dark.length; i++) {
      dark[i] = 255 - (0.2126 * pixels[4 * i]! + 0.7152 * pixels[4 * i + 1]! + 0.0722 * pixels[4 * i + 2]!);
      mean += dark[i]! / dark.length;
    }
    // Nearer is better: a Gaussian about the hand weighs what stands out of its surroundings.
    const weigh = (i: number, cx: number, cy: number, sd: number) => {
      const [x, y] = [i % size, Math.floor(i / size)];
      return Math.max(0, dark[i]! - mean - 18) * Math.exp(-((x - cx) ** 2 + (y - cy) ** 2) / (2 * sd * sd));
    };
    let best = -1,
      most = 0;
    for (let i = 0; i < dark.length; i++) {
      const w = weigh(i, reach, reach, reach / 2);
      if (w > most) [most, best] = [w, i];
    }
    if (best < 0) return p;
    const [bx, by] = [best % size, Math.floor(best / size)];
    let [sx, sy, sw] = [0, 0, 0];
    for (let i = 0; i < dark.length; i++) {
      const w = weigh(i, bx, by, reach / 5);
      sx += w * (i % size);
      sy += w * Math.floor(i / size);
      sw += w;
    }
    // The middle of a point of the piece is the middle of those that it stands for.
    return [(left + sx / sw + 0.5) * detail - 0.5, (top + sy / sw + 0.5) * detail - 0.5];
  }
}
