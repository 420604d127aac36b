/**
 * Photographs that can be told apart: every frame of the camera is marked with a number that the test sets, as if that
 * pair were in front of the camera. The number on a photograph that a screen shows tells from which frame it was taken.
 */
import type { Phone } from './phone.ts';

/** Marks the page's frames from now on with the number set with {@link stand}. */
export async function markFrames(phone: Phone): Promise<void> {
  await phone.run(paintOver);
}

/** Puts pair number `n` (1 to 6) in front of the camera. */
export async function stand(phone: Phone, n: number): Promise<void> {
  await phone.run((number: number) => void Object.assign(window, { standing: number }), n);
}

/** The numbers on the photographs in the page, in the order shown. Waits until there are `count` photographs. */
export async function numbersShown(phone: Phone, count: number): Promise<number[]> {
  await phone.until(`${count} photographs are shown`, loaded, count);
  return phone.run(readNumbers);
}

/** In the page: draws the number's colour over the left half of every frame taken from the camera. */
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

/** In the page: whether there are `count` photographs and all are loaded. */
function loaded(count: number): boolean {
  const images = [...document.querySelectorAll<HTMLImageElement>('.photograph img')];
  return images.length === count && images.every((image) => image.complete && image.naturalWidth > 0);
}

/** In the page: the numbers on the photographs. */
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
