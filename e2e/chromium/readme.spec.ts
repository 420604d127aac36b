/**
 * The screenshots in README.md, of the demo shop that `make run` shows. `make pictures` copies them to where README
 * expects them.
 */
import { chromiumTest as test, expect, picture } from '../helpers/test.ts';
import { joined } from '../helpers/work.ts';

test('the demo shop is worth a picture', async ({ waxend, newPhone }) => {
  test.slow();
  const server = await waxend({ demo: true });
  const phone = await newPhone();
  await joined(phone, server);
  const pictured = async (selector: string): Promise<void> => {
    await phone.until(`${selector} is drawn`, (wanted) => {
      const all = [...document.querySelectorAll<HTMLImageElement>(wanted)];
      return all.length > 0 && all.every((one) => one.complete && one.naturalWidth > 0);
    }, selector);
  };
  await phone.seesNo('This device has joined the shop.');
  await pictured('.face img');
  expect(await phone.count('.bench-row'), 'twelve pairs, one of them collected').toBeGreaterThanOrEqual(10);
  await picture(phone, 'readme-bench');

  const derby = await phone.run(() => {
    const row = [...document.querySelectorAll('.bench-row')].find((one) => one.textContent?.includes('xford'));
    return row?.querySelector<HTMLAnchorElement>('a.shoot')?.getAttribute('href') ?? '';
  });
  await phone.open(server.url + derby);
  await phone.until('the shutter is ready', () => document.querySelector('.shutter:not([disabled])') !== null);
  await pictured('.pair-now .face img');
  await picture(phone, 'readme-camera');

  await phone.open(server.url + derby.replace('/camera/', '/open/'));
  await phone.sees('Tap the part.');
  await phone.press('Stiffener');
  await phone.sees('What is wrong?');
  await picture(phone, 'readme-open-up');

  await phone.press('Records', 'link');
  await phone.fill('Number, name, last digits, maker, colour, note', 'derby');
  await phone.until('the derby is found', () => document.querySelectorAll('[aria-label=Found] > li').length === 1);
  await phone.run(() => document.querySelector<HTMLAnchorElement>('[aria-label=Found] > li a')?.click());
  await phone.sees('Take it in again');
  await pictured('.photographs img');
  expect(await phone.count('section.job'), 'its fourth stay in six years').toBe(4);
  await picture(phone, 'readme-pair');

  const card = server.demoCard;
  expect(card, 'the server prints a card link').toMatch(/^https?:\S+\/card\/\S+$/);
  await phone.open(card);
  await phone.sees('Care card');
  await pictured('img');
  await picture(phone, 'readme-card');
});
