/** A whole day without a server: drop-off, bench, opening up, pickup. In the evening it is all synced. */
import { expect, test, type Phone } from '../helpers/test.ts';
import { picturesOn } from '../helpers/card.ts';
import { checked, joined, leaveCamera, noteStep, openLife, shoot, synced, takeIn, unfoldHistory } from '../helpers/work.ts';

async function toBench(phone: Phone, tag: string): Promise<void> {
  await leaveCamera(phone);
  await phone.press('Bench', 'link');
  await phone.press(new RegExp(`^${tag}\\b`), 'link');
}

test('a whole day offline, then sync: nothing is missing on the server or on another device', async ({ waxend, newPhone }) => {
  test.slow();
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await server.stop();

  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot', colour: 'chestnut', name: 'Ottoline Brack', telephone: '555 0142' });
  await shoot(phone, 1);
  await takeIn(phone, { work: 'Heels (top pieces)', price: '18.50', look: 'court shoe', colour: 'black', name: 'Ines Vell', telephone: '555 0177' });
  await shoot(phone, 1);

  await toBench(phone, 'A1');
  await phone.press('Opening up', 'link');
  await phone.press('Shank');
  await phone.press('Broken');
  await phone.press('Replace');
  await phone.press('No charge: needed');
  await phone.sees('Shank Broken: replaced, no charge, needed');
  await toBench(phone, 'A1');
  await phone.press('Camera', 'link');
  await noteStep(phone, 'Shank');
  await shoot(phone, 1);
  await noteStep(phone, 'Half soles');
  await shoot(phone, 1);

  await toBench(phone, 'A1');
  await phone.press('Collection', 'link');
  await phone.sees('New half soles where the forepart was worn.');
  await checked(phone);
  await phone.press('Publish the card');
  const card = await phone.until('the card has an address', () => document.querySelector<HTMLAnchorElement>('.address a[href]')?.href);
  await phone.press(/^Paid now/);
  await phone.sees('Nothing is due.');
  await phone.press('Hand over');
  await phone.sees('Handed over.');
  await phone.reload();
  await phone.sees('The card is published.');

  await server.start();
  await synced(phone);
  const reader = await newPhone({ script: 'off' });
  await reader.open(card);
  await reader.sees('walking boot');
  await reader.sees('New half soles where the forepart was worn.');
  expect(await picturesOn(reader)).toEqual({ shown: 3, broken: 0 });

  const second = await newPhone();
  await joined(second, server);
  await synced(second);
  await openLife(second, 'A2');
  await second.sees('Ines Vell');
  await second.press('Records', 'link');
  await second.fill('Number, name, last digits, maker, colour, note', '0142');
  await second.until('the boot is found', () => document.querySelectorAll('[aria-label=Found] > li').length === 1);
  await second.press(/^A1/, 'link');
  await unfoldHistory(second);
  await second.sees('Shank Broken: replaced, no charge, needed');
  await second.until('its pictures are here', () => document.querySelectorAll('.photograph img').length === 3);
});
