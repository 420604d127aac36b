/** Amounts of money as the app names them, on the screen and on paper. */
import { ChromiumPhone } from './chromium.ts';
import { printed } from './paper.ts';
import type { Phone } from './phone.ts';

/** The amount that an element of this selector names after these words, as it is written there: `45.50`. */
export function amountAfter(phone: Phone, selector: string, words: string): Promise<string> {
  return phone.until(`an amount after “${words}” in ${selector}`, (selector, words) => {
    for (const element of document.querySelectorAll(selector)) {
      const text = element.textContent.replace(/\s+/g, ' ');
      const at = text.indexOf(words);
      const amount = at < 0 ? null : /^\s*[€£$]?(\d+\.\d\d)/.exec(text.slice(at + words.length));
      if (amount) return amount[1];
    }
    return undefined;
  }, selector, words);
}

/** The amount on the button for paying that names these pairs: `this pair`, `all 2 pairs`. */
export function amountToPay(phone: Phone, pairs: string): Promise<string> {
  return phone.until(`a button to pay for ${pairs}`, (pairs) => {
    const texts = [...document.querySelectorAll('[aria-label=Money] button')].map((button) => button.textContent);
    const amounts = texts.map((text) => /^Paid now: [€£$]?(\d+\.\d\d), for (.*)$/.exec(text));
    return amounts.find((found) => found?.[2] === pairs)?.[1];
  }, pairs);
}

/** The text of the stub and tags that are shown, as Chromium prints them. WebKit cannot be made to print. */
export async function stubOnPaper(phone: Phone): Promise<string> {
  await phone.finds('.stub .figures');
  if (phone instanceof ChromiumPhone) return (await printed(phone)).text;
  return phone.run(() => document.querySelector<HTMLElement>('.sheet')!.innerText);
}
