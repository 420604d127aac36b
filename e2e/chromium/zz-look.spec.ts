import { chromiumTest as test } from '../helpers/test.ts';
import { joined } from '../helpers/work.ts';
test('look', async ({ waxend, newPhone }) => {
  test.setTimeout(200_000);
  const server = await waxend({ demo: true });
  const phone = await newPhone();
  phone.page.on('console', (message) => console.log(message.type(), message.text()));
  await joined(phone, server);
  await phone.open(`${server.url}/shop`);
  await phone.sees('Price list');
  await phone.fill('An hour should earn, without tax', '40');
  await phone.press('Save money');
  await phone.sees('Saved.');
  for (const [path, ready] of [['truth', 'truth'], ['books', 'books'], ['materials', 'materials'], ['hidden/low_shoe/resole_welted', 'hidden']] as const) {
    await phone.open(`${server.url}/shop/${path}`);
    await phone.finds(`[data-ready=${ready}]`);
    await phone.page.waitForTimeout(1500);
    await phone.page.screenshot({ path: `/tmp/look-${ready}.png`, fullPage: true });
  }
  await phone.open(`${server.url}/`);
  await phone.finds('[data-ready=bench]');
  await phone.page.screenshot({ path: '/tmp/look-bench.png' });
  const first = await phone.page.evaluate(() => [...document.querySelectorAll('a')].map((a) => a.getAttribute('href')).filter((h) => h?.startsWith('/job/')));
  for (const href of first.slice(0, 12)) {
    await phone.open(`${server.url}${href}`);
    await phone.finds('[data-ready=work]');
    await phone.page.waitForTimeout(500);
    if (await phone.count('.took')) { await phone.page.screenshot({ path: '/tmp/look-work.png', fullPage: true }); break; }
  }
});
