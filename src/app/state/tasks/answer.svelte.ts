/** A question that was put, to be answered or ended. */
export interface Ticket<Q> {
  readonly question: Q;
  readonly turn: number;
}

/**
 * The answer to one kind of question. What was asked last and what was answered last are kept apart: a question that
 * was stopped or refused leaves the former answer, which then belongs to another question.
 */
export class Answer<Q, T> {
  #asked = $state.raw<Ticket<Q> | null>(null);
  #isOpen = $state.raw(false);
  #answered = $state.raw<{ readonly ticket: Ticket<Q>; readonly value: T } | null>(null);
  #turns = 0;
  /** Tickets up to this turn are void. */
  #forgotten = 0;

  /** Puts a question; it is the one asked last from now on. */
  ask(question: Q): Ticket<Q> {
    const ticket = { question, turn: ++this.#turns };
    this.#asked = ticket;
    this.#isOpen = true;
    return ticket;
  }

  /**
   * Takes an answer, unless a later question has been answered already or all was forgotten since.
   *
   * @returns whether it was taken.
   */
  take(ticket: Ticket<Q>, value: T): boolean {
    this.end(ticket);
    const { turn } = ticket;
    if (turn <= this.#forgotten || turn < (this.#answered?.ticket.turn ?? 0)) return false;
    this.#answered = { ticket, value };
    return true;
  }

  /** A question is no longer worked on: unless it was answered it was stopped, refused or failed. */
  end(ticket: Ticket<Q>): void {
    if (ticket === this.#asked) this.#isOpen = false;
  }

  /** The answer that is there holds for another question as well. */
  holdsFor(question: Q): void {
    if (this.#answered === null) return;
    this.take(this.ask(question), this.#answered.value);
  }

  /** Takes question and answer away; an answer that is on its way will not be taken. */
  forget(): void {
    this.#forgotten = this.#turns;
    this.#asked = null;
    this.#isOpen = false;
    this.#answered = null;
  }

  /** What was asked last. */
  get asked(): Q | null {
    return this.#asked?.question ?? null;
  }

  /** The last answer, and the question that it answers. */
  get value(): T | null {
    return this.#answered?.value ?? null;
  }

  get of(): Q | null {
    return this.#answered?.ticket.question ?? null;
  }

  /** Whether what was asked last is still being worked on. */
  get isOpen(): boolean {
    return this.#isOpen;
  }

  /** Whether what was asked last has ended without an answer. */
  get isLeftOpen(): boolean {
    return this.#asked !== null && !this.#isOpen && this.#answered?.ticket !== this.#asked;
  }

  /** The last answer, while it is that of the last question or that one is still being worked on; else null. */
  get current(): T | null {
    return this.isLeftOpen ? null : this.value;
  }
}
