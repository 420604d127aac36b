/**
 * The page that `make contract` builds: it runs the suite that its address names and writes the results, one per line.
 */
import { ROOT } from './paths.ts';
import type { Phone } from './phone.ts';

/** The folder with the page. */
export const CONTRACT = `${ROOT}target/e2e/contract/`;

export interface Verdict {
  /** The name of the case. */
  case: string;
  /** What failed; empty if nothing did. */
  wrong: string;
}

/** Waits until the suite has ended, and returns its results. */
export async function told(phone: Phone): Promise<Verdict[]> {
  const lines = await phone.until('the suite is through', () => {
    const told = [...document.querySelectorAll('pre')].map((line) => line.textContent ?? '');
    return told.some((line) => line.includes('"case":"done"')) && told;
  });
  return (lines as string[]).map((line) => JSON.parse(line) as Verdict).filter((verdict) => verdict.case !== 'done');
}
