/** Screenshots for people to look at, in `e2e/pictures/made` (not kept in git). */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

import { ChromiumPhone } from './chromium.ts';
import { PICTURES } from './paths.ts';
import { DESK, UPRIGHT, type Phone, type Theme } from './phone.ts';

/** Takes a screenshot of the phone. Returns its path. */
export async function picture(phone: Phone, name: string): Promise<string> {
  mkdirSync(PICTURES, { recursive: true });
  const path = join(PICTURES, `${name}-${phone.engine}.png`);
  writeFileSync(path, await phone.picture());
  return path;
}

/**
 * Takes screenshots in the sizes of a phone and of a desk, each in light and dark mode. Leaves the phone in its own
 * size and light mode.
 */
export async function pictures(phone: ChromiumPhone, name: string): Promise<string[]> {
  const paths: string[] = [];
  for (const theme of ['light', 'dark'] satisfies Theme[]) {
    await phone.theme(theme);
    for (const [place, screen] of [['phone', UPRIGHT], ['desk', DESK]] as const) {
      await phone.resize(screen);
      const wide = await phone.run(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      if (wide > 0) throw new Error(`${name}, ${place}: ${wide} px wider than the screen`);
      paths.push(await picture(phone, `${name}-${place}-${theme}`));
    }
  }
  await phone.resize(UPRIGHT);
  await phone.theme('light');
  return paths;
}
