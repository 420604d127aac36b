/** Counts what a user presses and fills in. */
import type { Phone } from './phone.ts';

/** A phone that counts the things pressed and the fields filled in. */
export interface Counting {
  press: Phone['press'];
  fill: Phone['fill'];
  presses: () => number;
  fields: () => number;
}

export function counting(phone: Phone): Counting {
  let presses = 0;
  let fields = 0;
  return {
    press: async (name, role) => {
      presses += 1;
      await phone.press(name, role);
    },
    fill: async (label, text) => {
      fields += 1;
      await phone.fill(label, text);
    },
    presses: () => presses,
    fields: () => fields,
  };
}
