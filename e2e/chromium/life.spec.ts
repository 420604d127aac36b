/**
 * Two photographs of the demo's derby, years apart: shown side by side, with a divider that is dragged, and without the
 * full pictures.
 */
import { breaches, chromiumTest as test, expect, pictures } from '../helpers/test.ts';
import type { ChromiumPhone } from '../helpers/chromium.ts';
import { joined } from '../helpers/work.ts';

/** Opens the history of the derby, which has had four jobs in six years. */
async function derby(phone: ChromiumPhone): Promise<void> {
  await phone.press('Records', 'link');
  await phone.fill('Number, name, last digits, maker, colour, note', 'derby');
  await phone.until('the derby is found', () => document.querySelectorAll('[aria-label=Found] > li').length === 1);
  await phone.run(() => document.querySelector<HTMLAnchorElement>('[aria-label=Found] > li a')?.click());
  await phone.sees('Parts fitted');
}

async function bothThere(phone: ChromiumPhone): Promise<void> {
  await phone.until('both photographs are there', () => {
    const images = [...document.querySelectorAll<HTMLImageElement>('.laid img')];
    return images.length === 2 && images.every((image) => image.complete && image.naturalWidth > 0);
  });
}

/** The position of the divider, in per cent. */
async function divided(phone: ChromiumPhone): Promise<number> {
  return phone.run(() => Number.parseInt(document.querySelector<HTMLElement>('.laid')?.style.getPropertyValue('--at') ?? '', 10));
}

test('six years of a derby: its parts, and two photographs with a divider under the thumb', async ({ waxend, newPhone }) => {
  test.slow();
  const phone = await newPhone();
  const server = await waxend({ demo: true });
  await joined(phone, server);
  const look = async (name: string): Promise<void> => {
    await pictures(phone, name);
    expect(await breaches(phone), name).toEqual([]);
  };
  await derby(phone);
  await phone.run(() => document.querySelectorAll('[aria-label="Parts fitted"] details').forEach((one) => one.setAttribute('open', '')));
  await phone.run(() => document.querySelector('[aria-label="Parts fitted"]')?.scrollIntoView());
  await look('life-fitted');
  await phone.press('Was this ours?');
  await phone.run(() => document.querySelector('.ours')?.scrollIntoView());
  await look('life-ours');
  await phone.until('the part is tapped', () =>
    document.querySelector('.drawing [aria-label="Top piece, fitted by us"]')?.dispatchEvent(new MouseEvent('click', { bubbles: true })));
  await phone.sees('Ours.');
  await look('life-ours-answered');
  await phone.press('Another part');

  await phone.press(/Compare two photographs$/, 'link');
  await bothThere(phone);
  await look('compare-over');
  // Drags the divider a quarter of the picture to the left.
  const { x, y, width } = await phone.run(() => {
    const { left, bottom, width } = document.querySelector('.laid .frame')!.getBoundingClientRect();
    return { x: left + width / 2, y: bottom - 32, width };
  });
  await phone.page.mouse.move(x, y);
  await phone.page.mouse.down();
  await phone.page.mouse.move(x - width / 4, y, { steps: 4 });
  await phone.page.mouse.up();
  expect(Math.abs((await divided(phone)) - 25), 'under the middle of the knob').toBeLessThanOrEqual(1);
  await phone.press('Side by side');
  await look('compare-beside');

  // Without the server, the full pictures and the browser's cache, the thumbnails are shown, and the page says so.
  await server.stop();
  await (await phone.devtools()).send('Network.clearBrowserCache');
  await phone.run(async () => {
    const opening = indexedDB.open('waxend');
    const database = await new Promise<IDBDatabase>((resolve) => { opening.onsuccess = () => resolve(opening.result); });
    const clearing = database.transaction('blobs', 'readwrite');
    clearing.objectStore('blobs').clear();
    await new Promise((resolve) => { clearing.oncomplete = resolve; });
    database.close();
  });
  await phone.reload();
  await bothThere(phone);
  await phone.sees('Only the small copy is here.');
});
