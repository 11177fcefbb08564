import type { ParseArgsConfig } from 'node:util';
import type { InputError, Progress } from '../../lib/errors';

/** What every command is given: the words and options of its call, and where to tell how far it has come. */
export interface Call {
  /** Words that are not options: files. */
  readonly words: readonly string[];
  readonly option: (name: string) => string | undefined;
  /** Every value of an option that may be given more than once. */
  readonly all: (name: string) => readonly string[];
  readonly flag: (name: string) => boolean;
  readonly onProgress: Progress;
}

/** What a command hands back; printing it is not its business. */
export interface CommandOutput {
  /** For people. */
  readonly text: string;
  /** The document that `--json` prints. */
  readonly json: unknown;
  /** Other forms that `--out` can write, by file ending, for example `.csv`. */
  readonly files?: Readonly<Record<string, string | Uint8Array>>;
  /** Whether `text` is printed even where `--out` writes a file that does not hold what it says. */
  readonly alsoText?: boolean;
  /** Whether a binding rule fails: exit status 1. */
  readonly ruleFails?: boolean;
  /** What could not be done while the rest was: a sentence each, for standard error; exit status 2. */
  readonly faults?: readonly string[];
  /** The exit status, where the two above are not to decide it. */
  readonly status?: number;
}

/** One command of the line. */
export interface Command {
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: string;
  /** What `lotfall <command> --help` prints below its first line. */
  readonly help: string;
  /** Options beside the ones that all commands take. */
  readonly options: NonNullable<ParseArgsConfig['options']>;
  /** Endings that `--out` takes beside `.json` and `.txt`. */
  readonly forms?: readonly string[];
  readonly run: (call: Call) => Promise<CommandOutput>;
  /** The exit status where what it was given cannot be used; 2 where the command does not say. */
  readonly refusedStatus?: (call: Call, problem: InputError) => number;
}
