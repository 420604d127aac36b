/**
 * The camera's screen apart from the camera itself: what is offered when access is denied, the wake lock, the sign of a
 * saved photograph, and that no part of it covers another.
 */
import { expect, chromiumTest as test } from '../helpers/test.ts';
import { locatedJpeg } from '../helpers/photographs.ts';
import { standing } from '../helpers/standing.ts';
import { joined, shoot, takeIn } from '../helpers/work.ts';

test("where the camera is refused, the phone's own camera serves", async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone({ camera: 'denied' });
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65' });
  await phone.sees('this page may not use the camera');
  await phone.finds('input[type=file]:enabled');
  await phone.attach("The phone's own camera", await locatedJpeg(phone, 1));
  await phone.until('the photograph is saved', () => document.querySelector('[data-count=saved]')?.textContent === '1');
});

interface Noted {
  locks: { released: boolean }[];
  buzzes: unknown[];
  flashes: number;
}

test('the screen stays on at the camera, and says by flash and buzz what is saved', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await phone.run(takeNote);
  await takeIn(phone, { work: 'Half soles', price: '65' });
  await phone.until('the screen is kept on', keptOn, true);
  for (const flashes of [1, 2]) {
    await shoot(phone, 1);
    await phone.until(`flash ${flashes} is over`, flashed, flashes);
  }
  expect(await phone.run(() => (window as unknown as { noted: Noted }).noted.buzzes.length)).toBe(2);

  await phone.press('Bench', 'link');
  await phone.until('the screen may sleep again', keptOn, false);
});

/** In the page: whether it has flashed `times` times and no flash is shown now. */
function flashed(times: number): boolean {
  return (window as unknown as { noted: Noted }).noted.flashes === times && document.querySelector('.saved-flash') === null;
}

/** In the page: whether a wake lock is held, compared with `wanted`. */
function keptOn(wanted: boolean): boolean {
  const { noted } = window as unknown as { noted: Noted };
  return noted.locks.some((lock) => !lock.released) === wanted;
}

/** In the page: records wake locks, vibrations and flashes. */
function takeNote(): void {
  const noted: Noted = { locks: [], buzzes: [], flashes: 0 };
  Object.assign(window, { noted });
  // A browser without a screen grants no wake lock, so it is replaced.
  WakeLock.prototype.request = async () => {
    const lock = { released: false, release: async () => void (lock.released = true) };
    noted.locks.push(lock);
    return lock as unknown as WakeLockSentinel;
  };
  navigator.vibrate = (pattern: unknown) => noted.buzzes.push(pattern) > 0;
  const flashing = (): boolean => document.querySelector('.saved-flash') !== null;
  let before = false;
  new MutationObserver(() => {
    if (flashing() && !before) noted.flashes += 1;
    before = flashing();
  }).observe(document, { subtree: true, attributes: true, childList: true });
}

/** In the page: the pairs of these elements of which one covers some of the other, and those that are not wholly in view. */
function hidden(selectors: string[]): string[] {
  const boxes = selectors.map((selector) => {
    const element = document.querySelector(selector);
    if (!element) throw new Error(`nothing is like ${selector}`);
    return { selector, box: element.getBoundingClientRect() };
  });
  const out = boxes.filter(({ box }) => box.left < -1 || box.right > innerWidth + 1 || box.top < -1 || box.bottom > innerHeight + 1 || box.height === 0);
  const over = boxes.flatMap((one, at) => boxes.slice(at + 1)
    .filter(({ box }) => box.left < one.box.right - 1 && one.box.left < box.right - 1 && box.top < one.box.bottom - 1 && one.box.top < box.bottom - 1)
    .map(({ selector }) => `${one.selector} over ${selector}`));
  return [...out.map(({ selector }) => `${selector} out of view`), ...over];
}

test('picture, number, strip and shutter are all seen: upright, lying, small, and with text twice as large', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await standing(server, [1, 2].map((pair) => ({ work: 'Half soles', price: '65', look: `walking boot ${pair}` })));
  await joined(phone, server);
  for (const tag of ['A1', 'A2']) await phone.press(`Pick ${tag}`);
  await phone.press('Photograph these 2', 'link');
  await shoot(phone, 1);
  await phone.finds('.strip button');
  const parts = ['.viewfinder', '.called', '.strip', '.shutter', '.take-on'];

  const upright = await phone.run(() => {
    const size = (selector: string): number[] => {
      const { width, height } = document.querySelector(selector)!.getBoundingClientRect();
      return [Math.round(width), Math.round(height)];
    };
    return { picture: size('video'), shutter: size('.shutter'), beside: size('.take-on'), page: document.documentElement.scrollHeight };
  });
  expect(upright).toEqual({ picture: [390, 520], shutter: [238, 160], beside: [112, 160], page: 844 });
  expect(await phone.has('Shop', 'link'), 'the bar of screens').toBe(false);

  for (const screen of [{ width: 390, height: 664 }, { width: 320, height: 568 }, { width: 844, height: 390 }, { width: 1280, height: 800 }]) {
    await phone.resize(screen);
    expect(await phone.run(hidden, parts), `${screen.width}×${screen.height}`).toEqual([]);
  }
  await phone.resize({ width: 390, height: 844 });
  await phone.run(() => void (document.documentElement.style.fontSize = '200%'));
  expect(await phone.run(hidden, parts), 'with text twice as large').toEqual([]);
});
