/** A camera that the person did not allow: the phone's own is the way out. */
import { locatedJpeg } from '../helpers/photographs.ts';
import { chromiumTest as test } from '../helpers/test.ts';
import { joined, takeIn } from '../helpers/work.ts';

test("where the camera is refused, the phone's own camera serves", async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone({ camera: 'denied' });
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65' });
  await phone.sees('this page may not use the camera');
  await phone.finds('input[type=file]:enabled');
  await phone.attach("The phone's own camera", await locatedJpeg(phone, 1));
  await phone.until('the photograph is saved', () => document.querySelector('[data-count=saved]')?.textContent === '1');
});
