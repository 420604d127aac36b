/** Everything of one customer, as the file that they may ask for. */
import { readFile } from 'node:fs/promises';

import { chromiumTest as test, expect } from '../helpers/test.ts';
import { openLife, shoot, takeIn } from '../helpers/work.ts';

/** An entry, as far as it is looked at here. */
interface Stored {
  entry: { kind: string; body: string };
}

test('everything of a customer is one file, for them to read and for machines', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot', name: 'Ottoline <i>Brack</i>', telephone: '555 0142' });
  await shoot(phone, 2);
  await takeIn(phone, { work: 'Heels (top pieces)', price: '22', look: 'derby', name: 'Ines Vell' });
  await shoot(phone, 1);
  await openLife(phone, '1');
  const download = phone.page.waitForEvent('download');
  await phone.press('Save everything of theirs as a file');
  const file = await readFile(await (await download).path(), 'utf8');
  await phone.sees('among the downloads.');

  expect(file).toContain('<h1>Everything stored about Ottoline &lt;i&gt;Brack&lt;/i&gt;</h1>');
  expect(file).toContain('<li>telephone: 555 0142</li>');
  expect(file).toContain('<li>operation: Half soles</li>');
  expect(file.match(/src="data:image\/jpeg;base64,/g)).toHaveLength(2);
  expect(file).not.toContain('Vell');
  const json = /id="entries">([^<]*)<\/script>/.exec(file)?.[1] ?? '';
  const entries = JSON.parse(json) as Stored[];
  expect(entries.filter((one) => one.entry.kind === 'photo')).toHaveLength(2);
  expect(entries.some((one) => one.entry.body.includes('<i>Brack</i>'))).toBe(true);
});
