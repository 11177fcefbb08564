import type { ByteReader } from './byte-source';
import { Cancelled, InputError } from '../../errors';

/** A server that sends only whole files is put up with up to this length. */
const LARGEST_WHOLE_FILE_BYTES = 200 * 1024 * 1024;
/** First request: enough for the headers of nearly every file. */
const FIRST_BYTES = 65_536;

/**
 * Reads a file from a web address by range requests, so that only the needed parts travel.
 *
 * A server that ignores ranges and sends the whole file is accepted up to 200 MB, and the file is then
 * kept in memory. Costs one request at once.
 *
 * @throws {InputError} `elevation-unreachable` (no answer, or the answer may not be read by this page),
 *   `elevation-not-found` (the server says there is no such file, or refuses it), `elevation-no-ranges`.
 */
export async function urlBytes(url: string, signal?: AbortSignal): Promise<ByteReader> {
  const first = await request(url, 0, FIRST_BYTES, signal);
  if (first.status === 416) return memoryBytes(new ArrayBuffer(0));
  if (first.status !== 206) return memoryBytes(await wholeFile(url, first, signal));
  const total = /\/(\d+)\s*$/.exec(first.headers.get('content-range') ?? '');
  const head = await body(url, first, signal);
  let sizeBytes = total ? Number(total[1]) : null;
  // Other origins may hide the length; a short first answer still tells it.
  if (sizeBytes === null && head.byteLength < FIRST_BYTES) sizeBytes = head.byteLength;
  return {
    sizeBytes,
    async read(offset, length, readSignal) {
      if (length === 0) return new ArrayBuffer(0);
      if (offset + length <= head.byteLength) return head.slice(offset, offset + length);
      const answer = await request(url, offset, length, readSignal);
      if (answer.status === 416) return new ArrayBuffer(0);
      if (answer.status !== 206) {
        await answer.body?.cancel();
        throw noRanges(url, 'the server stopped answering requests for parts of the file');
      }
      return body(url, answer, readSignal);
    },
  };
}

/** A file that is in memory as a whole. */
export function memoryBytes(bytes: ArrayBuffer): ByteReader {
  return {
    sizeBytes: bytes.byteLength,
    read: (offset, length) => Promise.resolve(bytes.slice(offset, offset + length)),
  };
}

async function request(
  url: string,
  offset: number,
  length: number,
  signal: AbortSignal | undefined,
): Promise<Response> {
  let answer: Response;
  try {
    answer = await fetch(url, {
      headers: { Range: `bytes=${offset}-${offset + length - 1}` },
      ...(signal ? { signal } : {}),
    });
  } catch (cause) {
    if (signal?.aborted === true) throw new Cancelled();
    throw new InputError(
      {
        code: 'elevation-unreachable',
        where: url,
        problem:
          'the address gave no answer that may be read (no such server, no connection, or the server does not let other pages read its files)',
        remedy: 'check the address, or download the file and open it from your disk',
      },
      { cause },
    );
  }
  if (answer.ok || answer.status === 416) return answer;
  await answer.body?.cancel();
  const gone = answer.status === 404 || answer.status === 410;
  throw new InputError({
    code: 'elevation-not-found',
    where: url,
    problem: gone
      ? `the server has no such file (status ${answer.status})`
      : `the server refused the file (status ${answer.status})`,
    remedy: gone ? 'check the address' : 'check that the file is public, or open it from your disk',
  });
}

async function wholeFile(
  url: string,
  answer: Response,
  signal: AbortSignal | undefined,
): Promise<ArrayBuffer> {
  const stated = Number(answer.headers.get('content-length') ?? Number.NaN);
  const tooLong = 'the server sends only the whole file, and that is too long to hold in memory';
  if (stated > LARGEST_WHOLE_FILE_BYTES || answer.body === null) {
    await answer.body?.cancel();
    throw noRanges(url, `${tooLong} (${Math.round(stated / 1e6)} MB)`);
  }
  const chunks: Uint8Array<ArrayBuffer>[] = [];
  let length = 0;
  const reader = answer.body.getReader();
  for (;;) {
    const { done, value } = await reader.read().catch((cause: unknown) => {
      throw brokenOff(url, cause, signal);
    });
    if (done) break;
    chunks.push(value);
    length += value.byteLength;
    if (length > LARGEST_WHOLE_FILE_BYTES) {
      await reader.cancel();
      throw noRanges(url, `${tooLong} (over ${LARGEST_WHOLE_FILE_BYTES / 1024 / 1024} MB)`);
    }
  }
  return new Blob(chunks).arrayBuffer();
}

async function body(url: string, answer: Response, signal?: AbortSignal): Promise<ArrayBuffer> {
  return answer.arrayBuffer().catch((cause: unknown) => {
    throw brokenOff(url, cause, signal);
  });
}

function brokenOff(url: string, cause: unknown, signal: AbortSignal | undefined): Error {
  if (signal?.aborted === true) return new Cancelled();
  return new InputError(
    {
      code: 'elevation-unreachable',
      where: url,
      problem: 'the connection broke off while reading',
      remedy: 'try again, or download the file and open it from your disk',
    },
    { cause },
  );
}

function noRanges(url: string, problem: string): InputError {
  return new InputError({
    code: 'elevation-no-ranges',
    where: url,
    problem,
    remedy: 'download the file and open it from your disk',
  });
}
