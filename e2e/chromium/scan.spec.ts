/**
 * A tag in front of the camera, read by the app's own reader, because Chromium on Linux has none. The camera of the
 * WebKit tests cannot show a code; `stories/scan.spec.ts` tests what can be tested there.
 */
import { expect, chromiumTest as test, type Phone } from '../helpers/test.ts';
import { codeOn } from '../helpers/code.ts';
import { lensIs, watchLens } from '../helpers/lens.ts';
import { joined, synced, takeIn } from '../helpers/work.ts';

/** Takes in a belt with a tag number of the shop's own, up to the sheet with stub and tag. */
async function takeInBelt(phone: Phone, tag: string): Promise<void> {
  await phone.press('Drop-off', 'link');
  await phone.fill('Own tag number', tag);
  await phone.press('Belt');
  await phone.press('New hole');
  await phone.press('Today');
  await phone.press('Take in and print');
  await phone.sees('Left with us');
}

for (const name of ['Code of the ticket', 'Code of the pair']) {
  test(`with no network, the ${name.toLowerCase()} changes the pair and fills in its number`, async ({ waxend, newPhone, phoneBefore }) => {
    const server = await waxend();
    const counter = await newPhone();
    await joined(counter, server);
    await takeInBelt(counter, '0417');
    const code = await codeOn(counter, name);
    await synced(counter);

    const phone = await phoneBefore(code);
    await joined(phone, server);
    expect(await phone.run(() => 'BarcodeDetector' in window)).toBe(false);
    await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot' });
    await synced(phone);
    await phone.network('off');
    await phone.open(`${server.url}/drop-off`);
    await phone.run(watchLens);
    await phone.press('Scan own tag number');
    await phone.sees('0417 hangs on a pair in the shop');
    expect(await phone.page.getByLabel('Own tag number', { exact: true }).inputValue()).toBe('0417');
    await phone.until('the camera is let go of', lensIs, 'ended');

    await phone.press('Bench', 'link');
    await phone.press('Photograph B1', 'link');
    await phone.press('More tools');
    await phone.press('Scan a tag');
    await phone.finds('.shutter[aria-label^="Photograph 0417"]');
    // Without a network the browser complains that the sync cannot reach the server, and of nothing else.
    expect(phone.complaints.filter((words) => !/ERR_INTERNET_DISCONNECTED/.test(words))).toEqual([]);
  });
}
