/** The camera and its photographs: what is stored, what is not, and when the camera is open. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';

import { expect, test, type Phone } from '../helpers/test.ts';
import { lensIs, watchLens } from '../helpers/lens.ts';
import { TURNED, cornersOf, locatedJpeg, storedOn } from '../helpers/photographs.ts';
import { joined, shoot, synced, takeIn } from '../helpers/work.ts';

const WAY_OUT = "The phone's own camera";

/** Selects a file in the place of the camera, once the pair is known under which it is filed. */
async function hand(phone: Phone, path: string): Promise<void> {
  if ((await phone.count('.more-tools')) === 0) await phone.press('More tools');
  await phone.finds('input[type=file]:enabled');
  await phone.attach(WAY_OUT, path);
}

/** Selects a file in the place of the camera and waits until it is stored on the device. */
async function attach(phone: Phone, path: string, saved: number): Promise<void> {
  await hand(phone, path);
  await phone.until('the photograph is saved', isSaved, saved);
}

function isSaved(count: number): boolean {
  return document.querySelector('[data-count=saved]')?.textContent === String(count);
}

test('photographs reach the server small, named by their hash, and without a word about where and who', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65' });
  await shoot(phone, 3);
  await attach(phone, await locatedJpeg(phone, 6), 4);
  await synced(phone);

  const photographs = storedOn(server);
  expect(photographs).toHaveLength(8);
  for (const { name, sha256, width, height, groups } of photographs) {
    expect(sha256).toBe(name);
    expect(Math.max(width, height)).toBeLessThanOrEqual(2048);
    expect(groups.filter((group) => ['EXIF', 'XMP', 'IPTC', 'GPS', 'MakerNotes', 'Photoshop'].includes(group))).toEqual([]);
  }
  const small = photographs.filter(({ width, height }) => Math.max(width, height) <= 256);
  expect(small).toHaveLength(4);
  // The film moves, so a camera that works delivers different files.
  expect(new Set(photographs.map(({ name }) => name)).size).toBe(8);
});

test('a file is turned the right way up, however the camera was held', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65' });
  for (const [index] of TURNED.entries()) await attach(phone, await locatedJpeg(phone, index + 1), index + 1);
  await synced(phone);

  const full = storedOn(server).slice(0, TURNED.length);
  const seen = await Promise.all(full.map((photograph) => cornersOf(phone, photograph)));
  expect(seen.sort()).toEqual([...TURNED].sort());
  // Four are landscape, four portrait.
  expect(full.filter(({ width, height }) => width === 2048 && height === 1365)).toHaveLength(4);
  expect(full.filter(({ width, height }) => width === 1365 && height === 2048)).toHaveLength(4);
});

test('a file that is no picture is refused in words, and nothing is saved', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65' });
  const path = join(server.data, 'no-picture.jpg');
  writeFileSync(path, 'This is no picture.');
  await hand(phone, path);
  await phone.sees('this file is not a picture that can be read here');
  expect(await phone.run(isSaved, 0)).toBe(true);
});

test('the lens is open only while its screen is seen', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await phone.run(watchLens);
  await takeIn(phone, { work: 'Half soles', price: '65' });
  await phone.until('the camera runs', lensIs, 'live');

  await phone.run(turnPage, 'hidden');
  await phone.until('the camera is let go of', lensIs, 'ended');
  await phone.run(turnPage, 'visible');
  await phone.until('the camera runs again', lensIs, 'live');
  await shoot(phone, 1);

  await phone.press('Bench', 'link');
  await phone.until('the camera is let go of', lensIs, 'ended');
});

/** In the page: acts as if the user turned to another app, or came back. */
function turnPage(state: DocumentVisibilityState): void {
  Object.defineProperty(document, 'visibilityState', { value: state, configurable: true });
  document.dispatchEvent(new Event('visibilitychange'));
}
