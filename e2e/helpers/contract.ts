/** The page that `make contract` builds: it runs what its address asks for and writes what it found, line by line. */
import { ROOT } from './paths.ts';
import type { Phone } from './phone.ts';

/** Its folder. */
export const CONTRACT = `${ROOT}target/e2e/contract/`;

export interface Verdict {
  /** The case. */
  case: string;
  /** What went wrong; empty if nothing did. */
  wrong: string;
}

/** Waits until the page has done everything, and returns what it told. */
export async function told(phone: Phone): Promise<Verdict[]> {
  const lines = await phone.until('the suite is through', () => {
    const told = [...document.querySelectorAll('pre')].map((line) => line.textContent ?? '');
    return told.some((line) => line.includes('"case":"done"')) && told;
  });
  return (lines as string[]).map((line) => JSON.parse(line) as Verdict).filter((verdict) => verdict.case !== 'done');
}
