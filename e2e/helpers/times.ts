/**
 * A reporter that notes how long each test took. `tests/stages` prints the slowest ones at the end of a run; outside of
 * one nothing is noted.
 */
import { appendFileSync } from 'node:fs';
import { basename, join } from 'node:path';

import type { Reporter, TestCase, TestResult } from '@playwright/test/reporter';

export default class Times implements Reporter {
  readonly #notes = process.env['WAXEND_TIMES'];

  printsToStdio(): boolean {
    return false;
  }

  onTestEnd(test: TestCase, { duration }: TestResult): void {
    if (this.#notes === undefined) return;
    const project = test.parent.project()?.name ?? '';
    const file = basename(test.location.file, '.spec.ts');
    appendFileSync(join(this.#notes, 'tests'), `${(duration / 1000).toFixed(1)}\t${project}, ${file}: ${test.title}\n`);
  }
}
