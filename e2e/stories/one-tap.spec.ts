/** A double tap does nothing twice, "Undo" takes back what it names, and nothing moves under a finger. */
import { expect, test, type Phone } from '../helpers/test.ts';
import { standing } from '../helpers/standing.ts';
import { joined, openLife, shoot, takeIn } from '../helpers/work.ts';
import { doubleTap } from '../helpers/taps.ts';

/** In the page: whether the shutter shows this pair's number and can be pressed. */
function ready(tag: string): boolean {
  return document.querySelector(`.shutter[aria-label^="Photograph ${tag}"]:not([disabled])`) !== null;
}

const photographs = async (phone: Phone, tag: string): Promise<number> => {
  await openLife(phone, tag);
  await phone.finds(`[aria-label="Job ${tag}"]`);
  return phone.count('.photograph');
};

/** Two pairs on one ticket, each with two operations to do. */
async function twoPairs(phone: Phone): Promise<void> {
  await phone.press('Drop-off', 'link');
  for (const pair of [1, 2]) {
    if (pair === 2) await phone.press('+ another pair');
    for (const work of ['Half soles', 'Stretch']) {
      await phone.press(work);
      await phone.fill(`Price of ${work}`, '10');
    }
  }
  await phone.press('Tomorrow');
  await phone.press('Take in and photograph');
  await phone.finds('.camera');
}

test('after a photograph was moved between two other pairs, Undo takes back that, and the third keeps its own', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  const server = await waxend();
  await standing(server, ['boot', 'derby', 'clog'].map((look) => ({ work: 'Half soles', price: '65', look })));
  await joined(phone, server);
  for (const tag of ['A1', 'A2', 'A3']) await phone.press(`Pick ${tag}`);
  await phone.press('Photograph these 3', 'link');
  await phone.until('A1 is before the lens', ready, 'A1');
  await shoot(phone, 1);
  for (const tag of ['A2', 'A3']) {
    await phone.press('Next pair');
    await phone.until(`${tag} is before the lens`, ready, tag);
  }
  await shoot(phone, 1);
  await phone.press('Move number 1, of A1');
  await phone.press('Move to A2');
  await phone.sees('Moved to A2.');
  expect(await phone.run(() => document.querySelector('.undo span')?.textContent), 'what was done last').toBe('Moved to A2.');
  await phone.press('Undo');
  await phone.sees('Undone.');
  expect(await phone.until('what was done before', () => document.querySelector('.undo span')?.textContent)).toBe('Photograph of A3 saved.');
  expect([await photographs(phone, 'A1'), await photographs(phone, 'A2'), await photographs(phone, 'A3')]).toEqual([1, 0, 1]);
});

test('a double tap on "Done for these" notes one operation of each', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await twoPairs(phone);
  await phone.press('Bench', 'link');
  for (const tag of ['A1', 'A2']) await phone.press(`Pick ${tag}`);
  await phone.finds('.picked-bar .actions');
  await doubleTap(phone, 'Done for these 2', 'done for these 2.');
  await phone.press(/^A1/, 'link');
  await phone.finds('[aria-label=Done] li');
  expect(await phone.count('[aria-label=Done] li'), 'what was noted').toBe(1);
  // A tap after the screen was drawn again counts as another one.
  await phone.press(/: done$/);
  await phone.until('both are noted', () => document.querySelectorAll('[aria-label=Done] li').length === 2);
});

test('nothing is drawn anew under a finger that is down, and all of it once it is lifted', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await twoPairs(phone);
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.finds('[aria-label="Still to do"] .left-row');
  const { held, moved } = await phone.run(async () => {
    const list = document.querySelector('[aria-label="Still to do"]')!;
    const rows = (): string => list.textContent ?? '';
    const finger = (event: string): boolean => list.dispatchEvent(new PointerEvent(event, { bubbles: true, pointerId: 1 }));
    const before = rows();
    const down = performance.now();
    finger('pointerdown');
    // An entry is saved meanwhile, as by a pedal or on another device.
    document.querySelector<HTMLElement>('.dock button[aria-label$=": done"]')!.click();
    while (!document.body.innerText.includes(' noted.')) await new Promise((resolve) => setTimeout(resolve, 5));
    for (let frames = 0; frames < 8; frames += 1) await new Promise((resolve) => requestAnimationFrame(resolve));
    // After about a second the screen is drawn even under a finger, so a later change does not count.
    const moved = rows() !== before && performance.now() - down < 900;
    finger('pointerup');
    return { held: before, moved };
  });
  expect(moved, 'the list moved under the finger').toBe(false);
  await phone.until('the list goes on', (held) => document.querySelector('[aria-label="Still to do"]')?.textContent !== held, held);
});

test('from the question to the camera and back: the photograph is of the damage that is asked about', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot' });
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Opening up', 'link');
  for (const tap of ['Stiffener', 'Crushed', 'Replace', 'Customer']) await phone.press(tap);
  await phone.sees('Ask about A1');
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  // This link names no damage, so the question is about the one that was not asked about yet.
  await phone.press('Ask', 'link');
  await phone.sees('Ask about A1');
  await phone.press('Camera', 'link');
  await phone.finds('.camera');
  const damage = new URL(await phone.address()).searchParams.get('of');
  expect(damage, 'the camera knows the damage').not.toBeNull();
  await shoot(phone, 1);
  await phone.press('Back to the question', 'link');
  await phone.finds('[aria-label="The next question"] .face img');
  const { pathname, searchParams } = new URL(await phone.address());
  expect(pathname).toMatch(/^\/ask\//);
  expect(searchParams.get('damage')).toBe(damage);
});
