/** The time that the platform alone takes to store records: a loop over JSON into IndexedDB, in one transaction. */

/**
 * In the page: writes `count` records of about 400 characters, parsed from JSON as a response would be. Returns the ms.
 */
export async function storeRecords(count: number): Promise<number> {
  const made = Array.from({ length: count }, (_, index) => ({
    id: crypto.randomUUID(),
    subject: { kind: 'job', id: crypto.randomUUID() },
    stamp: { ms: 1_700_000_000_000 + index, counter: 0 },
    body: JSON.stringify({ operation: 'top piece replacement', side: 'both', note: 'x'.repeat(200) }),
  }));
  const answer = JSON.stringify(made);
  const opening = indexedDB.open(`bare-${crypto.randomUUID()}`, 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore('records', { keyPath: 'id' });
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    opening.onsuccess = () => resolve(opening.result);
    opening.onerror = () => reject(opening.error);
  });
  const from = performance.now();
  const change = database.transaction('records', 'readwrite');
  const table = change.objectStore('records');
  for (const record of JSON.parse(answer) as unknown[]) table.put(record);
  await new Promise((resolve, reject) => {
    change.oncomplete = resolve;
    change.onabort = () => reject(change.error);
  });
  const took = performance.now() - from;
  database.close();
  indexedDB.deleteDatabase(database.name);
  return took;
}
