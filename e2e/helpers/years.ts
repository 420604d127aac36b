/** Years that pass in a moment. */
import type { Phone } from './phone.ts';

/** One day, in ms. */
const DAY = 86_400_000;

/**
 * Until the page is loaded anew, the phone's clock is so far ahead, in ms; behind, if negative; 0 puts it right. What is
 * written meanwhile was written then.
 */
async function clockAhead(phone: Phone, ms: number): Promise<void> {
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

/** A phone whose clock stands on the next Monday at nine, and goes on as a story tells it: what is planned depends on the hour. */
export class Monday {
  #ahead = 0;

  constructor(readonly phone: Phone) {}

  /** From now until the page is loaded anew. */
  async begin(): Promise<void> {
    this.#ahead = await this.phone.run(() => {
      const monday = new Date();
      monday.setDate(monday.getDate() + ((8 - monday.getDay()) % 7 || 7));
      monday.setHours(9, 0, 0, 0);
      return monday.getTime() - Date.now();
    });
    await clockAhead(this.phone, this.#ahead);
  }

  /** So many minutes pass. */
  async later(minutes: number): Promise<void> {
    this.#ahead += minutes * 60_000;
    await clockAhead(this.phone, this.#ahead);
  }

  /** The day so many days on, `YYYY-MM-DD`. */
  day(days: number): Promise<string> {
    return this.phone.run((days: number) => {
      const day = new Date();
      day.setDate(day.getDate() + days);
      return [day.getFullYear(), day.getMonth() + 1, day.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
    }, days);
  }
}
