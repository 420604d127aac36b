/** Tabs that are killed while they save: nothing that the screen showed as saved is lost. */
import { chromiumTest as test, expect } from '../helpers/test.ts';
import type { ChromiumPhone } from '../helpers/chromium.ts';
import { openLife, takeIn } from '../helpers/work.ts';

/** How often the tab is killed. */
const KILLS = Number(process.env['WAXEND_KILLS'] ?? 5);

/** Photographs begun and notes written before each kill. */
const SHOTS = 3;

/** In the page: waits so many frames, then reads how many photographs are shown as saved, and whether the note is. */
async function calledSaved(frames: number): Promise<{ photographs: number; note: boolean }> {
  for (let frame = 0; frame < frames; frame += 1) await new Promise((resolve) => requestAnimationFrame(resolve));
  return {
    photographs: Number(document.querySelector('[data-count=saved]')?.textContent ?? 0),
    note: document.body.innerText.includes('Note saved.'),
  };
}

/** In the page: reads what the device's store contains. */
async function stored(): Promise<{ photographs: number; notes: string[]; without: string[] }> {
  const opening = indexedDB.open('waxend');
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    opening.onsuccess = () => resolve(opening.result);
    opening.onerror = () => reject(opening.error);
  });
  const ask = <T>(request: IDBRequest<T>): Promise<T> =>
    new Promise((resolve, reject) => {
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
  const rows = await ask(database.transaction('tail').objectStore('tail').getAll()) as { t: string }[];
  const bytes = new Set<string>();
  for (const table of ['blobs', 'thumbs']) {
    (await ask(database.transaction(table).objectStore(table).getAllKeys())).forEach((key) => bytes.add(String(key)));
  }
  database.close();
  const entries = rows.map(({ t }) => t);
  const photographs = entries.filter((entry) => entry.includes('"kind":"photo"'));
  const named = photographs.flatMap((entry) => entry.match(/[0-9a-f]{64}/g) ?? []);
  return {
    photographs: photographs.length,
    notes: entries.filter((entry) => entry.includes('"kind":"note"')),
    without: named.filter((hash) => !bytes.has(hash)),
  };
}

/**
 * Opens the pair's camera and kills the tab while photographs are being saved. Returns how many were shown as saved.
 */
async function killedAtTheCamera(phone: ChromiumPhone, frames: number): Promise<number> {
  await phone.press('Photograph 1', 'link');
  await phone.finds('.shutter:not([disabled])');
  for (let shot = 0; shot < SHOTS; shot += 1) await phone.press(/^Photograph /);
  const { photographs } = await phone.run(calledSaved, frames);
  await phone.killTab();
  return photographs;
}

/** Writes a note and kills the tab while it is being saved. Returns whether it was shown as saved. */
async function killedAtTheNote(phone: ChromiumPhone, text: string, frames: number): Promise<boolean> {
  await phone.press(/^1 /, 'link');
  await phone.press('Note');
  await phone.fill('A word about it', text);
  await phone.press('Save the note');
  const { note } = await phone.run(calledSaved, frames);
  await phone.killTab();
  return note;
}

test(`the tab is killed ${KILLS} times in the middle of saving`, async ({ site, newPhone }) => {
  test.setTimeout(120_000 + KILLS * 15_000);
  const { url } = await site();
  const phone = await newPhone();
  await phone.open(url);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot' });
  let photographs = 0;
  const notes: string[] = [];
  let begun = 0;
  for (let kill = 0; kill < KILLS; kill += 1) {
    await phone.open(url);
    await phone.finds('[data-ready=bench] .bench-row');
    // Each kill comes a little later: before, during and after the write.
    if (kill % 5 === 4) {
      const text = `note ${kill}`;
      if (await killedAtTheNote(phone, text, kill % 3)) notes.push(text);
    } else {
      begun += SHOTS;
      photographs += await killedAtTheCamera(phone, kill % 7);
    }
    await phone.open(url);
    const here = await phone.run(stored);
    expect(here.photographs, `photographs after kill ${kill + 1}`).toBeGreaterThanOrEqual(photographs);
    // A photograph's entry and its bytes are stored together or not at all.
    expect(here.without, `photographs without bytes after kill ${kill + 1}`).toEqual([]);
    for (const note of notes) expect(here.notes.some((entry) => entry.includes(note)), note).toBe(true);
  }
  const last = await phone.run(stored);
  await openLife(phone, '1');
  await phone.until('all of them are on the page', (count) => document.querySelectorAll('.photograph').length === count, last.photographs);
  console.log(`${KILLS} kills: ${begun} photographs begun, ${photographs} called saved, ${last.photographs} there; ${notes.length} notes called saved, ${last.notes.length} there`);
});
