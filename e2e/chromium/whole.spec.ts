/** The binary with the embedded app, without any other file. */
import { chromiumTest as test, expect } from '../helpers/test.ts';
import { joined, shoot, synced, takeIn } from '../helpers/work.ts';

test('the binary that carries the app serves it small, works without a network, and syncs', async ({ waxend, newPhone }) => {
  const server = await waxend({ whole: true });
  const page = await fetch(`${server.url}/`, { headers: { 'accept-encoding': 'br' } });
  expect(page.status).toBe(200);
  const script = /src="(\/pkg\/app-[0-9a-f]+\.js)"/.exec(await page.text())?.[1] ?? '';
  const sent = await fetch(server.url + script, { headers: { 'accept-encoding': 'br' } });
  expect(sent.headers.get('content-encoding')).toBe('br');
  expect((await fetch(`${server.url}/pkg/gone.js`)).status, 'what it does not carry').toBe(404);

  const phone = await newPhone();
  await joined(phone, server);
  await server.stop();
  await phone.reload();
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot' });
  await shoot(phone, 1);
  await server.start();
  await synced(phone);
});
