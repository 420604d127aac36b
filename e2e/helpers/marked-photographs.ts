/**
 * Photographs that can be told apart: every frame taken is marked with a number of the test's, as if that pair stood
 * before the lens. Read back from what a screen shows, the number says which frame was filed there.
 */
import type { Phone } from './phone.ts';

/** From now on the page's frames bear the number set with {@link stand}. */
export async function markFrames(phone: Phone): Promise<void> {
  await phone.run(paintOver);
}

/** Puts pair number `n` (1 to 6) before the lens. */
export async function stand(phone: Phone, n: number): Promise<void> {
  await phone.run((number: number) => void Object.assign(window, { standing: number }), n);
}

/** The numbers on the photographs in the page, in the order they are shown; waits until there are `count`. */
export async function numbersShown(phone: Phone, count: number): Promise<number[]> {
  await phone.until(`${count} photographs are shown`, loaded, count);
  return phone.run(readNumbers);
}

/** In the page: lays the number's colour over the left half of every frame drawn from the camera. */
function paintOver(): void {
  const draw = CanvasRenderingContext2D.prototype.drawImage as (...args: unknown[]) => void;
  CanvasRenderingContext2D.prototype.drawImage = function (this: CanvasRenderingContext2D, ...args: unknown[]) {
    draw.apply(this, args);
    const number = (window as unknown as { standing?: number }).standing ?? 0;
    if (!(args[0] instanceof HTMLVideoElement)) return;
    this.fillStyle = `rgb(${number & 1 ? 255 : 0} ${number & 2 ? 255 : 0} ${number & 4 ? 255 : 0})`;
    this.fillRect(0, 0, this.canvas.width / 2, this.canvas.height);
  } as CanvasRenderingContext2D['drawImage'];
}

/** In the page. */
function loaded(count: number): boolean {
  const images = [...document.querySelectorAll<HTMLImageElement>('.photograph img')];
  return images.length === count && images.every((image) => image.complete && image.naturalWidth > 0);
}

/** In the page. */
function readNumbers(): number[] {
  return [...document.querySelectorAll<HTMLImageElement>('.photograph img')].map((image) => {
    const canvas = document.createElement('canvas');
    canvas.width = image.naturalWidth;
    canvas.height = image.naturalHeight;
    const pen = canvas.getContext('2d')!;
    pen.drawImage(image, 0, 0);
    const [red, green, blue] = pen.getImageData(canvas.width / 4, canvas.height / 2, 1, 1).data;
    return [red, green, blue].reduce((number: number, value, bit) => number + (Number(value) > 128 ? 1 << bit : 0), 0);
  });
}
