import { InputError } from '../../../lib/errors';

/** What reading fails with. */
export function faultOf(read: () => unknown): InputError {
  try {
    read();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('it was read');
}
