/** What a repairer does in the app, as functions for the stories. */
import type { Phone, PlainPhone } from './phone.ts';
import type { Waxend } from './waxend.ts';

/** Joins the shop by a link and waits until the app can start without a network. */
export async function joined(phone: PlainPhone, server: Waxend): Promise<void> {
  await phone.open(await server.joinLink());
  await phone.sees('This device has joined the shop.');
  await phone.finds('[data-ready=bench]');
  await phone.until('the worker holds the page', async () => {
    await navigator.serviceWorker.ready;
    return navigator.serviceWorker.controller !== null;
  });
}

/** What is entered at the drop-off. */
export interface Said {
  work: string;
  price: string;
  day?: string;
  look?: string;
  colour?: string;
  maker?: string;
  name?: string;
  telephone?: string;
  tag?: string;
  /** Whether the customer wants it sooner than the shop would promise. */
  rush?: boolean;
}

/**
 * Leaves the camera, which has no bar of screens, for the screen that it was opened from; mostly that is the Bench. Does
 * nothing on any other screen.
 */
export async function leaveCamera(phone: PlainPhone): Promise<void> {
  const way = await phone.run(() => document.querySelector('.camera .leave')?.getAttribute('aria-label'));
  if (way) await phone.press(way, 'link');
}

/** Takes a pair in. The phone then shows the camera. */
export async function takeIn(phone: PlainPhone, said: Said): Promise<void> {
  await leaveCamera(phone);
  await phone.press('Drop-off', 'link');
  await writeDown(phone, said);
}

/** Takes in again the pair whose history is shown. The phone then shows the camera. */
export async function bringAgain(phone: Phone, said: Said): Promise<void> {
  await phone.press('Take it in again', 'link');
  await phone.sees('Somebody else');
  await writeDown(phone, said);
}

async function writeDown(phone: PlainPhone, said: Said): Promise<void> {
  const asked: [string, string | undefined][] = [
    ["Customer's name", said.name],
    ['Telephone', said.telephone],
    ['What it is', said.look],
    ['Colour', said.colour],
    ['Maker', said.maker],
    ['Own tag number', said.tag],
  ];
  for (const [label, answer] of asked) {
    if (answer !== undefined) await phone.fill(label, answer);
  }
  await phone.press(said.work);
  await phone.fill(`Price of ${said.work}`, said.price);
  if (said.rush) await phone.press('Rush');
  const day = said.day ?? '2027-01-15';
  await setDay(phone, day);
  await phone.press('Take in and photograph');
  // By the page's own clock, which stories can set.
  if (await phone.run((day: string) => new Date(`${day}T23:59:59`) < new Date(), day)) {
    await phone.sees('is past. Tap again to take it in all the same.');
    await phone.press('Take in and photograph');
  }
  await phone.finds('.camera');
}

/** Sets the only date field of the page. Drivers type into date fields in different ways. */
async function setDay(phone: PlainPhone, day: string): Promise<void> {
  await phone.until('the day is set', (value) => {
    const field = document.querySelector<HTMLInputElement>('input[type=date]');
    if (!field) return false;
    field.value = value;
    field.dispatchEvent(new Event('input', { bubbles: true }));
    return field.value === value;
  }, day);
}

/** Takes photographs, each one after the one before is stored on the device. */
export async function shoot(phone: PlainPhone, times: number): Promise<void> {
  const saved = (): Promise<number> => phone.run(() => Number(document.querySelector('[data-count=saved]')?.textContent ?? NaN));
  for (let taken = 0; taken < times; taken += 1) {
    await phone.until('the shutter is ready', () => document.querySelector('.shutter:not([disabled])') !== null);
    const before = await saved();
    await phone.press(/^Photograph /);
    await phone.until('the photograph is saved', (count) => Number(document.querySelector('[data-count=saved]')?.textContent) > count, before);
  }
}

/** Notes an operation as done and waits until that is stored on the device. */
export async function noteStep(phone: Phone, operation: string): Promise<void> {
  await phone.until('the pair is before the lens', () =>
    [...document.querySelectorAll('button')].some((one) => one.textContent === 'Step done' && !one.disabled),
  );
  await phone.press('Step done');
  await phone.sees(`${operation} noted.`);
}

/** Opens the history of a pair that is in the shop, by its number on the Bench. */
export async function openLife(phone: PlainPhone, tag: string): Promise<void> {
  await leaveCamera(phone);
  await phone.press('Bench', 'link');
  await phone.press(new RegExp(`^${tag}\\b`), 'link');
  await phone.press(/History$/, 'link');
  await phone.finds('.photographs');
  await unfoldHistory(phone);
}

/** Unfolds everything on the page of a pair: its visits, its parts, how it wore, and what is rare. */
export async function unfoldHistory(phone: PlainPhone): Promise<void> {
  await phone.until('the visits are unfolded', () => {
    const folds = [...document.querySelectorAll<HTMLDetailsElement>('.pair-page details.unfolds')];
    for (const fold of folds) fold.open = true;
    return folds.length > 0;
  });
}

/** Unfolds what each step of a pair's work took, and its notes. */
export async function unfoldSteps(phone: PlainPhone): Promise<void> {
  await phone.until('the steps are unfolded', () => {
    const steps = document.querySelector<HTMLDetailsElement>('.work [aria-label=Done] > details');
    if (steps) steps.open = true;
    return steps !== null;
  });
}

/** Unfolds what is rarely done on the page of a pair's work. */
export async function unfoldRarer(phone: PlainPhone): Promise<void> {
  await phone.until('the rest is unfolded', () => {
    const rarer = document.querySelector<HTMLDetailsElement>('.work details.rarer');
    if (rarer) rarer.open = true;
    return rarer !== null;
  });
}

/**
 * Unfolds the line of the run on the Bench, so that its times, its reasons and what can be decided about it are seen. It
 * stays unfolded until the page is loaded again.
 */
export async function unfoldRun(phone: Phone): Promise<void> {
  await phone.until('the run is unfolded', () => {
    const run = document.querySelector<HTMLDetailsElement>('.run details');
    if (run && !run.open) run.querySelector('summary')?.click();
    return run?.open;
  });
}

/** Does the final check of the pair that is shown, with every line ticked. */
export async function checked(phone: Phone): Promise<void> {
  await phone.until('there is a list to tick', () => document.querySelector('[aria-label="Final check"] .ticks input'));
  await phone.run(() => {
    document.querySelectorAll<HTMLInputElement>('[aria-label="Final check"] .ticks input:not(:checked)').forEach((box) => box.click());
  });
  await phone.press('Checked');
  // The notice alone is not enough: what is pressed next is drawn together with this element.
  await phone.finds('[aria-label="Final check"] .good');
}

/** Syncs and waits until the server has everything and the device has received everything. */
export async function synced(phone: Phone): Promise<void> {
  await leaveCamera(phone);
  await phone.press('Shop', 'link');
  await phone.press('Sync now');
  await phone.until('nothing waits to be sent', () => {
    const none = (what: string): boolean => document.querySelector(`[data-count=${what}]`)?.textContent === '0';
    return document.querySelector('[data-phase=up-to-date]') !== null && none('unsent') && none('unsent-blobs');
  });
}

/** Opens the list of helpers of an operation, and one of them. */
export async function helper(phone: Phone, title: string): Promise<void> {
  await phone.finds('details.helpers');
  await phone.run(() => document.querySelectorAll('details.helpers').forEach((one) => one.setAttribute('open', '')));
  await phone.press(title, 'link');
  await phone.finds('.answer');
}

/** Taps the photograph for measuring at this share of its width and height, once it is shown. */
export async function tapPhotograph(phone: Phone, x: number, y: number): Promise<void> {
  await phone.until('the photograph is tapped', (x, y) => {
    const image = document.querySelector<HTMLImageElement>('.measured-photo img');
    if (!image?.complete || image.naturalWidth === 0) return false;
    const { left, top, width, height } = image.getBoundingClientRect();
    image.dispatchEvent(new MouseEvent('click', { bubbles: true, clientX: left + x * width, clientY: top + y * height }));
    return true;
  }, x, y);
}
