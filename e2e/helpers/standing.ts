/** Pairs that stand in the shop when a story begins, for stories that are about what comes after the counter. */
import { randomBytes } from 'node:crypto';

import type { Said } from './work.ts';
import type { Waxend } from './waxend.ts';
import { Writer, joinedWriter } from './writer.ts';

/** The log's words for the work that these pairs are here for. */
const OPERATIONS: Record<string, string> = { 'Half soles': 'half_sole', 'Restitch upper seam': 'restitch_upper' };

/**
 * Puts pairs into the shop as another device has taken them in, under the numbers A1, A2 and so on. A phone that joins has
 * them, and begins numbers of its own with another letter.
 */
export async function standing(server: Waxend, pairs: Pick<Said, 'work' | 'price' | 'day' | 'look'>[]): Promise<void> {
  const writer = new Writer(Date.now(), 0);
  const entries = pairs.flatMap(({ work, price, day, look }, at) => {
    const operation = OPERATIONS[work];
    if (operation === undefined) throw new Error(`the log's word for ${work} is not known here`);
    const [ticket, pair, job] = [writer.subject(), writer.subject(), writer.subject()];
    return [
      writer.entry('ticket', ticket, 'opened', {}),
      writer.entry('ticket', ticket, 'detail', { field: 'day', value: day ?? '2027-01-15' }),
      writer.entry('pair', pair, 'opened', {}),
      writer.entry('pair', pair, 'card_link', { secret: randomBytes(16).toString('hex') }),
      writer.entry('pair', pair, 'detail', { field: 'look', value: look ?? 'boot' }),
      writer.entry('job', job, 'opened', { pair, ticket }),
      writer.entry('job', job, 'agreed', { operation, side: 'both', price_minor: Math.round(Number(price) * 100) }),
      writer.entry('job', job, 'detail', { field: 'tag', value: `A${at + 1}` }),
    ];
  });
  const { push } = await joinedWriter(server);
  await push(entries);
}
