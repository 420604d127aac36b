/**
 * A photograph that is destroyed is destroyed everywhere, not by a single tap, and every place where it was shown says
 * so.
 */
import { publishedCard } from '../helpers/card.ts';
import { expect, picture, test, type Phone } from '../helpers/test.ts';
import { checked, joined, openLife, shoot, synced, takeIn } from '../helpers/work.ts';
import { doubleTap } from '../helpers/taps.ts';

/** Opens the first photograph of the history on the screen in full size. */
async function lookAtFirst(phone: Phone): Promise<void> {
  await phone.finds('.photograph img');
  await phone.run(() => document.querySelector<HTMLElement>('.photograph button')!.click());
  await phone.until('it is there in full', () => (document.querySelector<HTMLImageElement>('dialog img')?.naturalWidth ?? 0) > 256);
}

/** What the history on the screen shows of its photographs: how many can be seen, and the text about destroyed ones. */
const ofLife = (phone: Phone): Promise<{ seen: number; said: string }> =>
  phone.run(() => ({
    seen: document.querySelectorAll('.photograph img').length,
    said: document.querySelector('[aria-label="Photographs that were deleted"]')?.textContent ?? '',
  }));

test('destroying takes two looks, and then nothing of the photograph is left anywhere', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot' });
  await shoot(phone, 2);
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Collection', 'link');
  await checked(phone);
  await phone.press('Publish the card');
  const card = await publishedCard(phone);
  await synced(phone);
  const pictures = [...(await (await fetch(card)).text()).matchAll(/src="([^"]*\/photo\/[0-9a-f]{64})"/g)].map(([, src]) => new URL(src!, card).href);
  expect(pictures).toHaveLength(2);

  // Another device has both photographs, and has opened the first one in full size.
  const other = await newPhone();
  await joined(other, server);
  await openLife(other, 'A1');
  await lookAtFirst(other);
  await other.press('Close');

  await openLife(phone, 'A1');
  await lookAtFirst(phone);
  await phone.press('More');
  await doubleTap(phone, 'Delete…', 'Keep it');
  await phone.sees('It cannot be undone.');
  await phone.press('Keep it');
  await phone.press('Close');
  await phone.until('a double tap destroys nothing', () => document.querySelectorAll('.photograph img').length === 2);
  await lookAtFirst(phone);
  await phone.press('More');
  await phone.press('Delete…');
  await phone.press('Delete for good');
  await phone.sees('The photograph is deleted');
  await phone.until('it is said where it was', () => document.querySelector('[aria-label="Photographs that were deleted"]'));
  await phone.until('the other photograph is there', () => document.querySelectorAll('.photograph img').length === 1);
  const here = await ofLife(phone);
  expect(here.said).toContain('As brought: deleted');
  await picture(phone, 'pair-destroyed');
  await synced(phone);

  const gone = await Promise.all(pictures.map(async (picture) => (await fetch(picture)).status));
  expect(gone.sort(), 'one is left on the card').toEqual([200, 410]);
  const page = await (await fetch(card)).text();
  expect(page.match(/\/photo\/[0-9a-f]{64}"/g)).toHaveLength(1);
  expect(page).not.toContain('on its way');

  await synced(other);
  await openLife(other, 'A1');
  await other.until('it is said there too', () => document.querySelector('[aria-label="Photographs that were deleted"]'));
  await other.until('the other photograph is there', () => document.querySelectorAll('.photograph img').length === 1);
  // The device's own store has neither its full picture nor its thumbnail.
  const left = await other.run(async () => {
    const opening = indexedDB.open('waxend');
    const database = await new Promise<IDBDatabase>((resolve) => { opening.onsuccess = () => resolve(opening.result); });
    const count = (table: string): Promise<number> => new Promise((resolve) => {
      const counting = database.transaction(table).objectStore(table).count();
      counting.onsuccess = () => resolve(counting.result);
    });
    const counts = [await count('blobs'), await count('thumbs')];
    database.close();
    return counts;
  });
  expect(left[0]! <= 1 && left[1]! <= 1, `full and small: ${left.join(', ')}`).toBe(true);
});

test('a photograph that is opened right after another was closed stays open', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot' });
  await shoot(phone, 1);
  await openLife(phone, 'A1');
  await lookAtFirst(phone);
  // Closed and opened again before the browser has told that it is closed.
  await phone.run(async () => {
    const dialog = document.querySelector('dialog')!;
    const told = new Promise((resolve) => dialog.addEventListener('close', resolve, { once: true }));
    [...dialog.querySelectorAll('button')].find((one) => one.textContent === 'Close')!.click();
    for (let turns = 0; turns < 1_000 && dialog.open; turns += 1) await Promise.resolve();
    if (dialog.open) throw new Error('the dialog does not close at once');
    document.querySelector<HTMLElement>('.photograph button')!.click();
    await told;
  });
  await phone.until('it is there in full', () => (document.querySelector<HTMLImageElement>('dialog[open] img')?.naturalWidth ?? 0) > 256);
  await phone.press('Close');
  await phone.until('it is closed', () => !document.querySelector('dialog')!.open);
});
