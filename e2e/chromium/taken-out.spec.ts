/** Everything as files: the archive that a phone makes alone is unpacked by the system's own program and read without the app. */
import { execFile } from 'node:child_process';
import { mkdtemp, readdir, readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';

import { chromiumTest as test, expect } from '../helpers/test.ts';
import { leaveCamera, shoot, takeIn } from '../helpers/work.ts';

test('everything is files that need no app: tables, entries, photographs in folders by pair', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot', name: 'Ottoline Brack', telephone: '+00 555 0142' });
  await shoot(phone, 2);
  await leaveCamera(phone);
  await phone.press('Shop', 'link');
  const download = phone.page.waitForEvent('download');
  await phone.press('Everything as files');
  const archive = await download;
  expect(archive.suggestedFilename()).toMatch(/^waxend-\d{4}-\d\d-\d\d\.tar$/);
  await phone.sees('Pairs: 1, photographs: 2.');

  const folder = await mkdtemp(join(tmpdir(), 'waxend-taken-out-'));
  await promisify(execFile)('tar', ['-xf', await archive.path(), '-C', folder]);
  const text = (name: string): Promise<string> => readFile(join(folder, name), 'utf8');
  expect(await text('README.txt')).toContain('customers.csv: customer_id, name, phone');
  expect(await text('customers.csv')).toContain(",Ottoline Brack,'+00 555 0142,");
  expect(await text('work.csv')).toContain(',half_sole,Half soles,both,');
  const entries = (await text('entries/0001.jsonl')).trimEnd().split('\n');
  expect(entries.map((line) => (JSON.parse(line) as { entry: { kind: string } }).entry.kind)).toContain('photo');
  const pair = join(folder, 'pairs', '1-walking-boot');
  const pictures = await readdir(pair);
  expect(pictures).toHaveLength(2);
  for (const picture of pictures) {
    expect(picture).toMatch(/^\d{4}-\d\d-\d\d-[a-z-]+(-2)?\.jpg$/);
    expect((await readFile(join(pair, picture))).subarray(0, 2).toString('hex')).toBe('ffd8');
  }
});
