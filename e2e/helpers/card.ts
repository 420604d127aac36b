/** The care card as the customer sees it. */
import type { Phone } from './phone.ts';

/** Opens Pickup of pair A1, and returns the address of its card. */
export async function publishedCard(phone: Phone): Promise<string> {
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Collection', 'link');
  return phone.until('the card has an address', () => document.querySelector<HTMLAnchorElement>('.address a[href]')?.href);
}

/** How many pictures a page shows, and how many of them could not be loaded. */
export async function picturesOn(phone: Phone): Promise<{ shown: number; broken: number }> {
  await phone.until('every picture has been tried', () => [...document.images].every((image) => image.complete));
  return phone.run(() => {
    const shown = [...document.images].filter((image) => image.naturalWidth > 0).length;
    return { shown, broken: document.images.length - shown };
  });
}
