import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cornerAndCell, writeRaster } from '../../../../fixtures/broken/tiff';
import { openElevation } from '../../../../lib/elevation/file/open-elevation';
import { readWindow } from '../../../../lib/elevation/window/read-window';
import { lot, NORTH, EAST, planeM, UTM_KEYS, worstErrorM } from '../plane';

/** One square kilometre of the plane at one metre, in tiles: 4 MB, of which a lot needs little. */
const side = 1024;
const bytes = writeRaster({
  width: side,
  height: side,
  tile: 64,
  z: (column, row) => planeM(EAST - 512 + column + 0.5, NORTH + 512 - row - 0.5),
  place: cornerAndCell(EAST - 512, NORTH + 512, 1),
  keys: UTM_KEYS,
});

let server: Server;
let base = '';
let sent = 0;
let requests = 0;

function answer(request: IncomingMessage, response: ServerResponse): void {
  requests++;
  const range = /bytes=(\d+)-(\d+)/.exec(request.headers.range ?? '');
  const send = (status: number, part: Uint8Array, headers: Record<string, string> = {}): void => {
    sent += part.length;
    response.writeHead(status, { 'content-length': part.length, ...headers });
    response.end(part);
  };
  const partial = (headers: (from: number, to: number) => Record<string, string>): void => {
    const from = Number(range![1]);
    const to = Math.min(Number(range![2]), bytes.length - 1);
    if (from >= bytes.length) send(416, new Uint8Array(0));
    else send(206, bytes.subarray(from, to + 1), headers(from, to));
  };
  switch (request.url) {
    case '/ranges.tif': {
      partial((from, to) => ({ 'content-range': `bytes ${from}-${to}/${bytes.length}` }));
      return;
    }
    case '/ranges-without-length.tif': {
      partial(() => ({}));
      return;
    }
    case '/whole.tif': {
      send(200, bytes);
      return;
    }
    case '/whole-but-huge.tif':
      response.writeHead(200, { 'content-length': 900_000_000 });
      response.write(bytes);
      return;
    case '/breaks-off.tif':
      if (request.headers.range?.startsWith('bytes=0-')) {
        partial((from, to) => ({ 'content-range': `bytes ${from}-${to}/${bytes.length}` }));
        return;
      }
      response.writeHead(206, { 'content-length': 1000 });
      response.write('x');
      setTimeout(() => response.destroy(), 30);
      return;
    case '/empty.tif': {
      send(416, new Uint8Array(0));
      return;
    }
    case '/private.tif': {
      send(403, new Uint8Array(0));
      return;
    }
    default: {
      send(404, new Uint8Array(0));
      return;
    }
  }
}

beforeAll(async () => {
  server = createServer(answer);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterAll(() => {
  server.closeAllConnections();
  server.close();
});

const read = async (path: string) => {
  sent = 0;
  requests = 0;
  const file = await openElevation({ name: 'remote.tif', url: `${base}${path}` });
  return readWindow(file, { area: [lot], marginM: 20 });
};

describe('elevation at a web address', () => {
  it.each(['/ranges.tif', '/ranges-without-length.tif'])('%s: only parts travel', async (path) => {
    const elevation = await read(path);
    expect(worstErrorM(elevation)).toBeLessThan(1e-4);
    expect(sent).toBeLessThan(bytes.length / 4);
    expect(requests).toBeLessThan(10);
  });

  it('a server that sends whole files is put up with', async () => {
    const elevation = await read('/whole.tif');
    expect(worstErrorM(elevation)).toBeLessThan(1e-4);
    expect(requests).toBe(1);
  });

  it.each([
    ['/whole-but-huge.tif', 'elevation-no-ranges', /900 MB.*open it from your disk/],
    ['/gone.tif', 'elevation-not-found', /no such file \(status 404\)/],
    ['/private.tif', 'elevation-not-found', /refused the file \(status 403\)/],
    ['/breaks-off.tif', 'elevation-unreachable', /connection broke off/],
    ['/empty.tif', 'elevation-not-tiff', /the file is empty/],
  ])('%s is refused with a sentence', async (path, code, sentence) => {
    const reading = read(path);
    await expect(reading).rejects.toMatchObject({ code });
    await expect(reading).rejects.toThrow(sentence);
  });

  it('no server there', async () => {
    const url = 'http://127.0.0.1:9/lidar.tif';
    await expect(openElevation({ name: 'lidar', url })).rejects.toMatchObject({
      code: 'elevation-unreachable',
    });
  });

  it('two lots read at once from the same file do not disturb each other when one stops', async () => {
    const file = await openElevation({ name: 'remote.tif', url: `${base}/ranges.tif` });
    const stop = new AbortController();
    const stopped = readWindow(file, { area: [lot], marginM: 20, signal: stop.signal });
    const wanted = readWindow(file, { area: [lot], marginM: 20 });
    stop.abort();
    await expect(stopped).rejects.toMatchObject({ name: 'Cancelled' });
    expect(worstErrorM(await wanted)).toBeLessThan(1e-4);
  });
});
