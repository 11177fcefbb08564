import { describe, expect, it } from 'vitest';
import { isPicture, pictureSize } from '../../../lib/gather/picture-size';

function png(widthPx: number, heightPx: number): Uint8Array {
  const bytes = new Uint8Array(33);
  bytes.set([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 0x49, 0x48, 0x44, 0x52]);
  const view = new DataView(bytes.buffer);
  view.setUint32(16, widthPx);
  view.setUint32(20, heightPx);
  return bytes;
}

function jpeg(widthPx: number, heightPx: number): Uint8Array {
  const app = [0xff, 0xe0, 0, 16, ...Array.from({ length: 14 }, () => 0)];
  const tables = [0xff, 0xc4, 0, 4, 0, 0];
  const size = [heightPx >> 8, heightPx & 255, widthPx >> 8, widthPx & 255];
  return Uint8Array.from([0xff, 0xd8, ...app, ...tables, 0xff, 0xc2, 0, 17, 8, ...size, 3, 0, 0]);
}

describe('the size of a picture', () => {
  it('stands in its header', () => {
    expect(pictureSize('plan.png', png(2481, 1754))).toMatchObject({
      widthPx: 2481,
      heightPx: 1754,
    });
    expect(pictureSize('plan.jpg', jpeg(4032, 3024))).toEqual({
      format: 'JPEG',
      widthPx: 4032,
      heightPx: 3024,
    });
    expect(isPicture(jpeg(1, 1))).toBe(true);
    expect(isPicture(new TextEncoder().encode('{"type":'))).toBe(false);
  });

  it('is refused in one sentence where it is absurd', () => {
    expect(() => pictureSize('plan.png', png(20_000, 20_000))).toThrow(
      /^plan\.png: the picture has 20000 by 20000 pixels, .*make it smaller/,
    );
    expect(() => pictureSize('plan.png', png(20_000, 10))).toThrow(/20000 by 10/);
    expect(() => pictureSize('plan.jpg', jpeg(11_000, 11_000))).toThrow(/million/);
    expect(() => pictureSize('plan.jpg', jpeg(0, 40))).toThrow(/damaged/);
  });

  it('is refused of what is cut, or no picture', () => {
    expect(() => pictureSize('plan.png', png(10, 10).slice(0, 20))).toThrow(/cut short/);
    expect(() => pictureSize('plan.jpg', jpeg(10, 10).slice(0, 24))).toThrow(/cut short/);
    expect(() => pictureSize('plan.png', new TextEncoder().encode('hello'))).toThrow(/no PNG/);
    expect(() => pictureSize('plan.png', new Uint8Array())).toThrow(/no PNG/);
  });
});
