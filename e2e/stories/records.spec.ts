/**
 * Finding a pair by what was logged of it, and correcting the records: two records of the same pair and customer are
 * joined, and a customer is erased.
 */
import type { Phone } from '../helpers/phone.ts';
import { expect, test } from '../helpers/test.ts';
import { checked, joined, leaveCamera, shoot, synced, takeIn, unfoldHistory } from '../helpers/work.ts';

const SAID = { work: 'Half soles', price: '65', look: 'walking boot', colour: 'chestnut', name: 'Ottoline Brack', telephone: '+00 30 555 0142' };

/** Keeps a note about the job that is shown. */
async function note(phone: Phone, text: string): Promise<void> {
  await phone.press('Note');
  await phone.fill('A word about it', text);
  await phone.press('Save the note');
  await phone.sees(text);
}

/** The lines of a list of mentions, once it is there, each after whether it is ticked. */
async function mentions(phone: Phone, list: string): Promise<string[]> {
  await phone.finds(`[aria-label="${list}"]`);
  return phone.run((list) => {
    const lines = [...document.querySelectorAll(`[aria-label="${list}"] label`)];
    return lines.map((line) => `${line.querySelector('input')?.checked ? 'ticked' : 'not ticked'}: ${line.textContent}`);
  }, list);
}

test('a pair entered twice is joined and can be taken apart; its customer can be forgotten', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, SAID);
  await shoot(phone, 1);
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  // A word of the name that is not about the person.
  await note(phone, 'sewn like the Ottoline pattern');
  await phone.press('Collection', 'link');
  await checked(phone);
  await phone.press('Hand over');
  await phone.sees('Handed over.');
  // The same pair is brought again later, and entered as that of a new customer.
  await takeIn(phone, { ...SAID, work: 'Heels (top pieces)', telephone: '5550142' });
  await shoot(phone, 1);
  await phone.press('Bench', 'link');
  await phone.press(/^A2/, 'link');
  await note(phone, 'for Ottoline Brack, to be called at 5550142 after six');

  await phone.press('Records', 'link');
  await phone.fill('Number, name, last digits, maker, colour, note', '0142 chestnut');
  await phone.until('both are found', () => document.querySelectorAll('[aria-label=Found] > li').length === 2);
  await phone.press(/^A2/, 'link');
  await phone.sees('Perhaps the same pair: A1 chestnut walking boot');
  await phone.sees('Perhaps the same customer: Ottoline Brack');
  await phone.run(() => {
    const offer = [...document.querySelectorAll('[aria-label="Perhaps the same"] p')].find((line) => line.textContent?.includes('same pair'));
    offer?.querySelector('button')?.click();
  });
  await phone.sees('Joined from two records.');
  await phone.finds('[aria-label="Job A1"]');
  await phone.finds('[aria-label="Job A2"]');
  expect(await phone.run(() => document.querySelectorAll('section.job').length), 'one life, both stays').toBe(2);
  await phone.press('Take them apart');
  await phone.seesNo('Joined from two records.');
  await phone.until('each has its own life again', () => document.querySelectorAll('section.job').length === 1);

  await phone.run(() => document.querySelectorAll('details').forEach((one) => { one.open = true; }));
  // Nothing can be erased before it is shown what mentions the customer; the name entered for A1 is a mention too.
  const sure = await mentions(phone, 'Mentions of this customer');
  expect(sure.filter((line) => !line.startsWith('ticked: ')), 'whole names and numbers are ticked').toEqual([]);
  for (const said of ['for Ottoline Brack, to be called at 5550142 after six', 'name: Ottoline Brack', 'phone: +00 30 555 0142']) {
    expect(sure.filter((line) => line.includes(said)), said).toHaveLength(1);
  }
  const perhaps = await mentions(phone, 'Perhaps about somebody else');
  expect(perhaps).toEqual([expect.stringMatching(/^not ticked: .*sewn like the Ottoline pattern$/)]);
  await phone.press('Erase for good');
  await phone.sees('It is erased once the server has this.');
  await phone.seesNo('5550142');
  await phone.sees('for …, to be called at … after six');
  await synced(phone);

  const other = await newPhone();
  await joined(other, server);
  await other.press('Records', 'link');
  await other.until('what stays is there', () => document.body.textContent?.includes('walking boot'));
  const mentioned = (): Promise<string[]> =>
    other.run(() => ['5550142', '555 0142', 'Brack'].filter((gone) => document.body.textContent?.includes(gone)));
  expect(await mentioned(), 'erased on every device').toEqual([]);
  await other.press(/^A2/, 'link');
  await unfoldHistory(other);
  await other.sees('for …, to be called at … after six');
  expect(await mentioned(), 'and in what was written elsewhere').toEqual([]);
  await other.press('Records', 'link');
  await other.press(/^A1/, 'link');
  await unfoldHistory(other);
  await other.sees('sewn like the Ottoline pattern');
  expect(await mentioned(), 'the same on the page of the other pair').toEqual([]);
});

test('a pair is found by its work in either usage', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await takeIn(phone, { ...SAID, work: 'Heels (top pieces)' });
  await shoot(phone, 1);
  await takeIn(phone, { ...SAID, look: 'derby', name: 'Ada Example', telephone: '5550143' });
  await shoot(phone, 1);
  await leaveCamera(phone);
  await phone.press('Records', 'link');
  await phone.sees('Findings, work, measurements and goods sold are searched too.');
  const found = async (words: string, tag: string): Promise<void> => {
    await phone.fill('Number, name, last digits, maker, colour, note', words);
    await phone.until(`${words}: only ${tag} is found`, (tag) => {
      const rows = [...document.querySelectorAll('[aria-label=Found] > li')];
      return rows.length === 1 && rows[0]?.querySelector('.tag')?.textContent === tag;
    }, tag);
  };
  await found('top pieces', 'A1');
  await found('half soles', 'A2');
  await found('heel caps', 'A1');
  await found('half soles ada', 'A2');
  await phone.fill('Number, name, last digits, maker, colour, note', 'heel caps ada');
  await phone.sees('No pair answers to that.');
});
