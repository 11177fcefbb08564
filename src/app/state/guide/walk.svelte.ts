import type { Question } from '../session/session.svelte';

/** One stop of the walk round the demo lot, at a question. */
export interface Stop {
  readonly question: Question;
  /** What is seen there, and one thing to try. */
  readonly says: string;
  /** Said once it has been tried. */
  readonly seen: string;
}

export const stops: readonly Stop[] = [
  {
    question: 'here',
    says: 'A made-up lot on measured ground. Press the house on the map to see what is known of it.',
    seen: 'That is how everything on the sheet is looked at and changed.',
  },
  {
    question: 'water',
    says: 'Rain runs off and stands by the house. Pull the rain to twice its depth and watch.',
    seen: 'Map, answers and the ledger below follow every change.',
  },
  {
    question: 'place',
    says: 'A rain garden keeps away from walls, wells and buried lines. Press a row to see where it was measured.',
    seen: 'Each row says how far it is, how far it must be, and who asks for it.',
  },
  {
    question: 'dig',
    says: 'Move the rain garden: drag it, or choose it and press arrow keys on the map.',
    seen: 'What comes to it, how it drains and where it overflows went along.',
  },
  {
    question: 'handover',
    says: 'Before a spade goes in, the lines must be marked: the requests are listed first.',
    seen: 'Now your own ground: open an elevation file under question 1.',
  },
];

/** Where the walk is kept between visits; it may be closed to the page. */
export interface WalkKeep {
  read(): string | null;
  write(text: string): void;
}

/** How far somebody has come on the walk round the demo lot. It is left and found again where it was left. */
export class Walk {
  readonly #keep: WalkKeep;
  /** Which stop, from 0. */
  at = $state(0);
  isLeft = $state(false);

  constructor(keep: WalkKeep) {
    this.#keep = keep;
    const kept = readKept(keep.read());
    if (kept === null) return;
    this.at = kept.at;
    this.isLeft = kept.isLeft;
  }

  get stop(): Stop {
    return stops[this.at];
  }

  /** Goes to another stop; past the last one the walk is over, and begins anew when it is found again. */
  go(at: number): void {
    if (at >= stops.length) {
      this.at = 0;
      this.leave();
      return;
    }
    this.at = Math.max(0, at);
    this.#store();
  }

  leave(): void {
    this.isLeft = true;
    this.#store();
  }

  findAgain(): void {
    this.isLeft = false;
    this.#store();
  }

  #store(): void {
    this.#keep.write(JSON.stringify({ at: this.at, isLeft: this.isLeft }));
  }
}

/** What was kept; null where that is nothing that can be gone on with. */
function readKept(text: string | null): { readonly at: number; readonly isLeft: boolean } | null {
  if (text === null) return null;
  try {
    const kept: unknown = JSON.parse(text);
    if (typeof kept !== 'object' || kept === null || !('at' in kept)) return null;
    const { at } = kept;
    if (typeof at !== 'number' || stops[at] === undefined) return null;
    return { at, isLeft: 'isLeft' in kept && kept.isLeft === true };
  } catch {
    return null;
  }
}

const keptAs = 'lotfall-walk';

/** The browser's own store, which some settings of browsers close. */
export const browserWalkKeep: WalkKeep = {
  read: () => {
    try {
      return localStorage.getItem(keptAs);
    } catch {
      return null;
    }
  },
  write: (text) => {
    try {
      localStorage.setItem(keptAs, text);
    } catch {
      // Then the walk begins anew at the next visit.
    }
  },
};
