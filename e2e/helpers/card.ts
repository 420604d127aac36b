/** The care card as its reader meets it. */
import type { Phone } from './phone.ts';

/** Opens the pair's Pickup from wherever the phone is, and returns the card's address. */
export async function publishedCard(phone: Phone): Promise<string> {
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Pickup', 'link');
  return phone.until('the card has an address', () => document.querySelector<HTMLAnchorElement>('.address a[href]')?.href);
}

/** How many pictures a page shows, and how many are broken. */
export async function picturesOn(phone: Phone): Promise<{ shown: number; broken: number }> {
  await phone.until('every picture has been tried', () => [...document.images].every((image) => image.complete));
  return phone.run(() => {
    const shown = [...document.images].filter((image) => image.naturalWidth > 0).length;
    return { shown, broken: document.images.length - shown };
  });
}
