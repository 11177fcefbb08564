import { InputError } from '../../lib/errors';

/** A mistake in how a command was called. */
export function usage(problem: string, remedy: string): InputError {
  return new InputError({ code: 'usage', where: 'lotfall', problem, remedy });
}
