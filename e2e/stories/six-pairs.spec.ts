/**
 * Six pairs photographed in a run. One photograph is taken too early and moved, and none is filed under a wrong pair.
 */
import { counting } from '../helpers/counting.ts';
import { expect, test, type Phone } from '../helpers/test.ts';
import { markFrames, numbersShown, stand } from '../helpers/marked-photographs.ts';
import { standing } from '../helpers/standing.ts';
import type { Waxend } from '../helpers/waxend.ts';
import { joined, openLife } from '../helpers/work.ts';

const PAIRS = [1, 2, 3, 4, 5, 6];

/** In the page: whether the shutter shows this pair's number and can be pressed. */
function ready(tag: string): boolean {
  return document.querySelector(`.shutter[aria-label^="Photograph ${tag}"]:not([disabled])`) !== null;
}

/** In the page: whether so many photographs are saved and none is still being saved. */
function allSaved(count: number): boolean {
  const saved = document.querySelector('[data-count=saved]')?.textContent;
  return saved === String(count) && document.querySelector('[data-count=unsaved]') === null;
}

async function joinedWithSix(phone: Phone, server: Waxend): Promise<void> {
  await standing(server, PAIRS.map((pair) => ({ work: 'Half soles', price: '65', look: `boot ${pair}` })));
  await joined(phone, server);
  await phone.until('six pairs are on the Bench', () => document.querySelectorAll('.bench-row').length === 6);
}

test('six pairs in a run: one thumb, no wait between them, and each photograph under its own pair', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joinedWithSix(phone, server);
  await markFrames(phone);

  const hand = counting(phone);
  for (const pair of PAIRS) await hand.press(`Pick A${pair}`);
  await hand.press('Photograph these 6', 'link');
  for (const pair of PAIRS) {
    await phone.until(`A${pair} is before the lens`, ready, `A${pair}`);
    await phone.sees(`${pair} of 6`);
    // The fourth pair is put in front of the camera and photographed while the app is still at the third one.
    const shown = pair === 3 ? [3, 4] : [pair];
    for (const one of pair === 4 ? [] : shown) {
      await stand(phone, one);
      await hand.press(new RegExp(`^Photograph A${pair}\\b`));
    }
    if (pair === 3) {
      // A photograph can be moved only when it is saved; nothing else waits for that.
      await phone.finds('button[aria-label="Move number 4, of A3"]');
      await hand.press('Move number 4, of A3');
      await hand.press('Move to A4');
      await phone.sees('Moved to A4.');
    }
    if (pair < 6) await hand.press('Next pair');
  }
  await phone.until('all six are on the device', allSaved, 6);
  await hand.press('Done, to the Bench', 'link');
  await hand.press(/^Done for these 6/);
  await phone.sees('Half soles done for these 6.');
  // 6 picks, the run, 6 photographs, 5 times "Next pair", 2 to move one, back to the Bench, done for all.
  expect(hand.presses()).toBe(22);

  for (const pair of PAIRS) {
    await openLife(phone, `A${pair}`);
    await phone.sees(`boot ${pair}`);
    expect(await numbersShown(phone, 1), `under A${pair}`).toEqual([pair]);
  }
});

test('six pairs with a tap each: it takes the photograph, and goes on once that is saved', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joinedWithSix(phone, server);
  await markFrames(phone);
  for (const pair of PAIRS) await phone.press(`Pick A${pair}`);

  const hand = counting(phone);
  await hand.press('Photograph these 6', 'link');
  for (const pair of PAIRS) {
    await phone.until(`A${pair} is before the lens`, ready, `A${pair}`);
    await stand(phone, pair);
    await hand.press(pair < 6 ? 'Take, next pair' : 'Take, to the Bench');
  }
  await phone.finds('[data-ready=bench]');
  // The run, and a photograph of each pair.
  expect(hand.presses()).toBe(7);

  for (const pair of PAIRS) {
    await openLife(phone, `A${pair}`);
    expect(await numbersShown(phone, 1), `under A${pair}`).toEqual([pair]);
  }
});

test('while a photograph is being saved nothing moves on, and what was left for another pair stays there', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joinedWithSix(phone, server);
  for (const pair of PAIRS) await phone.press(`Pick A${pair}`);
  await phone.press('Photograph these 6', 'link');
  await phone.until('the shutter is ready', ready, 'A1');
  await phone.run(holdDarkroom);
  await phone.press('Take, next pair');
  await phone.until('it is told', () => document.querySelector('[data-count=unsaved]')?.textContent === '1');
  expect(await phone.run(ready, 'A1'), 'still the first').toBe(true);
  // Somebody goes on by hand meanwhile: once the photograph is saved, nothing moves a second time.
  await phone.press('Next pair');
  await phone.until('A2 is before the lens', ready, 'A2');
  await phone.run(() => (window as unknown as { openDarkroom: () => void }).openDarkroom());
  await phone.until('it is saved', allSaved, 1);
  expect(await phone.run(ready, 'A2'), 'the second stays').toBe(true);
  await openLife(phone, 'A1');
  await phone.until('under the first', () => document.querySelectorAll('.photograph img').length === 1);
});

test('what is still being saved is counted across pairs and after the camera is left', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joinedWithSix(phone, server);
  for (const pair of PAIRS) await phone.press(`Pick A${pair}`);
  await phone.press('Photograph these 6', 'link');
  await phone.until('the shutter is ready', ready, 'A1');
  await phone.run(holdDarkroom);
  await phone.press(/^Photograph A1\b/);
  await phone.press('Next pair');
  await phone.until('the shutter is ready', ready, 'A2');
  await phone.press(/^Photograph A2\b/);
  const unsaved = (count: number): boolean => document.querySelector('[data-count=unsaved]')?.textContent === String(count);
  await phone.until('both are told', unsaved, 2);
  expect(await phone.run(() => document.querySelector('[data-count=saved]')?.textContent)).toBe('0');
  await phone.press('Bench', 'link');
  await phone.until('both are still told', unsaved, 2);

  await phone.run(() => (window as unknown as { openDarkroom: () => void }).openDarkroom());
  await phone.until('none is left', () => document.querySelector('[data-count=unsaved]') === null);
  for (const pair of [1, 2]) {
    await openLife(phone, `A${pair}`);
    await phone.until('its photograph is there', () => document.querySelectorAll('.photograph img').length === 1);
  }
});

/** In the page: photographs are not saved until `openDarkroom` is called. */
function holdDarkroom(): void {
  let open = (): void => undefined;
  const opened = new Promise<void>((resolve) => (open = resolve));
  Object.assign(window, { openDarkroom: open });
  const digest = crypto.subtle.digest.bind(crypto.subtle);
  crypto.subtle.digest = async (...args: Parameters<typeof digest>) => {
    await opened;
    return digest(...args);
  };
}
