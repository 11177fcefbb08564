import { InputError } from '../errors';

/** A file that cannot be read, in one sentence. */
export function refused(
  file: string,
  code: string,
  problem: string,
  remedy: string,
  cause?: unknown,
): InputError {
  return new InputError({ code: `gather-${code}`, where: file, problem, remedy }, { cause });
}
