/** Sets the page's clock, so that days and years pass at once. */
import type { Phone } from './phone.ts';

/** One day, in ms. */
const DAY = 86_400_000;

/**
 * Sets the page's clock ahead by so many ms, or back if negative, until the page is loaded again; 0 sets it right. What
 * is recorded meanwhile has that time.
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

/** Sets the page's clock back by so many days. */
export async function daysAgo(phone: Phone, days: number): Promise<void> {
  await clockAhead(phone, -days * DAY);
}

/**
 * A phone whose clock begins on the next Monday at nine and is moved by the story, because what is planned depends on
 * the hour.
 */
export class Monday {
  #ahead = 0;

  constructor(readonly phone: Phone) {}

  /** Sets the clock, until the page is loaded again. */
  async begin(): Promise<void> {
    this.#ahead = await this.phone.run(() => {
      const monday = new Date();
      monday.setDate(monday.getDate() + ((8 - monday.getDay()) % 7 || 7));
      monday.setHours(9, 0, 0, 0);
      return monday.getTime() - Date.now();
    });
    await clockAhead(this.phone, this.#ahead);
  }

  /** Moves the clock ahead by so many minutes. */
  async later(minutes: number): Promise<void> {
    this.#ahead += minutes * 60_000;
    await clockAhead(this.phone, this.#ahead);
  }

  /** The date so many days after the page's today, `YYYY-MM-DD`. */
  day(days: number): Promise<string> {
    return this.phone.run((days: number) => {
      const day = new Date();
      day.setDate(day.getDate() + days);
      return [day.getFullYear(), day.getMonth() + 1, day.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
    }, days);
  }
}
