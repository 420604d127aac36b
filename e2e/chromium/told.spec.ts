/** A tap without effect is reported: when storage does not respond, and when the program has panicked. */
import { chromiumTest as test, expect, pictures } from '../helpers/test.ts';
import type { ChromiumPhone } from '../helpers/chromium.ts';
import { takeIn } from '../helpers/work.ts';

async function atWork(phone: ChromiumPhone, url: string): Promise<void> {
  await phone.open(url);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot' });
  await phone.press('Bench', 'link');
  await phone.press(/^1 /, 'link');
  await phone.finds('[data-ready=work]');
}

test('storage that does not answer is said, and what was tapped meanwhile is saved once it does', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atWork(phone, (await site()).url);
  await phone.run(holdStorage);
  await phone.press('Half soles: done');
  await phone.sees('This is not saved yet');
  await pictures(phone, 'not-saved-yet');
  // More taps meanwhile still note only one operation.
  const button = phone.page.getByRole('button', { name: 'Half soles: done' });
  await button.dispatchEvent('click', { detail: 1, ...(await middle(phone)) });
  await phone.run(() => (window as unknown as { letGo: () => void }).letGo());
  await phone.sees('Half soles noted.');
  await phone.seesNo('This is not saved yet');
  await phone.finds('[aria-label=Done] li');
  expect(await phone.count('[aria-label=Done] li')).toBe(1);
});

async function middle(phone: ChromiumPhone): Promise<{ clientX: number; clientY: number }> {
  return phone.run(() => {
    const { left, top, width, height } = document.querySelector('button[aria-label="Half soles: done"]')!.getBoundingClientRect();
    return { clientX: left + width / 2, clientY: top + height / 2 };
  });
}

/** In the page: keeps the device's store locked until `letGo` is called. */
async function holdStorage(): Promise<void> {
  const opening = indexedDB.open('waxend');
  const database = await new Promise<IDBDatabase>((resolve) => { opening.onsuccess = () => resolve(opening.result); });
  const change = database.transaction([...database.objectStoreNames], 'readwrite');
  let held = true;
  const again = (): void => {
    if (held) change.objectStore('meta').count().onsuccess = again;
  };
  again();
  Object.assign(window, { letGo: () => { held = false; } });
  change.oncomplete = () => database.close();
}

test('a program that has fallen says so, and how to begin again', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atWork(phone, (await site()).url);
  await phone.run(() => {
    // Without random numbers no id can be made, and the program panics.
    crypto.getRandomValues = () => { throw new Error('no chance'); };
  });
  await phone.press('Half soles: done');
  await phone.sees('The app has stopped.');
  await pictures(phone, 'app-stopped');
  await phone.press('Start it again', 'link');
  await phone.finds('[data-ready=bench] .bench-row');
  await phone.seesNo('The app has stopped.');
  await phone.press(/^1 /, 'link');
  await phone.press('Half soles: done');
  await phone.sees('Half soles noted.');
});
