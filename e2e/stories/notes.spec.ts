/**
 * What is written about a pair stands where it belongs and is found again; the customer reads it only if it is ticked. Old
 * parts that are kept, what is not quite a match, and why earlier work did not hold.
 */
import { expect, test, type Phone } from '../helpers/test.ts';
import { checked, joined, noteStep, openLife, shoot, synced, takeIn, unfoldRarer, unfoldSteps } from '../helpers/work.ts';

const SAID = { work: 'Half soles', price: '65', look: 'welted derby', colour: 'oxblood', name: 'Ottoline Brack' };
const ON_STEP = 'Roughed twice, a thin skin was left';
const ON_FINDING = 'Rivet gone since the last repair';

/** Unfolds what has this text or accessible name. */
async function unfold(phone: Phone, name: string): Promise<void> {
  await phone.until(`“${name}” is unfolded`, (name) => {
    const named = (one: Element): boolean => (one.getAttribute('aria-label') ?? one.textContent) === name;
    const found = [...document.querySelectorAll('summary')].find(named);
    const details = found?.closest('details');
    if (details && !details.open) found?.click();
    return details?.open;
  }, name);
}

/** Keeps a note on a step or a finding. */
async function remark(phone: Phone, on: string, text: string): Promise<void> {
  await unfold(phone, `Add a note on ${on}`);
  await phone.fill(`Note on ${on}`, text);
  await phone.press(`Save the note on ${on}`);
  await phone.sees(text);
}

/** Takes a pair in and notes its half soles; then opens its work. */
async function atWork(phone: Phone): Promise<void> {
  await takeIn(phone, SAID);
  await shoot(phone, 1);
  await phone.press('Done, to the Bench', 'link');
  await phone.press('Photograph A1', 'link');
  await noteStep(phone, 'Half soles');
  await toWork(phone);
}

async function toWork(phone: Phone, tag = 'A1'): Promise<void> {
  await phone.press('Bench', 'link');
  await phone.press(new RegExp(`^${tag}`), 'link');
  await phone.finds('[data-ready=work]');
}

async function toCard(phone: Phone): Promise<void> {
  await toWork(phone);
  await phone.press('Collection', 'link');
  await phone.finds('.preview .care-card');
}

/** Waits until the preview of the card says this, or no longer says it. */
async function preview(phone: Phone, text: string, says: boolean): Promise<void> {
  await phone.until(`the card says “${text}”: ${says}`, (text, says) =>
    document.querySelector('.preview')?.textContent?.replace(/\s+/g, ' ').includes(text) === says, text, says);
}

test('notes on a step and a finding are found again, and only what is ticked is on the card', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await atWork(phone);
  await unfoldSteps(phone);
  await remark(phone, 'Half soles', ON_STEP);
  await phone.press('Opening up', 'link');
  await phone.press('Shank');
  await phone.press('Loose');
  await phone.press(/^Keep/);
  await phone.sees('Must go back in');
  await unfold(phone, 'Add a note on Shank: loose');
  await phone.fill('Note on Shank: loose', ON_FINDING);
  // A save draws anew what it changes, and neither folds the form nor takes what is written in it.
  await phone.run(() => document.querySelector('details.note[open]')?.setAttribute('data-same', 'yes'));
  await phone.press('Is back in');
  await phone.seesNo('Must go back in');
  const written = (): Promise<string | undefined> =>
    phone.run(() => document.querySelector<HTMLInputElement>('details.note[open][data-same] input')?.value);
  expect(await written(), 'the form is open, with its text').toBe(ON_FINDING);
  await phone.press('Save the note on Shank: loose');
  await phone.until('the note is kept', () => document.querySelector('.notes')?.textContent?.includes('Rivet gone'));

  await phone.press('Records', 'link');
  await phone.fill('Number, name, last digits, maker, colour, note', 'rivet gone');
  await phone.until('the pair is found by its note', () => document.querySelectorAll('[aria-label=Found] > li').length === 1);
  await openLife(phone, 'A1');
  const below = (list: string): Promise<string | undefined> =>
    phone.run((list) => document.querySelector(`[aria-label="${list}"] > li .notes`)?.textContent ?? undefined, list);
  expect(await below('Work'), 'under the step').toContain(ON_STEP);
  expect(await below('What was seen'), 'under the finding').toContain(ON_FINDING);

  await toCard(phone);
  expect(await phone.count('[aria-label="Notes for the card"] input'), 'both can be ticked').toBe(2);
  expect(await phone.count('[aria-label="Notes for the card"] :checked'), 'and none is').toBe(0);
  await preview(phone, ON_STEP, false);
  await phone.press(ON_STEP, 'checkbox');
  await preview(phone, ON_STEP, true);
  await phone.press('Publish the card');
  await phone.sees('The card is published.');
  await synced(phone);
  await toCard(phone);
  const card = await phone.until('the card has an address', () => document.querySelector<HTMLAnchorElement>('.address a[href]')?.href);
  const reader = await newPhone({ script: 'off' });
  await reader.open(card);
  await reader.sees('Good to know');
  await reader.sees(ON_STEP);
  await reader.seesNo(ON_FINDING);
});

test('a finding without a name is named later, and what was said about it stays', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await atWork(phone);
  await phone.press('Opening up', 'link');
  await unfold(phone, 'A part that is not in the list');
  await phone.fill('What you call it', 'metal strip');
  await phone.press('Take this part');
  await unfold(phone, 'Something else');
  await phone.fill('What is wrong, in your words', 'snapped');
  await phone.press('Take these words');
  await phone.press(/^Leave/);
  await remark(phone, 'metal strip: snapped', ON_FINDING);
  await unfold(phone, 'Name it: metal strip: snapped');
  await phone.choose('Part', 'Shank');
  await phone.choose('What is wrong', 'Broken');
  await phone.press('Save the name');
  await phone.sees('Shank Broken: left as it is');
  await phone.seesNo('metal strip');
  await phone.finds('[aria-label="Notes on Shank: broken"]');
});

test('a part for the customer goes with the pair, and one that is used again goes back in first', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await atWork(phone);
  await unfoldRarer(phone);
  await unfold(phone, 'Take off and keep');
  await phone.choose('Which part', 'Heel base or block');
  await phone.press('It is for the customer');
  await phone.sees('For the customer: Heel base or block');
  await phone.choose('Which part', 'Insole');
  await phone.press('It goes back in');
  await phone.sees('Must go back in: Insole');

  await toCard(phone);
  await phone.sees('Not back in: Insole (both).');
  await phone.sees('Old parts for the customer: Heel base or block (both).');
  await preview(phone, 'Your old heels are with the pair.', true);
  expect(await phone.has('Old parts for the customer with it', 'checkbox')).toBe(true);
  await phone.press('Hand over');
  await phone.sees('Not back in: Insole');
  await toWork(phone);
  await phone.press('Insole is back');
  await phone.seesNo('Must go back in: Insole');
  await toCard(phone);
  await checked(phone);
  await phone.press('Hand over');
  await phone.sees('Handed over.');
});

test('laces that are not quite the colour are said, photographed and on the card', async ({ waxend, newPhone }) => {
  const laces = 'The laces are not quite the colour of the old ones. Colour difference, as measured: 2.3.';
  const phone = await newPhone();
  await joined(phone, await waxend());
  await atWork(phone);
  await unfoldRarer(phone);
  await unfold(phone, 'Not quite a match');
  await phone.fill('Colour difference, if it was measured', 'a lot');
  await phone.press('Save');
  await phone.sees('The difference is a number from 0 to 100, or nothing.');
  await phone.fill('Colour difference, if it was measured', '2,3');
  await phone.press('Save');
  await phone.sees(laces);
  await phone.press('Photograph it', 'link');
  await shoot(phone, 1);
  await phone.press('Back to the work', 'link');
  await phone.until('its photograph is there', () =>
    document.querySelectorAll('[aria-label="Not quite a match"] .photograph img').length === 1);

  await toCard(phone);
  await preview(phone, laces, true);
  await phone.press(laces, 'checkbox');
  await preview(phone, laces, false);
});

test('why it did not hold can wait for the bench, and then counts', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await atWork(phone);
  await toCard(phone);
  await checked(phone);
  await phone.press('Hand over');
  await phone.sees('Handed over.');
  await phone.press('Complaint', 'link');
  await phone.press('Take it in again');
  await phone.finds('.camera');
  await shoot(phone, 1);

  await toWork(phone, 'A2');
  const chosen = (): Promise<string> =>
    phone.run(() => document.querySelector('[aria-label="Why did it not hold?"] [aria-pressed=true]')?.textContent ?? '');
  expect(await chosen(), 'no cause yet').toBe('');
  await phone.press('A seam opened');
  await phone.sees('Cause: A seam opened.');
  await phone.press('The cement let go');
  await phone.sees('Cause: The cement let go.');
  expect(await chosen()).toBe('The cement let go');

  await phone.press('Shop', 'link');
  await unfold(phone, 'Work done again');
  await phone.finds('[data-ready=redone]');
  await phone.sees('Half soles 1 of 1: too few to tell');
});
