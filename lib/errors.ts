/**
 * The two ways a task may end other than with a result. What a plan or the data is like (a breach of
 * a setback, coarse cells, a catchment cut by the data's edge) is never an error: it is part of the result.
 */

/** What an {@link InputError} is made of, plain so that it can cross to and from a worker. */
export interface InputProblem {
  /** Stable kebab-case word that tests and callers may branch on, for example `elevation-no-georeference`. */
  readonly code: string;
  /** The file, and the place in it (feature id, property, tag) where that is known. */
  readonly where: string;
  /** What is wrong, quoting the value met and the value expected. No full stop. */
  readonly problem: string;
  /** What the user can do about it. No full stop. */
  readonly remedy: string;
}

/** Something the user gave cannot be used, and the user can put it right. The message is one sentence. */
export class InputError extends Error {
  override readonly name = 'InputError';
  readonly code: string;
  readonly where: string;
  readonly problem: string;
  readonly remedy: string;

  constructor(problem: InputProblem, options?: { cause?: unknown }) {
    super(`${problem.where}: ${problem.problem}; ${problem.remedy}.`, options);
    this.code = problem.code;
    this.where = problem.where;
    this.problem = problem.problem;
    this.remedy = problem.remedy;
  }

  toProblem(): InputProblem {
    return { code: this.code, where: this.where, problem: this.problem, remedy: this.remedy };
  }
}

/** The caller asked for the task to stop. Never shown as a failure. */
export class Cancelled extends Error {
  override readonly name = 'Cancelled';

  constructor() {
    super('Cancelled');
  }
}

/** Throws {@link Cancelled} when the signal has been aborted. */
export function throwIfCancelled(signal: AbortSignal | undefined): void {
  if (signal?.aborted === true) throw new Cancelled();
}

/** Stops with a sentence on what somebody who calls the library may get wrong. @throws {InputError} */
export function expectOf(condition: boolean, problem: InputProblem): asserts condition {
  if (!condition) throw new InputError(problem);
}

/** Stops on a programming mistake. Never used for what a user can cause. */
export function assert(condition: boolean, what: string): asserts condition {
  if (!condition) throw new Error(`Internal error: ${what}`);
}

/** How far a long task has come: `fraction` from 0 to 1, `stage` in the user's words. */
export type Progress = (fraction: number, stage: string) => void;

/** What a task gives; where what the user gave it cannot be used, `null`, and its sentence is added to what is said. */
export function orSaid<T>(said: string[], task: () => T): T | null {
  try {
    return task();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    said.push(error.message);
    return null;
  }
}
