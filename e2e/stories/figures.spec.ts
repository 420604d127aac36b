/**
 * Analytics run in a worker: the same question has the same answer there as natively (`shared/src/analytics/tests.rs`).
 */
import { readFileSync } from 'node:fs';

import { expect, test } from '../helpers/test.ts';

const read = (name: string): string => readFileSync(new URL(`../fixtures/figures/${name}`, import.meta.url), 'utf8');

/** In the page: asks the worker. */
async function ask(name: string, text: string): Promise<string> {
  const address = document.querySelector<HTMLMetaElement>('meta[name=analytics]')!.content;
  const worker = new Worker(address, { type: 'module' });
  const { port1, port2 } = new MessageChannel();
  const told = new Promise<[string | null, string?]>((resolve) => (port1.onmessage = ({ data }) => resolve(data as [string | null, string?])));
  worker.postMessage([name, text], [port2]);
  const [answer, refused] = await told;
  worker.terminate();
  return answer ?? `refused: ${refused}`;
}

test('a question has the same answer in the browser as natively, and one that is none is refused in words', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await phone.finds('[data-ready=bench]');
  for (const name of ['truth', 'run', 'days']) {
    const told = await phone.run(ask, name, read(`${name}.txt`));
    expect(JSON.parse(told), name).toEqual(JSON.parse(read(`${name}.json`)));
  }
  expect(await phone.run(ask, 'weather', '{}')).toContain('there is no question called weather');
  expect(await phone.run(ask, 'truth', 'no question')).toContain('refused: ');
});
