/** Years that pass in a moment. */
import type { Phone } from './phone.ts';

/**
 * Until the page is loaded anew, the phone's clock is so many days behind; 0 puts it right. What is written meanwhile was
 * written then.
 */
export async function daysAgo(phone: Phone, days: number): Promise<void> {
  await phone.run((days) => {
    const page = window as unknown as { RealDate?: DateConstructor };
    const real = (page.RealDate ??= Date);
    const now = (): number => real.now() - days * 86_400_000;
    globalThis.Date = new Proxy(real, {
      construct: (date, said: [number]) => (said.length > 0 ? new date(...said) : new date(now())),
      get: (date, name) => (name === 'now' ? now : Reflect.get(date, name) as unknown),
    });
  }, days);
}
