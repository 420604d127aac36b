/** What the browser itself says of putting the app on the home screen (W3C Web Application Manifest, as Chromium judges it). */
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
  // Every test has a profile that is thrown away, which the browser calls incognito; all else counts.
  const against = installabilityErrors.map(({ errorId }) => errorId).filter((error) => error !== 'in-incognito');
  expect(against).toEqual([]);
});
