import { describe, expect, it } from 'vitest';
import { bulkingOf } from '../../../lib/basin/form/bulking';
import { designInfiltration } from '../../../lib/soil/design-infiltration';
import { greenAmptSoil } from '../../../lib/soil/green-ampt-soil';
import { planSoil } from '../../../lib/soil/plan-soil';
import { textureParameters } from '../../../lib/soil/texture-table';
import { soilTestIn } from './soil-test';

const found = (texture: 'sand' | 'loam' | 'clay', level?: 'below') =>
  soilTestIn([], { texture, ...(level === undefined ? {} : { level }) });

describe('the soil of a plan', () => {
  it('gives swell, suction and size factors of one texture: the slowest that tests found', () => {
    const tests = [found('sand'), found('clay')];
    const { soil } = designInfiltration({}, tests);
    expect(soil).toMatchObject({ texture: 'clay', broad: 'clayey' });
    const floor = greenAmptSoil({ rateMPerS: 1e-6, soil }, {})?.soil;
    expect(floor?.suctionM).toBe(textureParameters('clay').suctionM);
    expect(bulkingOf(soil).soil).toBe('clay');
  });

  it('swells as it feels where no texture is known', () => {
    expect(bulkingOf(planSoil({ texture: 'clayey' }, [])).soil).toBe('clay');
    expect(bulkingOf(planSoil({ texture: 'sandy' }, [])).soil).toBe('sandy soil');
    expect(bulkingOf(planSoil({}, [])).soil).toBe('common earth');
  });

  it('is by texture, not by feel, where the two contradict each other, and says so', () => {
    const { broad, notes } = planSoil({ texture: 'sandy' }, [found('clay')]);
    expect(broad).toBe('clayey');
    expect(notes[0]).toMatch(/By feel the soil is sandy, but its texture is clay/);
    expect(planSoil({ texture: 'clayey' }, [found('clay')]).notes).toEqual([]);
  });

  it('is not what lies below it', () => {
    expect(planSoil({}, [found('sand'), found('clay', 'below')]).texture).toBe('sand');
  });

  it('takes the group of its texture where that is less pervious than the one assumed', () => {
    const group = (texture: 'sand' | 'loam' | 'clay') => planSoil({}, [found(texture)]).group;
    expect([group('sand'), group('loam'), group('clay')]).toEqual(['C', 'C', 'D']);
    expect(planSoil(undefined, []).group).toBe('C');
    expect(planSoil({}, [found('loam')]).groupNotes[0]).toMatch(
      /C is assumed; for loam .* it is B/,
    );
  });

  it('says when a given group takes more water than its texture does', () => {
    expect(planSoil({ group: 'A' }, [found('clay')])).toMatchObject({
      group: 'A',
      groupNotes: [expect.stringMatching(/Soil group A takes more water than clay usually does/)],
    });
    expect(planSoil({ group: 'D' }, [found('clay')]).groupNotes).toEqual([]);
  });
});
