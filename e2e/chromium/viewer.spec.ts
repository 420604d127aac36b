/** A photograph in full: its neighbors, a closer look, and where the focus begins. By fingers, keys and buttons. */
import { chromiumTest as test, expect } from '../helpers/test.ts';
import type { ChromiumPhone } from '../helpers/chromium.ts';
import { joined, openLife, shoot, takeIn } from '../helpers/work.ts';

/** Takes three photographs of a pair, and opens the second one in full. */
async function second(phone: ChromiumPhone): Promise<void> {
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot' });
  await shoot(phone, 3);
  await openLife(phone, 'A1');
  await phone.until('three are on the page', () => document.querySelectorAll('.photograph img').length === 3);
  await phone.run(() => document.querySelectorAll<HTMLElement>('.photograph button')[1]!.click());
  await inFull(phone, '2 of 3');
}

/** Waits until the photograph at this place of the list is there in full. */
async function inFull(phone: ChromiumPhone, place: string): Promise<void> {
  await phone.until(`${place} is there in full`, (place) => {
    const image = document.querySelector<HTMLImageElement>('.viewer[open] .close-look > img');
    return (image?.naturalWidth ?? 0) > 256 && document.querySelector('.look-head span')?.textContent === place;
  }, place);
}

/** How much the picture is enlarged, and how far it is moved to the right and down. */
async function look(phone: ChromiumPhone): Promise<{ zoom: number; right: number; down: number }> {
  return phone.run(() => {
    const said = document.querySelector<HTMLElement>('.close-look')!.style.transform;
    const [right, down, zoom] = [...said.matchAll(/-?[\d.]+(?:e-?\d+)?/g)].map(([number]) => Number(number) + 0);
    return { zoom: zoom!, right: right!, down: down! };
  });
}

/** Moves fingers over the picture: each from one place to another, counted from its middle. */
async function fingers(phone: ChromiumPhone, ...ways: { from: [number, number]; to: [number, number] }[]): Promise<void> {
  await phone.run((ways) => {
    const stage = document.querySelector('.stage')!;
    const { left, top, width, height } = stage.getBoundingClientRect();
    const send = (kind: string, finger: number, [x, y]: [number, number]): void => {
      stage.dispatchEvent(new PointerEvent(kind, {
        bubbles: true, pointerId: finger + 70, pointerType: 'touch', button: kind === 'pointermove' ? -1 : 0,
        clientX: left + width / 2 + x, clientY: top + height / 2 + y,
      }));
    };
    ways.forEach(({ from }, finger) => send('pointerdown', finger, from));
    for (const share of [0.25, 0.5, 0.75, 1]) {
      ways.forEach(({ from, to }, finger) => send('pointermove', finger, [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])]));
    }
    ways.forEach(({ to }, finger) => send('pointerup', finger, to));
  }, ways);
}

test('the neighbors of a photograph come by swipe, key and button, and end with the list', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await second(phone);
  const focused = (): Promise<string | null | undefined> => phone.run(() => document.activeElement?.textContent);
  expect(await focused(), 'where the focus begins').toBe('Close');

  await fingers(phone, { from: [100, 0], to: [-60, 5] });
  await inFull(phone, '3 of 3');
  await fingers(phone, { from: [100, 0], to: [-60, 5] });
  await phone.key('ArrowRight');
  await inFull(phone, '3 of 3');
  await phone.finds('[aria-label="Next photograph"][aria-disabled=true]');
  await phone.key('ArrowLeft');
  await inFull(phone, '2 of 3');
  await phone.press('Previous photograph');
  await inFull(phone, '1 of 3');
  await fingers(phone, { from: [-60, 0], to: [100, 5] });
  await inFull(phone, '1 of 3');
  // A slip up or down turns nothing.
  await fingers(phone, { from: [0, 100], to: [-60, -100] });
  await inFull(phone, '1 of 3');
  await phone.key('Escape');
  await phone.until('it is closed', () => document.querySelector('.viewer[open]') === null);
});

test('a closer look by two fingers, by buttons and by keys, within the limits', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await second(phone);
  expect(await look(phone)).toEqual({ zoom: 1, right: 0, down: 0 });

  await fingers(phone, { from: [-40, 0], to: [-120, 0] }, { from: [40, 0], to: [120, 0] });
  const pinched = await look(phone);
  expect(pinched.zoom).toBeCloseTo(3, 1);
  await inFull(phone, '2 of 3');

  // One finger now moves the picture and does not turn to another.
  await fingers(phone, { from: [0, 0], to: [-100, 0] });
  await inFull(phone, '2 of 3');
  expect((await look(phone)).right).toBeLessThan(pinched.right - 50);
  await fingers(phone, { from: [0, 0], to: [-9000, 0] });
  const width = await phone.run(() => document.querySelector('.stage')!.clientWidth);
  const edge = await look(phone);
  expect(edge.right, 'its edge is at that of the frame').toBeCloseTo(-((edge.zoom - 1) * width) / 2, 0);
  // A tap brings what is tapped to the middle, for whoever cannot draw.
  await fingers(phone, { from: [-100, 0], to: [-100, 0] });
  expect((await look(phone)).right).toBeCloseTo(edge.right + 100, 0);
  await phone.key('ArrowRight');
  expect((await look(phone)).right).toBeLessThan(edge.right + 100);

  // From 3 to 2, to 1.33, to 1.
  for (let press = 0; press < 3; press += 1) await phone.press('Zoom out');
  expect(await look(phone), 'whole again').toEqual({ zoom: 1, right: 0, down: 0 });
  await phone.press('Zoom in');
  expect((await look(phone)).zoom).toBeCloseTo(1.5, 5);
  await phone.key('-');
  expect((await look(phone)).zoom).toBe(1);
  // The next photograph is seen whole.
  await phone.press('Zoom in');
  await phone.press('Next photograph');
  await inFull(phone, '3 of 3');
  expect((await look(phone)).zoom).toBe(1);
});

test('deleting it is one step further, and put away with the next photograph', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await second(phone);
  expect(await phone.has('Delete…', 'button')).toBe(false);
  await phone.press('More');
  await phone.finds('.destroying');
  expect(await phone.has('Delete…', 'button')).toBe(true);
  await phone.press('Next photograph');
  await inFull(phone, '3 of 3');
  expect(await phone.has('Delete…', 'button')).toBe(false);
});

test('with less motion wanted, the picture does not glide', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await second(phone);
  const glides = (): Promise<string> => phone.run(() => getComputedStyle(document.querySelector('.close-look')!).transitionDuration);
  expect(await glides()).not.toBe('0s');
  await phone.page.emulateMedia({ reducedMotion: 'reduce' });
  expect(await glides()).toBe('0s');
});
