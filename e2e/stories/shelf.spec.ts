/**
 * The shelf: a material is added and counted, steps take from it, what runs low is ordered, and what has come lets the pair
 * that waits for it go on. Two phones that count without a network come to the same.
 */
import { expect, test, type Phone } from '../helpers/test.ts';
import { joined, shoot, synced, takeIn, unfoldSteps } from '../helpers/work.ts';
import { Writer, joinedWriter } from '../helpers/writer.ts';

async function toShelf(phone: Phone): Promise<void> {
  await phone.press('Shop', 'link');
  await phone.press('Shelf', 'link');
  await phone.finds('[data-ready=shelf]');
}

async function toWork(phone: Phone, tag: string): Promise<void> {
  await phone.press('Bench', 'link');
  await phone.press(new RegExp(`^${tag}\\b`), 'link');
  await phone.finds('[data-ready=work]');
}

/** Unfolds what stands under these words. */
async function unfold(phone: Phone, words: string): Promise<void> {
  await phone.until(`"${words}" is unfolded`, (begins) => {
    const summary = [...document.querySelectorAll('summary')].find((one) => one.textContent?.trim().startsWith(begins));
    const details = summary?.closest('details');
    if (details) details.open = true;
    return details !== null && details !== undefined;
  }, words);
}

/** Puts a material on the shelf whose unit is a sheet. */
async function add(phone: Phone, name: string, there: string, least: string): Promise<void> {
  await unfold(phone, 'Add a material');
  await phone.fill('Name', name);
  await phone.fill('Counted in', 'sheet');
  await phone.fill('There now', there);
  await phone.fill('The least that should be there', least);
  await phone.fill('One costs, without tax', '24');
  await phone.press('Put it on the shelf');
  await phone.sees(`${name} is on the shelf.`);
  await phone.sees(`${there} sheet there`);
}

async function count(phone: Phone, name: string, seen: string): Promise<void> {
  await unfold(phone, name);
  await phone.fill(`${name}: there now, in sheet`, seen);
  await phone.press(`${name}: that is there`);
  await phone.sees(`${name} counted: ${seen} sheet.`);
}

/** In the page: keeps what is handed to the share sheet, which browsers of the tests do not have. */
function keepWhatIsShared(): void {
  const define = (name: string, value: unknown): void => {
    Object.defineProperty(navigator, name, { value, configurable: true });
  };
  define('canShare', () => true);
  define('share', async ({ files, text }: ShareData) => {
    Object.assign(window, { shared: files?.[0] ? await files[0].text() : text });
  });
}

/** Presses a button that passes something on; returns what was passed on. */
async function shared(phone: Phone, button: string): Promise<string> {
  await phone.run(() => Object.assign(window, { shared: undefined }) && undefined);
  await phone.press(button);
  return phone.until('something is passed on', () => (window as unknown as { shared?: string }).shared);
}

test('what a step takes is missing on the shelf, is ordered, and lets the waiting pair go on when it comes', async ({ waxend, newPhone }) => {
  test.slow();
  const phone = await newPhone();
  await joined(phone, await waxend());
  await synced(phone);
  await toShelf(phone);
  await add(phone, 'Rubber sheet', '2', '2');

  for (const look of ['walking boot', 'court shoe']) {
    await takeIn(phone, { work: 'Half soles', price: '65', look });
    await shoot(phone, 1);
  }
  await toWork(phone, 'A1');
  await phone.press('Half soles: done');
  await phone.sees('Half soles noted.');
  await unfoldSteps(phone);
  await unfold(phone, 'Another material');
  await phone.press('Rubber sheet, 1 sheet');
  await phone.sees('Rubber sheet: 1 sheet taken.');
  await unfold(phone, 'Another amount');
  await phone.press('Half soles: 1 sheet as usual from now on');
  await phone.sees('Half soles takes Rubber sheet as usual.');

  // The material of the next operation is offered before the usual words.
  await toWork(phone, 'A2');
  await unfold(phone, 'Start a wait');
  await phone.press('Rubber sheet');
  await phone.sees('Waiting.');
  await phone.press('Bench', 'link');
  await phone.sees('Waiting for material');

  await phone.press('Shop', 'link');
  await phone.sees('1 material is below its least.');
  await toShelf(phone);
  await phone.sees('1 sheet there');
  await phone.sees('below its least');
  await phone.sees('A2 waits for it');
  await phone.run(keepWhatIsShared);
  const file = await shared(phone, 'As a file (CSV)');
  expect(file.split('\r\n')).toEqual([
    'Supplier,Material,Kind,Size,Thickness,Colour,Amount,Unit,One costs,Currency',
    ',Rubber sheet,,,,,1,sheet,24.00,',
    '',
  ]);
  expect(await shared(phone, 'Send as text')).toContain('\n- 1 sheet: Rubber sheet\n');
  await phone.press('All of it is ordered');
  await phone.sees('Nothing is below its least and not on order.');
  await phone.sees('1 sheet on order');

  await phone.fill('Rubber sheet: has come, in sheet', '2');
  await phone.press('Rubber sheet has come');
  await phone.sees('Rubber sheet has come: A2 goes on.');
  await phone.sees('3 sheet there');
  await phone.press('Bench', 'link');
  await phone.finds('[data-ready=bench]');
  await phone.seesNo('Waiting for material');

  // A step that says nothing takes the usual amount.
  await toWork(phone, 'A2');
  await phone.press('Half soles: done');
  await phone.sees('Half soles noted.');
  await toShelf(phone);
  await phone.sees('2 sheet there');
});

test('two phones that count without a network are told of it, and agree when it is counted again', async ({ waxend, newPhone }) => {
  test.slow();
  const server = await waxend();
  const one = await newPhone();
  await joined(one, server);
  await synced(one);
  await toShelf(one);
  await add(one, 'Rubber sheet', '10', '2');
  await synced(one);
  const other = await newPhone();
  await joined(other, server);
  await synced(other);
  await toShelf(other);
  await other.sees('10 sheet there');

  await server.stop();
  for (const phone of [one, other]) {
    await toShelf(phone);
    await count(phone, 'Rubber sheet', '7');
    await phone.sees('7 sheet there');
  }
  await server.start();
  for (const phone of [one, other, one]) await synced(phone);
  for (const phone of [one, other]) {
    await toShelf(phone);
    await phone.sees('7 sheet there');
    await unfold(phone, 'Rubber sheet');
    await phone.sees('Two devices counted this without knowing of each other.');
  }

  await count(one, 'Rubber sheet', '7');
  await one.seesNo('Two devices counted this');
  for (const phone of [one, other]) await synced(phone);
  await toShelf(other);
  await unfold(other, 'Rubber sheet');
  await other.finds('[aria-label="Rubber sheet: that is there"]');
  await other.sees('7 sheet there');
  await other.seesNo('Two devices counted this');
});

test('the materials of the older list are put on the shelf once, and the list goes with its last line', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const { push, shop } = await joinedWriter(server);
  const line = { material: 'rubber sheet', unit: 'sheet', cost_minor: 2400, quantity: 0.125, waste: 0.2 };
  const writer = new Writer(Date.now(), 1);
  await push([writer.entry('shop', shop, 'detail', { field: 'stock/half_sole', value: [line] })]);
  const phone = await newPhone();
  await joined(phone, server);
  await synced(phone);
  await toShelf(phone);
  await phone.press('Put 1 material of the older list on the shelf');
  await phone.sees('1 material is on the shelf. Count it.');
  await phone.sees('not counted yet');
  expect(await phone.has('Put 1 material of the older list on the shelf', 'button'), 'it is there already').toBe(false);
  await unfold(phone, 'Older list');
  await phone.sees('Half soles: rubber sheet');
  await phone.press('Without rubber sheet');
  await phone.seesNo('Older list');
});
