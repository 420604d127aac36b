/**
 * Work without free hands: controls for the left hand, keys, a pedal, a timer, a voice note, a tag held in front of the
 * camera.
 */
import { chromiumTest as test, expect } from '../helpers/test.ts';
import type { ChromiumPhone } from '../helpers/chromium.ts';
import { standing } from '../helpers/standing.ts';
import { joined, openLife, shoot, takeIn } from '../helpers/work.ts';

const BOOT = { work: 'Half soles', price: '65', look: 'walking boot' };

async function saved(phone: ChromiumPhone, count: number): Promise<void> {
  const isSaved = (wanted: number): boolean => document.querySelector('[data-count=saved]')?.textContent === String(wanted);
  await phone.until(`${count} saved`, isSaved, count);
}

async function shutterOf(phone: ChromiumPhone, tag: string): Promise<void> {
  await phone.finds(`.shutter[aria-label^="Photograph ${tag}"]:not([disabled])`);
}

/** The distance of a control from the left edge. */
async function leftOf(phone: ChromiumPhone, label: string): Promise<number> {
  return phone.run((name: string) => document.querySelector(`[aria-label="${name}"]`)!.getBoundingClientRect().left, label);
}

test('the left hand: the layout is mirrored, and stays so on this device', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, BOOT);
  await phone.press('Bench', 'link');
  await phone.finds('.bench-row');
  expect(await leftOf(phone, 'Photograph A1')).toBeGreaterThan(await leftOf(phone, 'Pick A1'));

  await phone.press('Photograph A1', 'link');
  await phone.press('More tools');
  await phone.press('Left hand');
  await phone.finds('button[aria-pressed=true]');
  await phone.press('Bench', 'link');
  await phone.finds('html.left-handed .bench-row');
  expect(await leftOf(phone, 'Photograph A1')).toBeLessThan(await leftOf(phone, 'Pick A1'));
  await phone.reload();
  await phone.finds('html.left-handed .bench-row');
});

test('keys, remotes and pedals take photographs, once each, and never press what was tapped last', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await standing(server, [BOOT, BOOT]);
  await joined(phone, server);
  for (const tag of ['A1', 'A2']) await phone.press(`Pick ${tag}`);
  await phone.press('Photograph these 2', 'link');
  await shutterOf(phone, 'A1');
  for (const [index, key] of [' ', 'Enter', 'PageDown'].entries()) {
    await phone.key(key);
    await saved(phone, index + 1);
  }
  await phone.press('Next pair');
  await shutterOf(phone, 'A2');
  await phone.key('Enter');
  await saved(phone, 4);
  // A pedal that is held down repeats its key.
  await phone.page.keyboard.down('PageDown');
  await phone.page.keyboard.down('PageDown');
  await phone.page.keyboard.up('PageDown');
  await saved(phone, 5);
  // The list of operations does not use the pedal's keys; keys that it does use are left to it.
  await phone.run(() => document.querySelector<HTMLSelectElement>('.camera select')?.focus());
  await phone.key('PageDown');
  await saved(phone, 6);
  await openLife(phone, 'A1');
  await phone.until('three under the first', () => document.querySelectorAll('.photograph img').length === 3);
  await openLife(phone, 'A2');
  await phone.until('three under the second', () => document.querySelectorAll('.photograph img').length === 3);
});

test('the timer counts down, can be called off, and then takes one', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, BOOT);
  await shutterOf(phone, 'A1');
  await phone.press('Timer 3 s');
  await phone.press(/^Photograph A1\b/);
  await phone.finds('.count-down');
  await phone.press(/^Photograph A1\b/);
  await phone.until('it is called off', () => document.querySelector('.count-down') === null);
  await phone.press(/^Photograph A1\b/);
  await phone.finds('.count-down');
  await saved(phone, 1);
});

test('the last photograph is taken back; the one before lies over the picture as a ghost', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, BOOT);
  await shoot(phone, 2);
  await phone.press('Overlay last photo');
  await phone.finds('.ghost img');
  await phone.press('Undo');
  await phone.sees('Undone.');
  await phone.until('one is at hand', () => document.querySelectorAll('.strip button').length === 1);
  const saved = (): Promise<string | undefined> => phone.run(() => document.querySelector('[data-count=saved]')?.textContent);
  expect(await saved()).toBe('1');
  // Each of the last photographs can be moved or taken back, not only the last one.
  await shoot(phone, 1);
  await phone.press('Move number 1, of A1');
  await phone.press('Undo it');
  await phone.sees('Undone.');
  await phone.until('the other is at hand', () => document.querySelectorAll('.strip button').length === 1);
  expect(await saved()).toBe('1');
  await openLife(phone, 'A1');
  await phone.until('one is filed', () => document.querySelectorAll('.photograph img').length === 1);
});

test('a voice note is kept when it is stopped, and when the camera is left', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, BOOT);
  await shutterOf(phone, 'A1');
  await phone.press('More tools');
  await phone.press('Voice note');
  await phone.press('Recording: stop');
  await phone.sees('Voice note saved.');
  await phone.run(watchRecorder);
  await phone.press('Voice note');
  await phone.until('it records', () => (window as unknown as { recording: boolean }).recording);
  await phone.press('Bench', 'link');
  await phone.press(/^A1\b/, 'link');
  await phone.until('both can be heard', () => document.querySelectorAll('audio[src]').length === 2);
});

test('a voice note called off before the microphone is open leaves it closed', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, BOOT);
  await shutterOf(phone, 'A1');
  await phone.run(holdMicrophone);
  await phone.press('More tools');
  const letGo = (count: number): boolean => {
    const { opened } = window as unknown as Held;
    return opened.length === count && opened.every((track) => track.readyState === 'ended');
  };
  await phone.press('Voice note');
  // The microphone is not open yet, and the button does not say that it records.
  await phone.press('Opening: stop');
  await phone.press('Voice note');
  await phone.press('Opening: stop');
  await phone.run(() => (window as unknown as Held).hand());
  await phone.until('both microphones are let go of', letGo, 2);
  await phone.press('Voice note');
  await phone.press('Recording: stop');
  await phone.sees('Voice note saved.');
  await phone.until('so is the one that heard', letGo, 3);
});

/** What {@link holdMicrophone} adds to the page. */
interface Held { opened: MediaStreamTrack[]; hand: () => Promise<void> }

/** In the page: delays all requests for a microphone until `hand` is called. */
function holdMicrophone(): void {
  const devices = navigator.mediaDevices;
  const ask = devices.getUserMedia.bind(devices);
  let hand = (): void => undefined;
  const handed = new Promise<void>((resolve) => { hand = resolve; });
  const opened: MediaStreamTrack[] = [];
  const asked: Promise<MediaStream>[] = [];
  devices.getUserMedia = async (wanted) => {
    const stream = handed.then(() => ask(wanted));
    asked.push(stream);
    opened.push(...(await stream).getTracks());
    return stream;
  };
  Object.assign(window, { opened, hand: async () => { hand(); await Promise.all(asked); } });
}

/** In the page: records that a recorder has started. */
function watchRecorder(): void {
  const start = MediaRecorder.prototype.start;
  MediaRecorder.prototype.start = function (...args) {
    start.apply(this, args);
    Object.assign(window, { recording: true });
  };
}

test('a tag held before the lens changes the pair, where the browser can read codes', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, BOOT);
  await takeIn(phone, BOOT);
  await shutterOf(phone, 'A2');
  // A code reader that finds the code which the test sets.
  await phone.run(() => {
    class Reader {
      async detect(): Promise<{ rawValue: string }[]> {
        const { held } = window as unknown as { held?: string };
        return held === undefined ? [] : [{ rawValue: held }];
      }
    }
    Object.assign(window, { BarcodeDetector: Reader });
  });
  await phone.press('Bench', 'link');
  await phone.press('Photograph A2', 'link');
  await shutterOf(phone, 'A2');
  await phone.press('More tools');
  await phone.press('Scan a tag');
  await phone.run(() => void Object.assign(window, { held: 'Z99' }));
  await phone.sees('No pair in the shop answers to "Z99".');
  await phone.run(() => void Object.assign(window, { held: 'A1' }));
  await phone.press('Scan a tag');
  await shutterOf(phone, 'A1');
  await shoot(phone, 1);
  await openLife(phone, 'A1');
  await phone.until('filed under the pair whose tag it was', () => document.querySelectorAll('.photograph img').length === 1);
});
