/**
 * The whole job in its shortest form: a device joins, the server stops, a pair is taken in and photographed, two steps
 * are photographed, the card is published, and all of it is still there after a reload. The server starts again and
 * receives all of it, the customer reads the card without scripts, and a second device has the pair with its pictures.
 */
import { expect, test } from '../helpers/test.ts';
import { picturesOn, publishedCard } from '../helpers/card.ts';
import { joined, noteStep, openLife, shoot, synced, takeIn } from '../helpers/work.ts';

test('a pair is taken in, worked on and published without a server, and nothing is lost', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await server.stop();

  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot', colour: 'chestnut', name: 'Ottoline Brack' });
  await shoot(phone, 3);
  await phone.press('Done, to the Bench', 'link');
  await phone.press('Photograph A1', 'link');
  await phone.choose('Operation', 'Half soles');
  await shoot(phone, 1);
  await noteStep(phone, 'Half soles');
  await phone.choose('Operation', 'Edge trim and ink');
  await shoot(phone, 1);
  await noteStep(phone, 'Edge trim and ink');

  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Collection', 'link');
  await phone.sees('New half soles where the forepart was worn.');
  await phone.press('Publish the card');
  await phone.sees('The card is published.');

  await phone.reload();
  await phone.sees('The card is published.');
  await openLife(phone, 'A1');
  await phone.sees('chestnut walking boot');
  await phone.until('five photographs are on the page', () => document.querySelectorAll('.photograph img').length === 5);

  await server.start();
  await synced(phone);
  const card = await publishedCard(phone);
  const reader = await newPhone({ script: 'off' });
  await reader.open(card);
  await reader.sees('walking boot');
  await reader.sees('Sole edges trimmed, inked and waxed.');
  expect(await picturesOn(reader)).toEqual({ shown: 5, broken: 0 });

  const second = await newPhone();
  await joined(second, server);
  await synced(second);
  await openLife(second, 'A1');
  await second.sees('Ottoline Brack');
  await second.until('the second device shows the pictures', () => document.querySelectorAll('.photograph img').length === 5);
});
