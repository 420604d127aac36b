/**
 * Debian's WebKit crashes by itself on about one story in several hundred ("WebProcess CRASHED"), which says nothing about
 * the app. Only such a story is run a second time, and the run's last lines call it flaky.
 */
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

import type { TestInfo } from '@playwright/test';

/** What {@link WebKitPhone} says when the page's own process has ended. */
export const CRASHED = 'session deleted because of page crash';

/** The note that a test's browser has crashed. It is read by another process: a failed test ends its own. */
function note(info: TestInfo): string {
  return join(info.project.outputDir, 'crashed', info.testId);
}

/** Refuses a second try unless the first one ended because the browser crashed. */
export function unlessCrashed(info: TestInfo): void {
  if (info.retry > 0 && !existsSync(note(info))) throw new Error('not run again: the browser had not crashed');
}

/** Notes after a test whether its browser crashed. */
export function noteCrash(info: TestInfo): void {
  if (!info.errors.some((error) => error.message?.includes(CRASHED))) return;
  mkdirSync(join(info.project.outputDir, 'crashed'), { recursive: true });
  writeFileSync(note(info), '');
}
