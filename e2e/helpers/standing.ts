/** Pairs that are in the shop when a story begins, for stories about what comes after the drop-off. */
import { randomBytes } from 'node:crypto';

import type { Said } from './work.ts';
import type { Waxend } from './waxend.ts';
import { Writer, joinedWriter } from './writer.ts';

/** The log's codes for the work on these pairs. */
const OPERATIONS: Record<string, string> = { 'Half soles': 'half_sole', 'Restitch upper seam': 'restitch_upper' };

/**
 * Puts pairs with the tag numbers A1, A2 and so on into the shop, as if another device had taken them in. A phone that
 * joins later receives them, and uses another letter for its own numbers.
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
