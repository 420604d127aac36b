/** Hidden damage: noted with four taps, asked about, held until the customer answers, then added to the work. */
import { counting } from '../helpers/counting.ts';
import { expect, test } from '../helpers/test.ts';
import { joined, shoot, takeIn } from '../helpers/work.ts';

test('hidden damage, a question, no answer, then yes: the work is added', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'welted derby', colour: 'oxblood', name: 'Ines Vell', telephone: '555 0177' });
  await shoot(phone, 1);
  await phone.press('Done, to the Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Opening up', 'link');
  await phone.sees('Tap the part.');

  const taps = counting(phone);
  await taps.press('Stiffener');
  await taps.press('Crushed');
  await taps.press('Replace');
  await taps.press('Customer');
  expect(taps.presses()).toBeLessThanOrEqual(4);
  // Nothing was agreed at the counter about hidden damage, so the customer is asked.
  await phone.sees('Ask about A1');
  const asked = await phone.until('the question is written', () => document.querySelector('textarea')?.value);
  expect(asked).toContain('The stiffener is crushed.');
  await phone.press('I have asked');
  await phone.sees('Asked. The pair is held until there is an answer.');
  await phone.press('Nobody answered');
  await phone.sees('Nobody answered; the pair is held.');
  await phone.press('Call again then');
  await phone.sees('When shall they be called again?');
  await phone.press('tomorrow morning');
  await phone.sees('To be called again: tomorrow morning.');
  await phone.seesNo('When shall they be called again?');
  await phone.press('Bench', 'link');
  await phone.sees('Waiting for the customer');
  await phone.sees('call again tomorrow morning');

  await phone.press(/^A1/, 'link');
  await phone.press('Ask', 'link');
  await phone.press(/^Yes: Stiffener rebuild/);
  await phone.sees('Agreed: Stiffener rebuild.');
  // The answer is shown, and there is no form for another question.
  await phone.finds('[aria-label=Answered] li');
  expect(await phone.count('details:not([open]) [aria-label="The next question"]')).toBe(1);
  await phone.press('Bench', 'link');
  await phone.seesNo('Waiting for the customer');
  await phone.press(/^A1/, 'link');
  await phone.sees('Stiffener rebuild');
});

test('a part that was taken out is listed until it is back, and a finding can be taken back', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'welted derby' });
  await shoot(phone, 1);
  await phone.press('Done, to the Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Opening up', 'link');
  await phone.press('Shank');
  await phone.press('Loose');
  await phone.press(/^Keep/);
  await phone.sees('Must go back in');
  await phone.press('Is back in');
  await phone.seesNo('Must go back in');
  await phone.press('Insole');
  await phone.press('Cracked');
  await phone.press('Mend');
  await phone.press('No charge: needed');
  // The part is repaired without being taken out.
  await phone.press('Stayed in');
  await phone.seesNo('Must go back in');
  await phone.press('Stiffener');
  await phone.press('Crushed');
  await phone.press('Mend');
  await phone.press('No charge: needed');
  await phone.sees('Stiffener Crushed: mended, no charge, needed');
  await phone.press('Undo');
  await phone.seesNo('Stiffener Crushed');

  // A full sole asks for the heels, as at the counter.
  await phone.press('Outsole');
  await phone.press('Cracked');
  await phone.press('Replace');
  await phone.press('No charge: needed');
  await phone.sees('Heels too?');
  await phone.press('Add Heels');
  await phone.seesNo('Heels too?');
});
