/** Whether the browser considers the app installable (W3C Web Application Manifest). */
import { chromiumTest as test, expect } from '../helpers/test.ts';
import { joined } from '../helpers/work.ts';

test('the browser finds nothing against installing the app', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  const devtools = await phone.page.context().newCDPSession(phone.page);
  const { url, errors } = await devtools.send('Page.getAppManifest');
  expect(url).toMatch(/\/manifest\.webmanifest$/);
  expect(errors).toEqual([]);
  const { installabilityErrors } = await devtools.send('Page.getInstallabilityErrors');
  // Each test uses a profile that is deleted, which the browser reports as incognito; every other reason counts.
  const against = installabilityErrors.map(({ errorId }) => errorId).filter((error) => error !== 'in-incognito');
  expect(against).toEqual([]);
});
