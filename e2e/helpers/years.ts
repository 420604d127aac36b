/** Years that pass in a moment. */
import type { Phone } from './phone.ts';

/** One day, in ms. */
export const DAY = 86_400_000;

/**
 * Until the page is loaded anew, the phone's clock is so far ahead, in ms; behind, if negative; 0 puts it right. What is
 * written meanwhile was written then.
 */
export async function clockAhead(phone: Phone, ms: number): Promise<void> {
  await phone.run((ms) => {
    const page = window as unknown as { RealDate?: DateConstructor };
    const real = (page.RealDate ??= Date);
    const now = (): number => real.now() + ms;
    globalThis.Date = new Proxy(real, {
      construct: (date, said: [number]) => (said.length > 0 ? new date(...said) : new date(now())),
      get: (date, name) => (name === 'now' ? now : Reflect.get(date, name) as unknown),
    });
  }, ms);
}

/** The same with a clock that is so many days behind. */
export async function daysAgo(phone: Phone, days: number): Promise<void> {
  await clockAhead(phone, -days * DAY);
}
