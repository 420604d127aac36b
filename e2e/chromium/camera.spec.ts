/**
 * The camera's screen apart from the camera itself: what is offered when access is denied, the wake lock, the sign of a
 * saved photograph.
 */
import { expect, chromiumTest as test } from '../helpers/test.ts';
import { locatedJpeg } from '../helpers/photographs.ts';
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
