/** What a customer gets to choose from: one readable picture. What was agreed is for the right shoe. */
import { chromiumTest as test, expect } from '../helpers/test.ts';
import type { ChromiumPhone } from '../helpers/chromium.ts';
import { joined, leaveCamera, shoot, takeIn } from '../helpers/work.ts';

/** The text below the photograph: the median brightness of its background, and that of its darkest pixel, 0 to 255. */
async function wordsOf(phone: ChromiumPhone, jpeg: Buffer): Promise<{ ground: number; ink: number }> {
  return phone.run(async (base64: string) => {
    const bytes = Uint8Array.from(atob(base64), (char) => char.charCodeAt(0));
    const image = await createImageBitmap(new Blob([bytes], { type: 'image/jpeg' }));
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [image.width, image.height];
    const pen = canvas.getContext('2d')!;
    pen.drawImage(image, 0, 0);
    const { data } = pen.getImageData(0, image.height - 120, image.width, 110);
    const light = Array.from({ length: data.length / 4 }, (_, at) => data[4 * at]!).sort((one, other) => one - other);
    return { ground: light[Math.floor(light.length / 2)]!, ink: light[0]! };
  }, jpeg.toString('base64'));
}

test('the picture that is sent can be read, and a yes is work on the shoe that is damaged', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot' });
  await shoot(phone, 1);
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Opening up', 'link');
  await phone.press('Shank');
  await phone.press('Right');
  await phone.press('Broken');
  await phone.press('Replace');
  await phone.press('Customer');
  await phone.sees('Ask about A1');
  const [download] = await Promise.all([phone.page.waitForEvent('download'), phone.press('Send picture and text')]);
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
  const { ground, ink } = await wordsOf(phone, Buffer.concat(chunks));
  expect(ground, 'paper').toBeGreaterThan(230);
  expect(ink, 'ink').toBeLessThan(80);

  await phone.press(/^Yes: Shank/);
  await phone.press('Work', 'link');
  await phone.sees('Shank, right');
});

test('who has been here before can be read on a phone while it is typed', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot', colour: 'chestnut', name: 'Ottoline Brack' });
  await leaveCamera(phone);
  await phone.press('Drop-off', 'link');
  await phone.fill("Customer's name", 'otto');
  await phone.finds('.offers .offer');
  const { offer, words } = await phone.run(() => {
    const size = (selector: string): { width: number; height: number } => {
      const { width, height } = document.querySelector(selector)!.getBoundingClientRect();
      return { width, height };
    };
    return { offer: size('.offers .offer'), words: size('.offers .who strong') };
  });
  expect(offer.width).toBeGreaterThan(250);
  expect(words.height, 'on one line').toBeLessThan(40);
});
