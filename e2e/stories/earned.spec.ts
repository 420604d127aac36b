/**
 * What work earned, what hidden damage was found, and how parts wore: damage repaired at no charge, needed or by
 * choice; the card that says so; the same pair a year later, and what the shop's figures say then.
 */
import { expect, test, type Phone } from '../helpers/test.ts';
import { bringAgain, checked, noteStep, shoot, takeIn, unfoldRarer, unfoldSteps } from '../helpers/work.ts';
import { Monday } from '../helpers/years.ts';

/** A day in minutes. */
const DAY = 24 * 60;

/** A phone whose clock is moved by the story. Its work ends long before midnight, since stamps are grouped by day. */
class Passing extends Monday {
  /** Moves the clock ahead by `minutes`, photographs a step and notes it as done. */
  async step(operation: string, minutes: number): Promise<void> {
    await this.later(minutes);
    await this.phone.choose('Operation', operation);
    await shoot(this.phone, 1);
    await noteStep(this.phone, operation);
  }
}

async function toWork(phone: Phone, tag: string): Promise<void> {
  await phone.press('Bench', 'link');
  await phone.press(new RegExp(`^${tag}\\b`), 'link');
  await phone.finds('[data-ready=work]');
}

/** Notes hidden damage that is repaired at no charge. */
async function found(phone: Phone, part: string, condition: string, pays: string): Promise<void> {
  await phone.press(part);
  await phone.press(condition);
  await phone.press('Replace');
  await phone.press(pays);
}

/** Notes how thick the soles are. */
async function thick(phone: Phone, mm: string, says: string): Promise<void> {
  await unfoldRarer(phone);
  await phone.press('How thick is it still?', 'link');
  await phone.fill('It is thick, mm', mm);
  await phone.press('Both alike');
  await phone.sees(says);
  await phone.press('Save on the pair');
  await phone.sees('Saved on the pair.');
}

/** Does the final check, publishes the card and hands the pair over. */
async function away(phone: Phone, tag: string, card = async (): Promise<void> => undefined): Promise<void> {
  await toWork(phone, tag);
  await phone.press('Collection', 'link');
  await checked(phone);
  await card();
  await phone.press('Publish the card');
  await phone.sees('The card is published.');
  await phone.press(/^Paid now/);
  await phone.sees('Nothing is due.');
  await phone.press('Hand over');
  await phone.sees('Handed over.');
}

async function target(phone: Phone): Promise<void> {
  await phone.press('Shop', 'link');
  await phone.fill('Currency, three letters', 'XQX');
  await phone.press('Save money');
  await phone.sees('“XQX” is not a currency of ISO 4217.');
  await phone.fill('Currency, three letters', 'eur');
  await phone.fill('Hourly target, without tax', '-5');
  await phone.press('Save money');
  await phone.sees('“-5” is not an amount.');
  await phone.fill('Hourly target, without tax', '40');
  await phone.press('Save money');
  await phone.sees('Saved.');
}

async function openTruth(phone: Phone): Promise<void> {
  await phone.press('Shop', 'link');
  await phone.press('What each job earns', 'link');
  await phone.finds('[data-ready=truth]');
}

test('two damages at no charge, a card that says why, and a year later the worn pair and a truer price', async ({ site, newPhone }) => {
  const phone = await newPhone();
  const time = new Passing(phone);
  await phone.open((await site()).url);
  await phone.finds('[data-ready=bench]');
  await time.begin();
  await target(phone);

  await openTruth(phone);
  await phone.sees('No job of this kind is finished yet.');
  await phone.press('Also what rests on norms only');
  await phone.sees('Norms only: no finished job of this yet.');

  await takeIn(phone, { work: 'Half soles', price: '38', look: 'derby', colour: 'oxblood', name: 'Ines Vell' });
  await shoot(phone, 1);
  await toWork(phone, '1');
  await phone.press('Opening up', 'link');
  await found(phone, 'Shank', 'Broken', 'No charge: needed');
  await phone.sees('no charge, needed');
  await found(phone, 'Heel grip', 'Worn through', 'On the house');
  await phone.sees(', on the house');
  await phone.press('Bench', 'link');
  await phone.press('Photograph 1', 'link');
  await time.step('Old sole off', 10);
  await time.step('Shank', 20);
  await time.step('Half soles', 35);
  await time.step('Heel grip lining', 12);

  await toWork(phone, '1');
  // The time between two steps counts for the later one: 35 minutes for the half soles.
  await phone.until('minutes are reckoned', () => /about 3[4-6]\smin/.test(document.querySelector('[aria-label=Done]')?.textContent ?? ''));
  await unfoldSteps(phone);
  await phone.press('Half soles: 40 minutes');
  await phone.sees('40 min');
  await thick(phone, '6', 'Outsole: 4.5 mm may still wear away.');
  await away(phone, '1', async () => {
    await phone.sees('It was needed.');
    await phone.sees('On the house.');
  });

  await openTruth(phone);
  await phone.sees('Rests on 1 job and the norms.');
  await phone.sees('of needed work nobody paid for');
  await phone.sees('On the house: 12 min a job');
  const needed = await phone.until('a price meets the target', () => /meets the target in 4 of 5 jobs: €([\d.]+)/.exec(document.querySelector('.truth')?.textContent ?? '')?.[1]);
  expect(Number(needed)).toBeGreaterThan(38);
  await phone.press(new RegExp(`^Take €${needed} from today on, for Half soles`));
  await phone.sees('from today on.');
  await phone.sees('Its price meets the target in 4 of 5 jobs.');

  await phone.press('Shop', 'link');
  await phone.press('Books', 'link');
  await phone.sees('38.00');
  await phone.press('By construction');
  await phone.sees('Not known');

  // A year of wear passes.
  await time.later(370 * DAY);
  await phone.press('Records', 'link');
  await phone.fill('Number, name, last digits, maker, colour, note', 'oxblood');
  await phone.press(/oxblood derby/, 'link');
  // With only one measurement no day is predicted, and the page says when to measure again.
  await phone.sees('It was measured on one day only: measure again on');
  expect(await phone.run(() => document.querySelector('[aria-label=Forecast]')?.textContent)).not.toContain('between');
  await bringAgain(phone, { work: 'Condition and polish', price: '12' });
  await shoot(phone, 1);
  await toWork(phone, '2');
  await thick(phone, '4,4', 'Outsole: 2.9 mm may still wear away.');
  await phone.press('Bench', 'link');
  await phone.press('Photograph 2', 'link');
  await time.step('Condition and polish', 20);
  await away(phone, '2', async () => {
    await phone.press(/^As it wears: /);
    await phone.sees('Outsole, by 2 measurements of this part');
    await phone.sees(', between ');
  });
  await phone.press('Records', 'link');
  await phone.press(/oxblood derby/, 'link');
  await phone.sees('Next to look at');
  await phone.sees('by 2 measurements of this part');

  // A new drop-off gets the new price.
  await phone.press('Drop-off', 'link');
  await phone.press('Half soles');
  expect(await phone.until('the adopted price stands there', () => document.querySelector<HTMLInputElement>('.lines input[inputmode=decimal]')?.value)).toBe(needed);
  await phone.fill('Price of Half soles', '9');
  await phone.sees('an hour, this price falls short in');
  await phone.fill('Price of Half soles', '200');
  await phone.seesNo('an hour, this price falls short in');

  await openTruth(phone);
  await phone.press('Hidden damage, Half soles', 'link');
  await phone.finds('[data-ready=hidden]');
  await phone.fill('Shank: of ten such pairs, how many?', 'twelve');
  await phone.key('Tab');
  await phone.sees('“twelve” is not a number from 0 to 10.');
  await phone.fill('Shank: of ten such pairs, how many?', '3');
  await phone.key('Tab');
  await phone.sees('Saved.');
});

test('a pair whose check comes near is listed in Records, until it is long past or comes back', async ({ site, newPhone }) => {
  const phone = await newPhone();
  const time = new Passing(phone);
  await phone.open((await site()).url);
  await phone.finds('[data-ready=bench]');
  await time.begin();
  await takeIn(phone, { work: 'Half soles', price: '38', look: 'derby', colour: 'oxblood' });
  await shoot(phone, 1);
  await phone.press('Bench', 'link');
  await phone.press('Photograph 1', 'link');
  await time.step('Half soles', 30);
  await away(phone, '1', () => phone.press('3 months'));
  const listed = async (): Promise<boolean> => {
    await phone.press('Bench', 'link');
    await phone.finds('[data-ready=bench]');
    await phone.press('Records', 'link');
    await phone.finds('.pairs .pair-row');
    return (await phone.count('[data-ready=due]')) > 0;
  };
  expect(await listed(), 'three months are far off').toBe(false);
  await time.later(75 * DAY);
  await phone.press('Bench', 'link');
  await phone.finds('[data-ready=bench]');
  await phone.press('Records', 'link');
  await phone.sees('Due for a check: 1');
  await time.later(120 * DAY);
  expect(await listed(), 'long past').toBe(false);
});
