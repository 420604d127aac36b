/**
 * Measures the figures and prints the table. A run of all figures also writes it into FIGURES.md. A missed target is
 * reported and does not fail the run.
 */
import { readFileSync, writeFileSync } from 'node:fs';

import { test } from '@playwright/test';

import type { Figure, Measure } from './figure.ts';
import { benchWork } from './figures/bench-work.ts';
import { bigShop } from './figures/big-shop.ts';
import { coldStart } from './figures/cold-start.ts';
import { plan } from './figures/plan.ts';
import { platform } from './figures/platform.ts';
import { server } from './figures/server.ts';
import { size } from './figures/size.ts';
import { intoPaper, table } from './table.ts';

const FIGURES: Figure[] = [size, coldStart, benchWork, bigShop, plan, platform, server];

const PAPER = new URL('FIGURES.md', import.meta.url);
const only = process.env['WAXEND_BENCH'] ?? '';
const measures: Measure[] = [];

for (const figure of FIGURES.filter(({ name }) => name.includes(only))) {
  test(figure.name, async () => {
    const measured = await figure.measure();
    measures.push(...measured);
    console.log(`${table(measured)}\n`);
  });
}

test.afterAll(() => {
  console.log(`\n${table(measures)}\n`);
  if (only === '') writeFileSync(PAPER, intoPaper(readFileSync(PAPER, 'utf8'), table(measures)));
});
