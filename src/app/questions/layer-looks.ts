import type { Shown } from '../state/session/session.svelte';

/** How a layer of the sheet is drawn, with colours by the names of the sheet's inks. */
export interface LayerLook {
  readonly form: 'area' | 'line' | 'arrow';
  readonly fill?: string;
  readonly stroke?: string;
  readonly dash?: string;
  readonly widthPx?: number;
  readonly hatched?: boolean;
}

/** The layers of the sheet in the words of the plan, with what the legend shows of each. */
export const sheetLayerLooks: Readonly<
  Record<keyof Shown, { readonly name: string; readonly look: LayerLook }>
> = {
  contours: { name: 'contours', look: { form: 'line', stroke: '--ink-2', widthPx: 1 } },
  flow: { name: 'flow paths', look: { form: 'arrow', stroke: '--ink', widthPx: 1.6 } },
  lowSpots: {
    name: 'low spots',
    look: { form: 'area', stroke: '--water', dash: '3 2' },
  },
  faint: {
    name: 'those too shallow or small to be sure of',
    look: { form: 'area', stroke: '--hair', dash: '2 2' },
  },
  standing: { name: 'standing water', look: { form: 'area', fill: '--water-pale' } },
  probability: {
    name: 'probability of standing water',
    look: { form: 'area', stroke: '--water', hatched: true },
  },
  toBasin: {
    name: 'probability of draining to the basin',
    look: { form: 'area', stroke: '--meets', hatched: true },
  },
  exchange: {
    name: 'who sends what to whom',
    look: { form: 'arrow', stroke: '--water', widthPx: 2.6 },
  },
  keepClear: {
    name: 'keep-clear zones',
    look: { form: 'area', stroke: '--keep-clear', hatched: true },
  },
  digging: {
    name: 'ground to be dug, hand-tool zones',
    look: { form: 'area', stroke: '--ink', dash: '5 2' },
  },
  margins: { name: 'distances', look: { form: 'arrow', stroke: '--ink', widthPx: 0.9 } },
  sites: { name: 'places found', look: { form: 'area', stroke: '--meets', dash: '4 2' } },
};
