/** The main job in Firefox, in short. The stories do not run there; this only shows whether the app works at all. */
import { firefoxTest as test } from '../helpers/test.ts';
import { joined, openLife, shoot, takeIn } from '../helpers/work.ts';

test('a device joins by link, a pair is taken in and photographed, and all is there after a reload', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot', colour: 'chestnut' });
  await shoot(phone, 1);
  await phone.press('Bench', 'link');
  await phone.sees('chestnut walking boot');

  await phone.reload();
  // A link that is pressed while the app is still starting loads the page once more.
  await phone.sees('chestnut walking boot');
  await openLife(phone, 'A1');
  await phone.sees('chestnut walking boot');
  await phone.until('the photograph is there', () => {
    const images = [...document.querySelectorAll<HTMLImageElement>('.photograph img')];
    return images.length === 1 && images.every((image) => image.complete && image.naturalWidth > 0);
  });
});
