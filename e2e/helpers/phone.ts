/**
 * A phone that a test uses, whatever its browser. Two browsers implement all of it: `chromium.ts` and `webkit.ts`; a
 * third one, `firefox.ts`, implements as much as the main job needs. Names are accessible names, as a user or a screen
 * reader finds them; a string has to match the whole name.
 */

export type Engine = 'chromium' | 'webkit';

/** The accessible name of an element: a string that matches all of it, or a pattern. */
export type Name = string | RegExp;

/** The roles of elements that can be pressed. */
export type Role = 'button' | 'link' | 'checkbox' | 'radio' | 'tab' | 'option' | 'switch' | 'menuitem';

export interface Screen {
  width: number;
  height: number;
}

/** The screen of a phone held upright, for which the app is made. */
export const UPRIGHT: Screen = { width: 390, height: 844 };
/** The screen of a computer at the counter. */
export const DESK: Screen = { width: 1280, height: 800 };

export type Theme = 'light' | 'dark';

/** The properties of a new phone. */
export interface Habits {
  screen?: Screen;
  /** `denied`: the user has denied access to the camera. Chromium only. */
  camera?: 'moving' | 'denied';
  /** `off`: the page's own scripts do not run. A care card has to work without. */
  script?: 'on' | 'off';
}

/** A value that can be passed to the page and back. */
export type Plain = string | number | boolean | null | undefined | Plain[] | { [key: string]: Plain };

/** What the main job needs of a phone: joining, taking a pair in, photographing it, and finding all of it again. */
export interface PlainPhone {
  /** Goes to an address and waits for the page to load. */
  open(url: string): Promise<void>;
  /** Loads the page again. */
  reload(): Promise<void>;

  /** Presses the element with this name; a `button` by default. Waits until it exists. */
  press(name: Name, role?: Role): Promise<void>;
  /** Writes into the field with this label, replacing its content. */
  fill(label: Name, text: string): Promise<void>;

  /** Waits until the text is shown on the page. Runs of white space count as one space. */
  sees(text: string): Promise<void>;
  /** Waits until an element matches the selector. */
  finds(selector: string): Promise<void>;

  /** Runs a function in the page and returns its result. The function can use only its own arguments. */
  run<A extends Plain[], R>(work: (...args: A) => R | Promise<R>, ...args: A): Promise<R>;
  /** Waits until a function in the page returns a truthy value, and returns it. */
  until<A extends Plain[], R>(what: string, work: (...args: A) => R | Promise<R>, ...args: A): Promise<NonNullable<R>>;

  /** Closes the phone's browser. */
  close(): Promise<void>;
}

export interface Phone extends PlainPhone {
  readonly engine: Engine;

  /** The address shown. */
  address(): Promise<string>;

  /** Selects an option by its text in the list with this label. */
  choose(label: Name, option: string): Promise<void>;
  /** Selects a file in the file field with this label. */
  attach(label: Name, path: string): Promise<void>;
  /** Presses a key (`Enter`, ` `), as a foot pedal or a remote control does. */
  key(key: string): Promise<void>;

  /** Waits until the text is not shown on the page. */
  seesNo(text: string): Promise<void>;
  /** The number of elements that match the selector now. */
  count(selector: string): Promise<number>;
  /** Whether an element with this name and role exists now. */
  has(name: Name, role: Role): Promise<boolean>;

  /** Takes a screenshot, as PNG bytes. */
  picture(): Promise<Buffer>;
  /** Sets the size of the screen. */
  resize(screen: Screen): Promise<void>;
}
