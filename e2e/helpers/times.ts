/** Notes how long each test took, for `tests/stages` to tell the slowest at the end of a run; nothing outside of one. */
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
